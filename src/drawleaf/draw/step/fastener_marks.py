"""Screws and brads on a step's drawing: a line along the screw, standing out of its hole, with a head and a point."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from drawleaf.draw.paper.dimensions import arrow
from drawleaf.draw.paper.style import ACCENT, FASTENER, HIDDEN, NARROW
from drawleaf.draw.paper.svg import Circle, Pt, Sketch
from drawleaf.draw.picture.picture import Window
from drawleaf.draw.sight.view import Vector, View
from drawleaf.model.catalogue import FastenerKind
from drawleaf.model.plan import Fastener

_STAND_OFF = 6.0
"""Millimetres of the piece between a screw's point and its hole."""
_SHORTEST = 3.2
"""A mark is at least so long on paper, so that it can be seen."""
END_ON = 1.0
"""Shorter than this on paper (mm) a screw is driven straight away from the eye or towards it."""


def fastener_reach(fastener: Fastener, offsets: Mapping[str, Vector]) -> tuple[Vector, Vector]:
    """The head of the drawn screw, standing out of its hole, and the hole."""
    hole = np.array(fastener.mouth.mm) + np.array(offsets.get(fastener.through, (0.0, 0.0, 0.0)))
    length = fastener.item.length.mm if fastener.item.length else 25.0
    head = hole - np.array(fastener.direction) * (length + _STAND_OFF)
    return (_triple(head), _triple(hole))


def draw_fasteners(
    sketch: Sketch, view: View, window: Window, fasteners: Sequence[Fastener], offsets: Mapping[str, Vector]
) -> None:
    """All marks. One that is driven from the far side is dashed, for it is behind the wood."""
    for fastener in fasteners:
        head, hole = (window.point(view, p) for p in fastener_reach(fastener, offsets))
        behind = float(view.axes[2] @ np.array(fastener.direction)) > 0.1
        mark(sketch, head, hole, brad=fastener.item.kind == FastenerKind.BRAD, behind=behind)


def mark(sketch: Sketch, head: Pt, hole: Pt, *, brad: bool, behind: bool) -> None:
    """One mark, from its head to its hole on paper."""
    dx, dy = hole[0] - head[0], hole[1] - head[1]
    size = (dx * dx + dy * dy) ** 0.5
    style = HIDDEN if behind else FASTENER
    if size < END_ON:
        # Driven straight away from the eye its head is all that shows; towards it a thin ring, as dashes would fall to pieces.
        radius = 0.5 if brad else 0.9
        sketch.shape(NARROW if behind else FASTENER, Circle(hole, radius + 0.2 if behind else radius))
        return
    ux, uy = dx / size, dy / size
    if size < _SHORTEST:
        head = (hole[0] - ux * _SHORTEST, hole[1] - uy * _SHORTEST)
    half = 0.5 if brad else 0.95
    sketch.line(style, head, hole)
    sketch.line(style, (head[0] - uy * half, head[1] + ux * half), (head[0] + uy * half, head[1] - ux * half))
    if not behind:
        arrow(sketch, hole, head, length=1.5, half=0.45, color=ACCENT)


def _triple(values: np.ndarray) -> Vector:
    return (float(values[0]), float(values[1]), float(values[2]))
