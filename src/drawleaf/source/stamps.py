"""Whether files have changed since they were read."""

from __future__ import annotations

from collections.abc import Collection
from pathlib import Path

Stamp = tuple[tuple[str, int, int], ...]
"""Each file with when it was last written (nanoseconds) and its size (bytes)."""


def stamp_of(places: Collection[Path]) -> Stamp:
    """Every file in these folders, or at these places, with its time and size; zeros where it cannot be looked at."""
    files = [file for place in places for file in (sorted(place.rglob("*")) if place.is_dir() else [place])]
    return tuple((str(file), *_times(file)) for file in files)


def _times(file: Path) -> tuple[int, int]:
    try:
        found = file.stat()
    except OSError:
        return 0, 0
    return found.st_mtime_ns, found.st_size
