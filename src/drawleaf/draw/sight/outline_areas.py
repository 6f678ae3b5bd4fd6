"""Where an outline is cut, as the view sees it: the mouth of an opening, a strip along what is sawn."""

from __future__ import annotations

from math import hypot

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from drawleaf.draw.sight.view import View
from drawleaf.model.plan import Part
from drawleaf.model.shapes import Outline, OutlineCut
from drawleaf.solids.outlines import stretches
from drawleaf.solids.sweeps import outline_of

STRIP = 5.0
"""Millimetres to either side of a sawn line that are tinted."""
SLACK = 0.01


def outline_area(view: View, cut: OutlineCut, part: Part) -> BaseGeometry | None:
    """What is tinted for a cut along an outline; None where its face looks away."""
    axis = cut.outline.axis
    face = cut.into if float(view.axes[2] @ np.array(cut.into.normal)) > 0.05 else cut.into.opposite
    if face is not cut.into and face not in cut.open:
        return None
    flat = flat_points(cut.outline)
    points = np.zeros((len(flat), 3))
    a, b = axis.others()
    points[:, a.index], points[:, b.index] = flat[:, 0], flat[:, 1]
    points[:, axis.index] = part.body.face(face).mm
    on_paper = view.on_paper(points)
    if not cut.keep:
        return shapely.Polygon(on_paper)
    spans = [part.body.span(one) for one in (a, b)]
    strips: list[BaseGeometry] = []
    for number in range(len(flat)):
        one, other = flat[number], flat[(number + 1) % len(flat)]
        if hypot(*(other - one)) < SLACK or any(
            _along(one[i], other[i], spans[i].low.mm, spans[i].high.mm) for i in (0, 1)
        ):
            continue
        line = shapely.LineString([on_paper[number], on_paper[(number + 1) % len(flat)]])
        strips.append(line.buffer(STRIP))
    return shapely.union_all(strips) if strips else None


def _along(one: float, other: float, low: float, high: float) -> bool:
    """Whether a stretch runs along an edge of the blank, which is not sawn."""
    return any(abs(one - edge) < SLACK and abs(other - edge) < SLACK for edge in (low, high))


def flat_points(outline: Outline) -> np.ndarray:
    """The outline as the solids have it, as (N, 2) points in millimetres."""
    return outline_of(*stretches(outline))[0]
