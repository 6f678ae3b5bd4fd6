"""Elevations and sections to scale, and an enlarged detail of each distinct joint."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.chapters.context import Book
from drawleaf.book.page.figure_pages import column_height, in_columns, in_rows, room_left, single_rows, usual_scale
from drawleaf.book.page.measure import text_height
from drawleaf.book.page.paper import CHAPTER_HEAD, paper_of
from drawleaf.model.drawings import Drawing

_SIZES = "Sizes in {}. Dashed lines are hidden edges. A small circle on a dimension line is where its distances are measured from."
_CUT = (
    " Sections are cut on the lettered lines. Cut faces are hatched: plywood along its layers, solid wood "
    "slanting across the grain and in broken lines along it. Numbers are those of the cut list."
)
_DETAILS_HEAD, _DETAILS_HEAD_BELOW = 8.2, 14.2
"""The title of the details at the top of a page, and below something else."""
_WORTH_WHILE = 100.0
"""With less room than this below the last section, details begin a page, but where all of them have room there."""


def gather(book: Book) -> dict[str, Any] | None:
    drawings = book.drawings
    if not drawings.elevations:
        return None
    views = (*drawings.elevations, *drawings.sections)
    introduction = _SIZES.format(book.formatter.unit_name()) + (_CUT if drawings.sections else "")
    if not book.for_print:
        return {
            "introduction": introduction,
            "rows": single_rows(views),
            "pages": [(drawings.details,)] if drawings.details else [],
            "runs_on": True,
            "usual": usual_scale(drawings.details),
        }
    paper = paper_of(book.derived.plan.paper)
    room = paper.text_height - 2.0
    first_room = room - CHAPTER_HEAD - text_height(introduction, paper.text_width, 10.5, 1.38) - 2.0
    rows = in_rows(views, paper.text_width, room, first_room)
    left = room_left(rows, room, first_room)
    runs_on = left > _WORTH_WHILE or _hold(drawings.details, left - _DETAILS_HEAD_BELOW)
    first = left - _DETAILS_HEAD_BELOW if runs_on else room - _DETAILS_HEAD
    pages = in_columns(drawings.details, room, first)
    return {
        "introduction": introduction,
        "rows": rows,
        "pages": pages,
        "runs_on": runs_on,
        "usual": usual_scale(drawings.details),
    }


def _hold(details: Sequence[Drawing], room: float) -> bool:
    """Whether all details find a place in two columns of so much room."""
    pages = in_columns(details, room, room)
    usual = usual_scale(details)
    return len(pages) == 1 and all(column_height(column, usual) <= room for column in pages[0])


CHAPTER = Chapter("elevations", "Elevations and joints", gather)
