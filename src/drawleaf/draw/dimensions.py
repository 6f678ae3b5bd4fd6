"""Dimension lines in rows outside a view, placed so that no value is crossed by another dimension's lines.

Practice by ISO 129-1: narrow lines, extension lines that start clear of the outline and run a little past the dimension
line, the value above its line and readable from the bottom or the right, shorter dimensions nearer to the view.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drawleaf.draw.lettering import Label, place
from drawleaf.draw.style import ARROW_HALF, ARROW_LENGTH, DIMENSION, INK, ROW_FIRST
from drawleaf.draw.svg import Poly, Pt, Sketch

_CLEAR = 1.0
"""Gap between outline and extension line, and between a value and its line."""
_PAST = 1.6
_ROW_ROOM = 2.2
_TIGHT = 2 * ARROW_LENGTH + 1.0


@dataclass(frozen=True, slots=True)
class Dimension:
    """A distance along one side of a view, between two paper coordinates; ``starts`` is how deep inside the view's edge the
    extension lines begin at the low and the high end (0: at the edge)."""

    low: float
    high: float
    label: Label
    starts: tuple[float, float] = (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class _Put:
    """A dimension with its value's place: the span of the value along the line, and whether arrows stand outside."""

    dimension: Dimension
    text: tuple[float, float]
    outside: bool

    @property
    def span(self) -> tuple[float, float]:
        d, arrows = self.dimension, 2 * ARROW_LENGTH if self.outside else 0.0
        return min(d.low - arrows, self.text[0] - 0.8), max(d.high + arrows, self.text[1] + 0.8)


def dimensions_depth(side: str, dimensions: Sequence[Dimension]) -> float:
    """How far rows of these dimensions reach out from the view on that side (0 for none)."""
    return place_dimensions(Sketch(), side, 0.0, dimensions)


def place_dimensions(sketch: Sketch, side: str, edge: float, dimensions: Sequence[Dimension]) -> float:
    """Draws the dimensions outside ``side`` (left, right, top, bottom) of a view whose outline there is at ``edge``.

    Returns the distance from the edge to the outermost mark.
    """
    out, reach = 0.0, 0.0
    inward = side in ("bottom", "right")  # the value stands between its line and the view
    for index, row in enumerate(_rows(dimensions)):
        high = max(put.dimension.label.height for put in row) + _CLEAR
        if inward:
            out = max(ROW_FIRST, high + _ROW_ROOM) if not index else out + high + _ROW_ROOM
        else:
            out = ROW_FIRST - 2 * _ROW_ROOM if not index else reach + _ROW_ROOM
        for put in row:
            _draw(sketch, side, edge, out, put)
        reach = out + (_PAST if inward else max(_PAST, high))
    return reach


def _rows(dimensions: Sequence[Dimension]) -> list[list[_Put]]:
    """Shorter dimensions first; each goes to the first row where it and its value are clear of the others."""
    unique = {(round(d.low, 3), round(d.high, 3)): d for d in reversed(dimensions)}
    ordered = sorted(unique.values(), key=lambda d: (round(d.high - d.low, 3), d.low))
    rows: list[list[_Put]] = []
    for index, dimension in enumerate(ordered):
        posts = [end for later in ordered[index + 1 :] for end in (later.low, later.high)]
        _put_in_row(rows, _choices(dimension, posts))
    return rows


def _put_in_row(rows: list[list[_Put]], choices: list[_Put]) -> None:
    floor = _lowest_row(rows, choices[0].dimension)
    for row in rows[floor:]:
        for choice in choices:
            if all(_apart(choice, other) for other in row):
                row.append(choice)
                return
    rows.append([choices[0]])


def _lowest_row(rows: list[list[_Put]], dimension: Dimension) -> int:
    """The first row beyond every value that this dimension's extension lines would cross."""
    floor = 0
    for index, row in enumerate(rows):
        for put in row:
            if any(put.text[0] - 0.4 < end < put.text[1] + 0.4 for end in (dimension.low, dimension.high)):
                floor = (
                    max(floor, index)
                    if put.dimension.low <= dimension.low and put.dimension.high >= dimension.high
                    else floor
                )
    return floor


def _apart(a: _Put, b: _Put) -> bool:
    return a.span[1] <= b.span[0] + 0.9 or b.span[1] <= a.span[0] + 0.9


def _choices(dimension: Dimension, posts: Sequence[float]) -> list[_Put]:
    """Where the value may stand: in the middle, shifted clear of others' extension lines, else beyond one of the ends."""
    low, high, width = dimension.low, dimension.high, dimension.label.width
    outside = high - low < _TIGHT
    choices: list[_Put] = []
    if width <= high - low - 0.6:
        slack = (high - low - 0.6 - width) / 2
        for shift in (0.0, -0.35, 0.35, -0.7, 0.7, -1.0, 1.0):
            start = (low + high - width) / 2 + shift * slack
            choices.append(_Put(dimension, (start, start + width), outside))
    arrows = 2 * ARROW_LENGTH + 0.6
    for start in (high + arrows, low - arrows - width):
        choices.append(_Put(dimension, (start, start + width), outside=True))
    clear = [c for c in choices if not any(c.text[0] - 0.5 < post < c.text[1] + 0.5 for post in posts)]
    return clear or choices


def _draw(sketch: Sketch, side: str, edge: float, out: float, put: _Put) -> None:
    d = put.dimension

    def at(along: float, away: float) -> Pt:
        match side:
            case "bottom":
                return (along, edge + away)
            case "top":
                return (along, edge - away)
            case "right":
                return (edge + away, along)
            case _:
                return (edge - away, along)

    for end, start in ((d.low, d.starts[0]), (d.high, d.starts[1])):
        sketch.line(DIMENSION, at(end, _CLEAR - start), at(end, out + _PAST))
    _line_and_arrows(sketch, at, out, put)
    middle = (put.text[0] + put.text[1]) / 2
    if side in ("bottom", "top"):
        x, y = at(middle, out)
        place(sketch, d.label, (x, y - _CLEAR - d.label.below), anchor="middle")
    else:
        x, y = at(middle, out)
        place(sketch, d.label, (x - _CLEAR - d.label.below, y), anchor="middle", turn=90)


def _line_and_arrows(sketch: Sketch, at, out: float, put: _Put) -> None:  # type: ignore[no-untyped-def]
    d = put.dimension
    if put.outside:
        tails = min(d.low - 2 * ARROW_LENGTH, put.text[0]), max(d.high + 2 * ARROW_LENGTH, put.text[1])
        sketch.line(DIMENSION, at(tails[0], out), at(tails[1], out))
        arrow(sketch, at(d.low, out), at(d.low - 1, out))
        arrow(sketch, at(d.high, out), at(d.high + 1, out))
        return
    sketch.line(DIMENSION, at(d.low, out), at(d.high, out))
    arrow(sketch, at(d.low, out), at(d.low + 1, out))
    arrow(sketch, at(d.high, out), at(d.high - 1, out))


def arrow(
    sketch: Sketch, tip: Pt, tail: Pt, *, length: float = ARROW_LENGTH, half: float = ARROW_HALF, color: str = INK
) -> None:
    """A filled arrow head with its point at ``tip``, coming from the side of ``tail``."""
    dx, dy = tail[0] - tip[0], tail[1] - tip[1]
    size = (dx * dx + dy * dy) ** 0.5 or 1.0
    dx, dy = dx / size, dy / size
    base = (tip[0] + dx * length, tip[1] + dy * length)
    sketch.cover(
        color, Poly((tip, (base[0] - dy * half, base[1] + dx * half), (base[0] + dy * half, base[1] - dx * half)))
    )
