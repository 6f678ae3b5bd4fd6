"""How to use this plan: how sizes, numbers, faces and tick boxes are to be read."""

from __future__ import annotations

from typing import Any

from markupsafe import Markup

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.chapters.context import Book
from drawleaf.english import lower_first


def gather(book: Book) -> dict[str, Any]:
    lengths = book.formatter
    item = book.derived.cut_list.items[0] if book.derived.cut_list.items else None
    return {
        "kept": lengths.join([Markup.escape(lower_first(tool.name)) for tool in book.on_the_bench]),
        "units": lengths.units.value,
        "example": item,
        "thickness": item.thickness if item else None,
    }


CHAPTER = Chapter("guide", "How to use this plan", gather)
