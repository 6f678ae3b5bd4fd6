"""Elevations and sections to scale, and an enlarged detail of each distinct joint."""

from __future__ import annotations

from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.context import Book
from drawleaf.book.figure_pages import Figure, in_columns, on_pages
from drawleaf.book.paper import CHAPTER_HEAD, paper_of

_INTRODUCTION = 19.0
_DETAILS_HEAD = 12.0


def gather(book: Book) -> dict[str, Any] | None:
    drawings = book.drawings
    if not drawings.elevations:
        return None
    views = (*drawings.elevations, *drawings.sections)
    if not book.for_print:
        return {"views": [Figure(view) for view in views], "pages": [(drawings.details,)] if drawings.details else []}
    room = paper_of(book.derived.plan.paper).text_height - 2.0
    pages = in_columns(drawings.details, room, room - _DETAILS_HEAD)
    return {"views": on_pages(views, room, room - CHAPTER_HEAD - _INTRODUCTION), "pages": pages}


CHAPTER = Chapter("elevations", "Elevations and joints", gather)
