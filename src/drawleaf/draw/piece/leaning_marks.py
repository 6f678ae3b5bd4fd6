"""The angle at which parts lean, on an elevation: from an upright line at the foot of a leaning edge, each angle once."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from drawleaf.draw.paper.dimensions import arrow
from drawleaf.draw.paper.lettering import label, place_centered
from drawleaf.draw.paper.style import CENTER, DIMENSION
from drawleaf.draw.paper.svg import Pt, Sketch
from drawleaf.draw.picture.picture import Window
from drawleaf.draw.sight.linework import Linework
from drawleaf.model.plan import Plan
from drawleaf.setting_out.slants import angle_text

_RADIUS, _PAST, _TAIL = 15.0, 3.0, 4.5
"""Of the arc; how far the upright line runs past it; how long the arc's tails are, outside the angle (all mm on paper)."""
_LEAST, _MOST = 1.0, 45.0
"""Degrees off upright between which an edge leans, and does not merely slope."""
_SHARE = 0.6
"""Of a part the long edges count, and not those of its feet and joints: so much of the longest."""
_SHORTEST = 12.0
"""No angle is marked at an edge shorter than this on paper (mm)."""


def draw_leans(sketch: Sketch, plan: Plan, work: Linework, window: Window) -> None:
    """The angles of the parts that lean, each at the edge furthest to the left."""
    for lean, foot, head in _leaning_edges(plan, work, window.factor):
        _draw(sketch, lean, window.at(*foot), window.at(*head))


def _leaning_edges(plan: Plan, work: Linework, factor: float) -> list[tuple[Fraction, Pt, Pt]]:
    """For each angle (degrees, to a tenth) the lower and the upper end of an edge, in the view's plane."""
    leaning = {part.id for part in plan.parts if part.tilt is not None}
    edges: dict[str, list[tuple[Pt, Pt]]] = {}
    for line in work.visible:
        if line.part in leaning:
            edges.setdefault(line.part, []).extend(_upwards(line.points))
    found: dict[Fraction, tuple[Pt, Pt]] = {}
    for own in edges.values():
        longest = max(head[1] - foot[1] for foot, head in own)
        for foot, head in own:
            across, up = head[0] - foot[0], head[1] - foot[1]
            degrees = float(np.degrees(np.arctan2(abs(across), up)))
            if up * factor < _SHORTEST or up < _SHARE * longest or not _LEAST <= degrees <= _MOST:
                continue
            lean = Fraction(round(degrees * 10), 10)
            if lean not in found or foot < found[lean][0]:
                found[lean] = foot, head
    return [(lean, *ends) for lean, ends in sorted(found.items())]


def _upwards(points: NDArray[np.float64]) -> list[tuple[Pt, Pt]]:
    """The straight stretches of a line, each from its lower to its upper end."""
    found = []
    for stretch in pairwise(points.tolist()):
        (u0, v0), (u1, v1) = sorted(stretch, key=lambda end: end[1])
        found.append(((u0, v0), (u1, v1)))
    return found


def _draw(sketch: Sketch, lean: Fraction, foot: Pt, head: Pt) -> None:
    across, up = head[0] - foot[0], foot[1] - head[1]
    turn = float(np.arctan2(across, up))
    radius = min(_RADIUS, 0.7 * float(np.hypot(across, up)))
    sketch.line(CENTER, foot, (foot[0], foot[1] - radius - _PAST))

    def at(angle: float) -> Pt:
        return (foot[0] + radius * float(np.sin(angle)), foot[1] - radius * float(np.cos(angle)))

    low, high = min(0.0, turn), max(0.0, turn)
    tail = _TAIL / radius
    for end, away in ((low, -tail), (high, tail)):
        sketch.line(DIMENSION, *(at(end + away * share) for share in (0.0, 0.25, 0.5, 0.75, 1.0)))
        arrow(sketch, at(end), at(end + away))
    words = label(angle_text(lean))
    place_centered(sketch, words, (foot[0], foot[1] - radius - _PAST - words.height / 2 - 0.8))
