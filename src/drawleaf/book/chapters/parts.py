"""Part drawings, two to four a page."""

from __future__ import annotations

from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.context import Book


def gather(book: Book) -> dict[str, Any] | None:
    """Each part that has a drawing, with its drawing, the author's notes and the steps that work on it."""
    drawn = book.drawings.parts
    rows = [(item, drawn[item.number]) for item in book.derived.cut_list.items if item.number in drawn]
    if not rows:
        return None
    return {"rows": [(item, drawing, book.part_notes(item), book.steps_of(item)) for item, drawing in rows]}


CHAPTER = Chapter("parts", "Part drawings", gather)
