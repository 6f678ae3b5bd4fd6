"""Figures shared out over printed pages, so that a page holds as many as fit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drawleaf.book.paging import FARTHEST, gather_on_pages
from drawleaf.model.drawings import Drawing

CAPTION, GAP = 9.6, 5.0
"""What a caption takes below the drawing, and the room before the next figure, in mm."""


@dataclass(frozen=True, slots=True)
class Figure:
    """A drawing, and whether it begins a page."""

    drawing: Drawing
    new_page: bool = False


def on_pages(drawings: Sequence[Drawing], room: float, first_room: float) -> tuple[Figure, ...]:
    """Drawings below each other, in their order as far as full pages allow."""
    pages = gather_on_pages([one.height_mm + CAPTION for one in drawings], room, first_room, gap=GAP)
    return tuple(
        Figure(drawings[place], new_page=page is not pages[0] and place == page[0]) for page in pages for place in page
    )


def room_left(figures: Sequence[Figure], room: float, first_room: float) -> float:
    """The room below the last of them."""
    last = max((place for place, figure in enumerate(figures) if figure.new_page), default=0)
    used = sum(figure.drawing.height_mm + CAPTION + GAP for figure in figures[last:])
    return (room if last else first_room) - used


def column_height(drawings: Sequence[Drawing]) -> float:
    """How high these drawings stand below each other, with their captions."""
    return sum(one.height_mm + CAPTION + GAP for one in drawings) - GAP


def in_columns(
    drawings: Sequence[Drawing], room: float, first_room: float
) -> tuple[tuple[tuple[Drawing, ...], ...], ...]:
    """Small drawings in two columns a page: pages of columns of drawings."""
    heights = [one.height_mm + CAPTION for one in drawings]
    spaces = [first_room, first_room, *[room] * len(drawings)]
    ways = (_in_turn(heights, spaces, 8), _in_turn(heights, spaces, FARTHEST), _largest_first(heights, spaces))
    columns = min(ways, key=lambda found: -(-len(found) // 2))
    if len(columns) % 2 == 0 or len(columns) == 1:
        columns = [*columns[:-2], *_even(columns[-2:], heights)]
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
        column = gather_on_pages([heights[place] for place in left], space, space, gap=GAP, reach=reach)[0]
        columns.append(tuple(left[place] for place in column))
        left = [place for place in left if place not in columns[-1]]
    return columns


def _largest_first(heights: Sequence[float], spaces: Sequence[float]) -> list[tuple[int, ...]]:
    """Columns packed closest: the highest drawings find a place first, each in the fullest column that still holds it."""
    columns: list[list[int]] = []
    used: list[float] = []
    for place in sorted(range(len(heights)), key=lambda place: -heights[place]):
        need = heights[place] + GAP
        fits = [k for k, filled in enumerate(used) if filled + need <= spaces[k] + GAP]
        if not fits:
            columns.append([])
            used.append(0.0)
            fits = [len(columns) - 1]
        best = max(fits, key=lambda k: used[k])
        columns[best].append(place)
        used[best] += need
    packed = [tuple(sorted(column)) for column in columns]
    return sorted(packed) if len(set(spaces)) == 1 else packed


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
