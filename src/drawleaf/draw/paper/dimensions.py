"""Dimension lines in rows outside a view, placed so that no value is crossed by another dimension's lines.

Practice by ISO 129-1: narrow lines, extension lines that start clear of the outline and run a little past the dimension
line, shorter dimensions nearer to the view. Every value is level and read from the bottom (the standard's second method, and
the usual one of American drawings): above a level line, and in a gap of an upright one.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from drawleaf.draw.paper.lettering import Label, place, place_centered
from drawleaf.draw.paper.style import ARROW_HALF, ARROW_LENGTH, DIMENSION, INK, ROW_FIRST
from drawleaf.draw.paper.svg import Poly, Pt, Sketch

_CLEAR = 1.0
"""Gap between outline and extension line, and between a value and its line."""
_PAST = 1.6
_ROW_ROOM = 2.2
_GAP = 0.6
"""Between an upright line and the value that stands in it."""
_FREE = (True, True)
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
    """A dimension with its value's place: the span of the value along the line, and whether arrows stand outside. A ``level`` value
    stands past its ``upright`` line, level with its middle, and takes nothing of the line."""

    dimension: Dimension
    text: tuple[float, float]
    outside: bool
    upright: bool = False
    level: bool = False

    @property
    def room(self) -> float:
        """Half the millimetres that the value takes across an upright line."""
        return 0.0 if self.level else self.dimension.label.width / 2

    @property
    def core(self) -> tuple[float, float]:
        """From end to end with the value, without arrows that stand outside."""
        d = self.dimension
        return min(d.low, self.text[0]), max(d.high, self.text[1])

    @property
    def span(self) -> tuple[float, float]:
        d, arrows = self.dimension, 2 * ARROW_LENGTH if self.outside else 0.0
        return min(d.low - arrows, self.text[0]), max(d.high + arrows, self.text[1])


def dimensions_depth(side: str, dimensions: Sequence[Dimension], beyond: tuple[bool, bool] = _FREE) -> float:
    """Millimetres that rows of these dimensions reach out from the view on that side (0 for none)."""
    return place_dimensions(Sketch(), side, 0.0, dimensions, beyond)


def place_dimensions(
    sketch: Sketch,
    side: str,
    edge: float,
    dimensions: Sequence[Dimension],
    beyond: tuple[bool, bool] = _FREE,
    *,
    level: bool = False,
) -> float:
    """Draws the dimensions outside ``side`` (left, right, top, bottom) of a view whose outline there is at ``edge``.

    ``beyond`` says whether values may stand past the low and the high end of that side, in the corners of the drawing; ``level``
    whether the outermost value of an upright side stands level beside its line where it is too long for it. Returns the distance
    in mm from the edge to the outermost mark.
    """
    out, reach = 0.0, 0.0
    upright = side in ("left", "right")
    rows = _rows(dimensions, beyond, upright)
    if level and rows and upright:
        rows[-1] = _laid_level(rows[-1])
    for index, row in enumerate(rows):
        high = max(put.dimension.label.height for put in row) + _CLEAR
        if upright:
            half = max(put.room for put in row)
            out = max(ROW_FIRST - 2 * _ROW_ROOM, half + _CLEAR) if not index else reach + max(_ROW_ROOM, half + _CLEAR)
            high = half
        elif side == "bottom":  # the value stands between its line and the view
            out = max(ROW_FIRST, high + _ROW_ROOM) if not index else out + high + _ROW_ROOM
        else:
            out = ROW_FIRST - 2 * _ROW_ROOM if not index else reach + _ROW_ROOM
        for put in row:
            _draw(sketch, side, edge, out, put)
        reach = out + (_PAST if side == "bottom" else max(_PAST, high))
        reach = max(reach, *(out + _PAST + put.dimension.label.width if put.level else 0.0 for put in row))
    return reach


def _laid_level(row: list[_Put]) -> list[_Put]:
    """A single value that is longer than its upright line, laid level beside it."""
    (put, *others) = row
    d = put.dimension
    if others or (put.text[0] >= d.low and put.text[1] <= d.high):
        return row
    outside = d.high - d.low < _TIGHT
    return [replace(put, text=(d.low, d.high), outside=outside, level=True)]


def _rows(dimensions: Sequence[Dimension], beyond: tuple[bool, bool], upright: bool) -> list[list[_Put]]:
    """Shorter dimensions first; each goes to the first row where it and its value are clear of the others."""
    unique = {(round(d.low, 3), round(d.high, 3)): d for d in reversed(dimensions)}
    ordered = sorted(unique.values(), key=lambda d: (round(d.high - d.low, 3), d.low))
    if not ordered:
        return []
    limits = min(d.low for d in ordered), max(d.high for d in ordered)
    rows: list[list[_Put]] = []
    for index, dimension in enumerate(ordered):
        posts = [end for later in ordered[index + 1 :] for end in (later.low, later.high)]
        choices = _choices(dimension, upright, posts, limits, beyond)
        found = next(((r, c) for r in range(len(rows)) for c in choices if _fits(rows, r, c)), None)
        if found:
            rows[found[0]].append(found[1])
        else:
            rows.append([choices[0]])
    return rows


def _fits(rows: Sequence[Sequence[_Put]], index: int, put: _Put) -> bool:
    """Clear of its row, of the values nearer in (which its extension lines pass), and of extension lines to rows further out."""
    if not all(_apart(put, other) for other in rows[index]):
        return False
    inner = (other for row in rows[:index] for other in row)
    outer = (other for row in rows[index + 1 :] for other in row)
    return not any(_crossed(other, put.dimension) for other in inner) and not any(
        _crossed(put, o.dimension) for o in outer
    )


def _crossed(put: _Put, by: Dimension) -> bool:
    """Whether a value is crossed by the extension lines of another dimension."""
    return any(put.text[0] - 0.4 < end < put.text[1] + 0.4 for end in (by.low, by.high))


def _apart(a: _Put, b: _Put) -> bool:
    """Whether two dimensions may share a row. Arrows outside a narrow one would overlap those of a wide neighbour."""
    if a.outside and b.outside:
        return _clear(a.span, b.span)
    narrow, other = (a, b) if a.outside else (b, a)
    d, e = narrow.dimension, other.dimension
    neighbours = min(abs(d.high - e.low), abs(d.low - e.high)) < 0.01
    if not neighbours:
        return _clear(narrow.span, other.span)
    # The tail of the narrow one's arrow runs along the wide one's line, which has its value in it where it is upright.
    return _clear(narrow.core, other.core) and (not other.upright or _clear(narrow.span, other.text))


def _clear(a: tuple[float, float], b: tuple[float, float]) -> bool:
    return a[1] <= b[0] + 0.01 or b[1] <= a[0] + 0.01


def _choices(
    dimension: Dimension,
    upright: bool,
    posts: Sequence[float],
    limits: tuple[float, float],
    free: tuple[bool, bool],
) -> list[_Put]:
    """Where the value may stand, along its line: in the middle, shifted clear of others' extension lines, beyond one of the
    ends, or beyond all."""
    low, high = dimension.low, dimension.high
    width = dimension.label.height if upright else dimension.label.width
    outside = high - low < max(_TIGHT, width + 2 * ARROW_LENGTH if upright else 0.0)
    choices: list[_Put] = []
    if width <= high - low - 0.6:
        slack = (high - low - 0.6 - width) / 2
        for shift in (0.0, -0.35, 0.35, -0.7, 0.7, -1.0, 1.0):
            start = (low + high - width) / 2 + shift * slack
            choices.append(_Put(dimension, (start, start + width), outside, upright))
    arrows = 2 * ARROW_LENGTH + 0.6
    beyond = [high + arrows, low - arrows - width]
    if abs(low - limits[0]) < 0.01:
        beyond.reverse()
    beyond += [max(limits[1] + 0.8, high + arrows), min(limits[0] - 0.8, low - arrows) - width]
    choices += [_Put(dimension, (start, start + width), outside=True, upright=upright) for start in beyond]
    clear = [c for c in choices if not any(c.text[0] - 0.5 < post < c.text[1] + 0.5 for post in posts)]
    kept = [
        c for c in clear if (free[0] or c.text[0] >= limits[0] - 0.01) and (free[1] or c.text[1] <= limits[1] + 0.01)
    ]
    return kept or clear or choices


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
    _line_and_arrows(sketch, at, out, put, gap=side in ("left", "right") and not put.level)
    middle = (put.text[0] + put.text[1]) / 2
    if put.level:
        place_centered(sketch, d.label, at(middle, out + _PAST + d.label.width / 2))
        return
    x, y = at(middle, out)
    if side in ("bottom", "top"):
        place(sketch, d.label, (x, y - _CLEAR - d.label.below), anchor="middle")
    else:
        place_centered(sketch, d.label, (x, y))


def _line_and_arrows(sketch: Sketch, at: Callable[[float, float], Pt], out: float, put: _Put, *, gap: bool) -> None:
    """The dimension line, left out where the value stands in a ``gap`` of it, and its arrows: inside, or outside a narrow one."""
    d = put.dimension
    ends = (d.low, d.high)
    if put.outside:
        ends = min(d.low - 2 * ARROW_LENGTH, put.text[0]), max(d.high + 2 * ARROW_LENGTH, put.text[1])
    low, high = (put.text[0] - _GAP, put.text[1] + _GAP) if gap else (ends[1], ends[1])
    for start, end in ((ends[0], min(low, ends[1])), (max(high, ends[0]), ends[1])):
        if end - start > 0.05:
            sketch.line(DIMENSION, at(start, out), at(end, out))
    away = 1.0 if put.outside else -1.0
    arrow(sketch, at(d.low, out), at(d.low - away, out))
    arrow(sketch, at(d.high, out), at(d.high + away, out))


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
