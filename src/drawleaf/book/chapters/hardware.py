"""Hardware and consumables, each counted, with where it goes."""

from __future__ import annotations

from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.context import Book


def gather(book: Book) -> dict[str, Any] | None:
    derived = book.derived
    if not derived.hardware and not derived.consumables:
        return None
    return {"hardware": derived.hardware, "consumables": derived.consumables}


CHAPTER = Chapter("hardware", "Hardware and consumables", gather, runs_on=True)
