"""Squaring up: the assembly seen square-on with both its diagonals, to be measured from corner to corner and made equal."""

from __future__ import annotations

import numpy as np

from drawleaf.draw.paper.dimensions import arrow
from drawleaf.draw.paper.frame import extent
from drawleaf.draw.paper.lettering import label, place_centered
from drawleaf.draw.paper.placement import Rect, around
from drawleaf.draw.paper.style import ACCENT, MEASURE, STANDING, STANDING_FILL, WHITE
from drawleaf.draw.paper.svg import Pt, Sketch, rectangle
from drawleaf.draw.picture.panes import show
from drawleaf.draw.picture.picture import GENTLE, paint_faces, paint_lines, window_fitting
from drawleaf.draw.sight.hidden_lines import project
from drawleaf.draw.sight.view import FRONT, LEFT, PLAN
from drawleaf.model.place import Axis
from drawleaf.model.settings import SquareSettings
from drawleaf.model.steps import Step
from drawleaf.solids.build import Solids

_SHARE = 0.3
"""How far along its diagonal each letter stands: clear of where they cross."""
BESIDE = 50.0
"""The width (mm) that the figure takes beside a picture, with the gap."""
_WIDE, _HIGH, _GAP, _SIDE = 44.0, 34.0, 6.0, 120.0
"""The figure's room; it stands beside a picture in a room wider than the last, else below it."""
BELOW = 2.5
"""Clear paper (mm) between the figure and what stands below it."""
_ACROSS = {0: LEFT, 1: FRONT, 2: PLAN}
"""The view across each axis."""


def squared(step: Step) -> tuple[str, ...]:
    """The parts that are squared up in the step; none where nothing is."""
    return next((operation.parts for operation in step.operations if operation.kind == "square"), ())


def _looking(step: Step) -> Axis:
    """The axis that one looks along, as the step's words have it."""
    return next(op.settings.plane for op in step.operations if isinstance(op.settings, SquareSettings))


def figure_height(solids: Solids, step: Step) -> float:
    """How high (mm) the figure is beside a picture; 0 where nothing is squared."""
    boxes = [box for box in map(solids.box, squared(step)) if box is not None]
    if not boxes:
        return 0.0
    low, high = np.min([box[0] for box in boxes], axis=0), np.max([box[1] for box in boxes], axis=0)
    wide, up = (float(size) for i, size in enumerate(high - low) if i != _looking(step).index)
    return min(_WIDE / max(wide, 1e-6), _HIGH / max(up, 1e-6)) * up


def add_squaring(sketch: Sketch, solids: Solids, step: Step, room: float, below: float = 0.0) -> Pt:
    """A figure of its own beside the picture: what is squared, put together, as one stands to measure it. So much height (mm) ``below`` it
    is left for what stands there; gives where that begins, its left upper corner."""
    shown = tuple(part for part in squared(step) if solids.body(part) is not None)
    where = _place(extent(sketch), room, below)
    if not shown:
        return (where[0], where[1])
    work = project(solids, _ACROSS[_looking(step).index], shown)
    window = window_fitting(work.bounds, where)
    show(sketch, work, window)
    paint_faces(sketch, work, window, {}, STANDING_FILL, GENTLE)
    paint_lines(sketch, work.visible, window, STANDING)
    left, top, right, bottom = window.box(work.bounds)
    for name, a, b in (("A", (left, bottom), (right, top)), ("B", (left, top), (right, bottom))):
        _diagonal(sketch, name, a, b)
    return (where[0], bottom + BELOW)


def _place(box: Rect, room: float, below: float) -> Rect:
    left, top, right, bottom = box
    if room > _SIDE:
        middle = (top + bottom) / 2 - below / 2
        return (right + _GAP, middle - _HIGH / 2, right + _GAP + _WIDE, middle + _HIGH / 2)
    middle = (left + right) / 2
    return (middle - _WIDE / 2, bottom + _GAP, middle + _WIDE / 2, bottom + _GAP + _HIGH * 0.8)


def _diagonal(sketch: Sketch, name: str, a: Pt, b: Pt) -> None:
    sketch.line(MEASURE, a, b)
    arrow(sketch, a, b, length=3.4, half=0.9, color=ACCENT)
    arrow(sketch, b, a, length=3.4, half=0.9, color=ACCENT)
    at = (a[0] + (b[0] - a[0]) * _SHARE, a[1] + (b[1] - a[1]) * _SHARE)
    text = label(name, weight=600)
    sketch.cover(WHITE, rectangle(*around(at, text.width + 1.6, text.height + 1.4)), name="clear")
    place_centered(sketch, text, at)


def diagonal_words() -> str:
    """For the alternative text."""
    return "A second figure shows it square-on with two arrows, A and B, from corner to corner: measure both. They must be equal."
