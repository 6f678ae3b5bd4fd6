"""The smallest pictures that are what they say, made by hand."""

from __future__ import annotations

import struct
import zlib


def png(width: int = 1, height: int = 1) -> bytes:
    """A white PNG; only a small one carries all its points."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    rows = (b"\0" + b"\xff\xff\xff" * width) * (height if height < 1000 else 1)
    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows, 9)) + chunk(b"IEND", b"")
