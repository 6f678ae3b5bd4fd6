"""The exploded view, with its part list."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from markupsafe import Markup

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.chapters.context import Book
from drawleaf.book.page.figure_pages import CAPTION, GAP, Row, in_rows, room_left, single_rows
from drawleaf.book.page.measure import BALLOON, text_height
from drawleaf.book.page.paper import CHAPTER_HEAD, paper_of
from drawleaf.model.drawings import Drawing
from drawleaf.model.lists import CutItem

KEY_HEAD = 13.5
"""The title above the list of parts, with its margins."""
KEY_COLUMNS, KEY_GAP = 3, 6.0
"""Its columns, and the room between two of them."""
WIDE_SET, CLOSE_SET = (BALLOON, 10.5, 1.38, 1.2), (4.6, 9.5, 1.25, 1.0)
"""Its balloons, the size and leading of its names in points and the room below each: as a rule, and where the drawing above is high."""


def gather(book: Book) -> dict[str, Any] | None:
    views = book.drawings.exploded
    if not views:
        return None
    if not book.for_print:
        return {"rows": single_rows(views), "close": False}
    paper = paper_of(book.derived.plan.paper)
    items, room = book.derived.cut_list.items, paper.text_height - 2.0
    key = KEY_HEAD + key_height(items, paper.text_width, WIDE_SET)
    close = key > room - CHAPTER_HEAD - CAPTION - views[0].height_mm
    if close:
        key = KEY_HEAD + key_height(items, paper.text_width, CLOSE_SET)
    # The view of the whole leads, by itself: the list of parts stands below it.
    whole = single_rows(views[:1])
    left = paper.opening - key - whole[0].height - GAP
    rows = _alone(views[1:], paper.text_width, room, left)
    # On one page it may stand below the chapter before it: then nobody knows how far down it reaches.
    ends = room - room_left(rows, room, left) if any(row.new_page for row in rows) else 0.0
    return {"rows": (*whole, *rows), "close": close, "ends": ends}


def _alone(views: Sequence[Drawing], width: float, room: float, left: float) -> tuple[Row, ...]:
    """The views of single assemblies, in what is ``left`` of the page or on pages of their own."""
    rows = in_rows(views, width, room, left)
    if rows and rows[0].height > left:
        first, *others = in_rows(views, width, room, room)
        return (replace(first, new_page=True), *others)
    return rows


def key_height(items: Sequence[CutItem], width: float, setting: tuple[float, float, float, float]) -> float:
    """How high the list of parts stands, its columns evenly filled. Long names take a second line."""
    balloon, size, leading, below = setting
    column = (width - KEY_GAP * (KEY_COLUMNS - 1)) / KEY_COLUMNS
    ordered = sorted(items, key=lambda item: item.number)
    heights = [max(balloon, text_height(_words(item), column, size, leading)) + below for item in ordered]
    high = max(heights, default=0.0)
    while _columns(heights, high) > KEY_COLUMNS:
        high += 1.0
    return high


def _words(item: CutItem) -> Markup:
    times = f" × {item.quantity}" if item.quantity > 1 else ""
    return Markup('<span class="balloon"></span> {}{}').format(item.name, times)


def _columns(heights: Sequence[float], high: float) -> int:
    """How many columns no higher than ``high`` the names fill one after another."""
    columns, used = 1, 0.0
    for height in heights:
        if used + height > high:
            columns, used = columns + 1, 0.0
        used += height
    return columns


CHAPTER = Chapter("exploded", "Exploded view", gather, runs_on=True, stays_whole=True)
