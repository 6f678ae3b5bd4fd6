"""Cutting planes on an elevation: a long-dash dot line across the view, wide at its ends, arrows in the direction of sight, letters
(ISO 128-2 and 128-3, from memory)."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.draw.paper.dimensions import arrow
from drawleaf.draw.paper.lettering import label, place_centered
from drawleaf.draw.paper.obstacles import obstacles
from drawleaf.draw.paper.style import CUTTING_END, CUTTING_PLANE, INK
from drawleaf.draw.paper.svg import Pt, Sketch
from drawleaf.draw.piece.section_planes import Plane
from drawleaf.draw.sight.cutting import LOOKING
from drawleaf.draw.sight.exact_places import paper_axis
from drawleaf.draw.sight.view import View

BAND = 7.5
"""Room outside the view for the ends of the lines."""
_START, _END, _ARROW = 1.2, 5.5, 5.0


def crossing(planes: Sequence[Plane], view: View, row: int) -> list[Plane]:
    """The planes that are seen edge-on and lie across (0: upright lines) or up (1: level lines) the paper."""
    return [plane for plane in planes if plane.axis is paper_axis(view, row)]


def draw_planes(
    sketch: Sketch, planes: Sequence[Plane], view: View, bounds: tuple[float, float, float, float], factor: float
) -> None:
    """Marks on a view whose left upper corner is at 0, 0. Letters stand where no dimension runs."""
    wide, high = (bounds[2] - bounds[0]) * factor, (bounds[3] - bounds[1]) * factor
    for row in (0, 1):
        for plane in crossing(planes, view, row):
            sign = 1.0 if view.axes[row][plane.axis.index] > 0 else -1.0
            place = plane.at * sign
            sight = -LOOKING[plane.axis].direction[plane.axis.index] * sign
            if row == 0:
                x = (place - bounds[0]) * factor
                ends: tuple[tuple[Pt, Pt], ...] = (((x, -_START), (x, -_END)), ((x, high + _START), (x, high + _END)))
                step = (sight, 0.0)
            else:
                y = (bounds[3] - place) * factor
                ends = (((-_START, y), (-_END, y)), ((wide + _START, y), (wide + _END, y)))
                step = (0.0, -sight)
            sketch.line(CUTTING_PLANE, ends[0][0], ends[1][0])
            for inner, outer in ends:
                _end(sketch, plane.letter, inner, outer, step)


def _end(sketch: Sketch, letter: str, inner: Pt, outer: Pt, step: tuple[float, float]) -> None:
    tip = (outer[0] + step[0] * _ARROW, outer[1] + step[1] * _ARROW)
    taken = obstacles(sketch)
    sketch.line(CUTTING_END, inner, outer)
    sketch.line(CUTTING_PLANE, outer, (tip[0] - step[0] * 2.5, tip[1] - step[1] * 2.5))
    arrow(sketch, tip, outer, length=3.0, half=0.75, color=INK)
    text = label(letter, weight=600)
    out = (outer[0] - inner[0], outer[1] - inner[1])
    size = (out[0] ** 2 + out[1] ** 2) ** 0.5
    out = (out[0] / size, out[1] / size)
    half = max(text.width, text.height) / 2 + 1.2
    choices = [
        (tip[0] + step[0] * half, tip[1] + step[1] * half),
        (outer[0] - step[0] * half, outer[1] - step[1] * half),
        (outer[0] + out[0] * half, outer[1] + out[1] * half),
        *((outer[0] - step[0] * far, outer[1] - step[1] * far) for far in (4.0, 5.5, 7.0, 9.0)),
        *((tip[0] + step[0] * far, tip[1] + step[1] * far) for far in (3.5, 5.0, 7.0, 9.0)),
    ]
    spot = taken.first_free(choices, text.width + 0.6, text.height + 0.5) or choices[0]
    place_centered(sketch, text, spot)
