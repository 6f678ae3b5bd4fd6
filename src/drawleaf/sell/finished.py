"""The booklet in a folder that compile wrote."""

from __future__ import annotations

from pathlib import Path

from drawleaf.outputs import written_there
from drawleaf.sell.mistakes import SellingError


class NoBookletError(SellingError):
    """A folder holds no booklet."""


def booklet_file(folder: Path, suffix: str) -> Path | None:
    """The booklet with that ending (``.pdf``); None where there is none. Files that the author put there besides are not it."""
    ours = written_there(folder)
    return next((file for file in sorted(folder.glob(f"*{suffix}")) if ours is None or file.name in ours), None)


def booklet_pdf(folder: Path) -> Path:
    """The printed booklet. Raises NoBookletError."""
    file = booklet_file(folder, ".pdf")
    if file is None:
        raise no_booklet(folder)
    return file


def page_text(file: Path) -> str:
    """The tablet edition as it stands. Raises NoBookletError where it is damaged, OSError."""
    try:
        return file.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        raise NoBookletError(f"{file} is damaged: compile the plan anew") from None


def no_booklet(folder: Path) -> NoBookletError:
    return NoBookletError(f"{folder} holds no booklet: compile the plan first")
