"""Elevations and sections to scale, and an enlarged detail of each distinct joint."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.context import Book
from drawleaf.book.figure_pages import Figure, column_height, in_columns, on_pages, room_left
from drawleaf.book.paper import CHAPTER_HEAD, paper_of
from drawleaf.model.drawings import Drawing

_INTRODUCTION = 19.0
_DETAILS_HEAD = 12.0
_WORTH_WHILE = 100.0
"""With less room than this below the last section, details begin a page, but where all of them have room there."""


def gather(book: Book) -> dict[str, Any] | None:
    drawings = book.drawings
    if not drawings.elevations:
        return None
    views = (*drawings.elevations, *drawings.sections)
    if not book.for_print:
        return {
            "views": [Figure(view) for view in views],
            "pages": [(drawings.details,)] if drawings.details else [],
            "runs_on": True,
        }
    room = paper_of(book.derived.plan.paper).text_height - 2.0
    first_room = room - CHAPTER_HEAD - _INTRODUCTION
    figures = on_pages(views, room, first_room)
    left = room_left(figures, room, first_room)
    runs_on = left > _WORTH_WHILE or _hold(drawings.details, left - _DETAILS_HEAD)
    pages = in_columns(drawings.details, room, (left if runs_on else room) - _DETAILS_HEAD)
    return {"views": figures, "pages": pages, "runs_on": runs_on}


def _hold(details: Sequence[Drawing], room: float) -> bool:
    """Whether all details find a place in two columns of so much room."""
    pages = in_columns(details, room, room)
    return len(pages) == 1 and all(column_height(column) <= room for column in pages[0])


CHAPTER = Chapter("elevations", "Elevations and joints", gather)
