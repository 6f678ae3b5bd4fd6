"""Files that stand whole or not at all: written beside their place and then moved there."""

from __future__ import annotations

import os
from pathlib import Path


def write_whole(file: Path, data: bytes) -> None:
    """Writes a file, its folder too where it is not there. Whoever stops the program leaves the old file or the new one, nothing between.

    Raises OSError.
    """
    file.parent.mkdir(parents=True, exist_ok=True)
    beside = file.with_name(f".{file.name}.part")
    try:
        beside.write_bytes(data)
        os.replace(beside, file)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise
