"""Figures shared out over printed pages, so that a page holds as many as fit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from drawleaf.book.page.measure import text_height
from drawleaf.book.page.paging import gather_on_pages, in_order_on_pages
from drawleaf.model.drawings import Drawing

CAPTION, GAP = 8.9, 5.0
"""What a caption takes below the drawing, and the room before the next figure, in mm."""
BETWEEN = 5.0
"""Between two drawings side by side."""
_PARTNERS = 4
"""A narrow drawing looks for one to stand beside it among so many that follow."""


@dataclass(frozen=True, slots=True)
class Beside:
    """A drawing in a row: the width in mm that it and its caption have, and how far it is lowered so that captions stand level."""

    drawing: Drawing
    width: float
    lowered: float


@dataclass(frozen=True, slots=True)
class Row:
    """One drawing, or two narrow ones side by side, and whether the row begins a page."""

    figures: tuple[Beside, ...]
    new_page: bool = False

    @property
    def height(self) -> float:
        """Millimetres on paper, caption included."""
        return max(one.drawing.height_mm for one in self.figures) + CAPTION


def single_rows(drawings: Sequence[Drawing]) -> tuple[Row, ...]:
    """Each drawing by itself, as a screen shows it."""
    return tuple(Row((Beside(one, one.width_mm, 0.0),)) for one in drawings)


def in_rows(drawings: Sequence[Drawing], width: float, room: float, first_room: float) -> tuple[Row, ...]:
    """Drawings in rows below each other, narrow ones in pairs, in their order as far as full pages allow."""
    rows = _rows(drawings, width)
    pages = in_order_on_pages([row.height for row in rows], room, first_room, gap=GAP)
    return tuple(
        replace(rows[place], new_page=page is not pages[0] and place == page[0]) for page in pages for place in page
    )


def _rows(drawings: Sequence[Drawing], width: float) -> list[Row]:
    """Each drawing with the next one that fits beside it; of those next, the one most of its height."""
    left, rows = list(drawings), []
    while left:
        first = left.pop(0)
        fitting = [one for one in left[:_PARTNERS] if first.width_mm + one.width_mm + BETWEEN <= width]
        if not fitting:
            rows.append(Row((Beside(first, width, 0.0),)))
            continue
        other = min(fitting, key=lambda one: abs(one.height_mm - first.height_mm))
        left.remove(other)
        spare = (width - BETWEEN - first.width_mm - other.width_mm) / 2
        high = max(first.height_mm, other.height_mm)
        rows.append(Row(tuple(Beside(one, one.width_mm + spare, high - one.height_mm) for one in (first, other))))
    return rows


def room_left(rows: Sequence[Row], room: float, first_room: float) -> float:
    """Millimetres left on the page below the last of them."""
    last = max((place for place, row in enumerate(rows) if row.new_page), default=None)
    used = sum(row.height + GAP for row in rows[last or 0 :])
    return (first_room if last is None else room) - used


COLUMN = 82.0
"""The width of one of two columns."""
_CAPTION_SIZE, _CAPTION_LEADING, _CAPTION_AIR = 9.5, 1.25, 3.0
"""A caption in a column: its size in points, its line height, and the air and rule above it."""


def usual_scale(drawings: Sequence[Drawing]) -> str | None:
    """The scale that most of them have: it is printed once, above them all."""
    scales = [one.scale for one in drawings]
    return max(scales, key=lambda scale: (scales.count(scale), scale or ""), default=None)


def column_height(drawings: Sequence[Drawing], usual: str | None) -> float:
    """Millimetres that these drawings take below each other in a column, with their captions."""
    return sum(_in_column(one, usual) + GAP for one in drawings) - GAP


def _in_column(drawing: Drawing, usual: str | None) -> float:
    """A drawing with its caption, which gives its scale where that is not the ``usual`` one."""
    words = drawing.title if drawing.scale == usual else f"{drawing.title} Scale {drawing.scale}"
    caption = text_height(words, COLUMN, _CAPTION_SIZE, _CAPTION_LEADING, 600)
    return drawing.height_mm + _CAPTION_AIR + caption


def in_columns(
    drawings: Sequence[Drawing], room: float, first_room: float
) -> tuple[tuple[tuple[Drawing, ...], ...], ...]:
    """Small drawings in two columns a page: pages of columns of drawings. The first page stays empty where it holds none of them."""
    usual = usual_scale(drawings)
    heights = [_in_column(one, usual) for one in drawings]
    spaces = [first_room, first_room, *[room] * len(drawings)]
    ways = (_in_turn(heights, spaces, 8), _in_turn(heights, spaces, len(heights)), _largest_first(heights, spaces))
    columns = min(ways, key=lambda found: -(-len(found) // 2))
    ending = 2 - len(columns) % 2
    last = _even(columns[-ending:], heights)
    if all(_filled(column, heights) <= spaces[len(columns) - 1] for column in last):
        columns = [*columns[:-ending], *last]
    return tuple(
        tuple(tuple(drawings[place] for place in column) for column in columns[start : start + 2])
        for start in range(0, len(columns), 2)
    )


def _in_turn(heights: Sequence[float], spaces: Sequence[float], reach: int) -> list[tuple[int, ...]]:
    """Columns filled one after another, each begun with the first drawing that is left and filled from the next ``reach``."""
    columns: list[tuple[int, ...]] = []
    left = list(range(len(heights)))
    while left:
        space = spaces[len(columns)]
        fitting = [place for place in left if heights[place] <= space]
        if not fitting:
            # A short first page leaves what is higher to the next; what no page can hold stands alone in its column.
            fitting = left[:1] if space == max(spaces) else []
        gathered = gather_on_pages([heights[place] for place in fitting], space, space, gap=GAP, reach=reach)
        columns.append(tuple(fitting[place] for place in gathered[0]) if gathered else ())
        left = [place for place in left if place not in columns[-1]]
    return columns


def _largest_first(heights: Sequence[float], spaces: Sequence[float]) -> list[tuple[int, ...]]:
    """Columns packed closest: the highest drawings find a place first, each in the fullest column that still holds it."""
    columns: list[list[int]] = []
    used: list[float] = []
    for place in sorted(range(len(heights)), key=lambda place: -heights[place]):
        need = heights[place] + GAP
        fits = [k for k, filled in enumerate(used) if filled + need <= spaces[k] + GAP]
        while not fits:
            columns.append([])
            used.append(0.0)
            last = len(columns) - 1
            fits = [last] if need <= spaces[last] + GAP or spaces[last] == max(spaces) else []
        best = max(fits, key=lambda k: used[k])
        columns[best].append(place)
        used[best] += need
    packed = [tuple(sorted(column)) for column in columns]
    return sorted(packed) if len(set(spaces)) == 1 else packed


def _filled(column: Sequence[int], heights: Sequence[float]) -> float:
    return sum(heights[place] + GAP for place in column) - GAP


def _even(columns: Sequence[tuple[int, ...]], heights: Sequence[float]) -> list[tuple[int, ...]]:
    """The last page's columns made about equally high."""
    places = sorted(place for column in columns for place in column)
    total = sum(heights[place] for place in places)
    first: list[int] = []
    used = 0.0
    for place in places:
        if first and used + heights[place] / 2 > total / 2:
            break
        first.append(place)
        used += heights[place]
    return [tuple(first), tuple(places[len(first) :])]
