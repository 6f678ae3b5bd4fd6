"""The frame of a finished drawing: measured from all that was drawn, so that nothing can stand outside it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from itertools import chain
from typing import NamedTuple

from drawleaf.draw.paper.lettering import run_box
from drawleaf.draw.paper.placement import Rect
from drawleaf.draw.paper.scales import next_smaller
from drawleaf.draw.paper.svg import Circle, Pt, Sketch

EDGE = 1.0
"""Clear paper inside the frame, so that wide lines are not cut."""


_SMALLEST = 16.0
"""No picture is squeezed into less than this."""
_PATIENT = 8
"""After so many trials the picture is given more room than it lacked."""
_HAIR = 1e-6
"""Millimetres by which a rough sketch may differ from the drawing."""


class Room(NamedTuple):
    """The paper that a drawing may take at most, in mm."""

    width: float
    height: float


@dataclass(frozen=True, slots=True)
class Framed:
    """A drawing moved into its frame; ``needs`` is the width that the drawing itself takes."""

    sketch: Sketch
    width: float
    height: float
    needs: float


def extent(sketch: Sketch) -> Rect:
    """The box around everything drawn: left, top, right, bottom."""
    # Thousands of lines, many times a drawing: their points are gathered, not boxed one by one.
    points: list[Pt] = []
    for run in sketch.texts:
        left, top, right, bottom = run_box(run)
        points += ((left, top), (right, bottom))
    shapes = chain(
        chain.from_iterable(sketch.strokes.values()), *(fill.rings for fill in (*sketch.under, *sketch.over))
    )
    for shape in shapes:
        if isinstance(shape, Circle):
            (x, y), r = shape.center, shape.radius
            points += ((x - r, y - r), (x + r, y + r))
        else:
            points += shape.points
    if not points:
        return (0.0, 0.0, 0.0, 0.0)
    xs, ys = zip(*points, strict=True)
    return (min(xs), min(ys), max(xs), max(ys))


def framed(sketch: Sketch, width: float) -> Framed:
    """The drawing in the middle of a frame so wide, no higher than it needs; wider where it does not fit."""
    return _framed(sketch, extent(sketch), width)


def _framed(sketch: Sketch, reach: Rect, width: float) -> Framed:
    left, top, right, bottom = reach
    needs = right - left + 2 * EDGE
    wide = max(width, needs)
    dx = (wide - needs) / 2 + EDGE - left
    return Framed(sketch.moved(dx, EDGE - top), wide, bottom - top + 2 * EDGE, needs)


def cropped(sketch: Sketch) -> Framed:
    """The drawing in a frame no larger than it needs, so that something else may stand beside it."""
    return framed(sketch, 0.0)


def fitted(compose: Callable[[float, float, bool], Sketch], width: float, height: float) -> Framed:
    """A drawing composed within ever less room until, with its balloons and lettering, it fits the frame; no wider than it needs.

    ``compose`` is given the room, and whether the sketch is to be ``rough``, only to learn its size.
    """
    wide, high = width, height
    for trial in range(17):
        over, above = _over(extent(compose(wide, high, True)), width, height)
        if max(over, above) < _HAIR:
            # It fits, or nearly: drawing the whole shows it.
            sketch = compose(wide, high, False)
            reach = extent(sketch)
            over, above = _over(reach, width, height)
            if max(over, above) <= 0:
                return cropped(_framed(sketch, reach, width).sketch)
        if trial < 16:
            # What stands round the picture may move at every trial, so that room for what lacked last time never is enough.
            less = 1.0 if trial < _PATIENT else 2.0 * (trial - _PATIENT + 1)
            wide = max(_SMALLEST, wide - (over + less if over > 0 else 0.0))
            high = max(_SMALLEST, high - (above + less if above > 0 else 0.0))
    return cropped(framed(compose(wide, high, False), width).sketch)


def _over(reach: Rect, width: float, height: float) -> tuple[float, float]:
    """How much wider and higher than the frame a drawing that reaches so far is with the margin round it."""
    left, top, right, bottom = reach
    return right - left + 2 * EDGE - width, bottom - top + 2 * EDGE - height


def at_scale(compose: Callable[[int], Sketch], reduction: int, width: float, height: float) -> tuple[Framed, int]:
    """A drawing composed at the first scale of the list, from ``reduction`` on, at which it fits; with that scale."""
    done = framed(compose(reduction), width)
    while (done.needs > width or done.height > height) and next_smaller(reduction) != reduction:
        reduction = next_smaller(reduction)
        done = framed(compose(reduction), width)
    return cropped(done.sketch), reduction
