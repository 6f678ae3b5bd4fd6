"""What a picture file really is, told by its first bytes and not by its name: PNG, JPEG or WebP, and how many points it has.

Signatures and headers as in the formats' own papers: PNG (ISO/IEC 15948), JPEG (ITU-T T.81, annex B), WebP (RFC 9649).
"""

from __future__ import annotations

import struct
from collections.abc import Iterator
from dataclasses import dataclass

LARGEST_BYTES = 20_000_000
MOST_POINTS = 50_000_000
SUFFIXES = {".png": "png", ".jpg": "jpeg", ".jpeg": "jpeg", ".webp": "webp"}

_STARTS_OF_FRAME = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}


@dataclass(frozen=True, slots=True)
class Raster:
    """``kind`` is the subtype of the media type (``png``); sizes are in points."""

    kind: str
    width: int
    height: int


def examine(data: bytes) -> Raster | None:
    """The picture that the bytes hold; None where they are none of the three formats, or the header is broken."""
    try:
        if data.startswith(b"\x89PNG\r\n\x1a\n") and data[12:16] == b"IHDR":
            return _checked("png", *struct.unpack(">II", data[16:24]))
        if data.startswith(b"\xff\xd8\xff"):
            return next((_checked("jpeg", wide, high) for wide, high in _jpeg_sizes(data)), None)
        if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
            return _checked("webp", *_webp_size(data))
    except (struct.error, IndexError):
        return None
    return None


def why_not(data: bytes, suffix: str) -> str | None:
    """Why a file cannot be shown, as a sentence; None where it can."""
    if len(data) > LARGEST_BYTES:
        return f"It is larger than {LARGEST_BYTES // 1_000_000} MB."
    raster = examine(data)
    if raster is None:
        return "Its first bytes are those of no PNG, JPEG or WebP picture, whatever its name says."
    if raster.kind != SUFFIXES.get(suffix.lower()):
        return f"Its name says {suffix}, and its first bytes say {raster.kind}."
    if raster.width * raster.height > MOST_POINTS:
        return f"It is {raster.width} x {raster.height} points; up to {MOST_POINTS // 1_000_000} million in all can be shown."
    return None


def _checked(kind: str, width: int, height: int) -> Raster | None:
    return Raster(kind, width, height) if width > 0 and height > 0 else None


def _jpeg_sizes(data: bytes) -> Iterator[tuple[int, int]]:
    """Width and height in the frame headers, segment by segment."""
    at = 2
    while at + 4 <= len(data) and data[at] == 0xFF:
        marker = data[at + 1]
        if marker == 0xFF:
            at += 1
            continue
        length = struct.unpack(">H", data[at + 2 : at + 4])[0]
        if marker in _STARTS_OF_FRAME:
            high, wide = struct.unpack(">HH", data[at + 5 : at + 9])
            yield wide, high
        if marker == 0xDA:
            return
        at += 2 + length


def _webp_size(data: bytes) -> tuple[int, int]:
    chunk = data[12:16]
    if chunk == b"VP8X":
        return 1 + int.from_bytes(data[24:27], "little"), 1 + int.from_bytes(data[27:30], "little")
    if chunk == b"VP8L":
        bits = int.from_bytes(data[21:25], "little")
        return 1 + (bits & 0x3FFF), 1 + (bits >> 14 & 0x3FFF)
    if chunk == b"VP8 " and data[23:26] == b"\x9d\x01\x2a":
        wide, high = struct.unpack("<HH", data[26:30])
        return wide & 0x3FFF, high & 0x3FFF
    return 0, 0
