"""How to use this plan: how sizes, numbers, faces and tick boxes are to be read."""

from __future__ import annotations

from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.chapters.context import Book


def gather(book: Book) -> dict[str, Any]:
    lengths = book.formatter
    item = book.derived.cut_list.items[0] if book.derived.cut_list.items else None
    return {
        "units": lengths.units.value,
        "example": item,
        "thickness": item.thickness if item else None,
    }


CHAPTER = Chapter("guide", "How to use this plan", gather)
