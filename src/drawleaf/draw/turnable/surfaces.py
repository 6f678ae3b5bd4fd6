"""What each surface of a part is: one of its six faces, or what a cut has left."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drawleaf.model.place import Box, Face
from drawleaf.model.plan import Bore, BoxCut, EdgeProfile, Feature, Part
from drawleaf.model.shapes import OutlineCut, PlaneCut
from drawleaf.model.turnable import Axes, Surface

Floats = NDArray[np.float64]

CLOSE = 0.02
"""Millimetres within which a surface lies on a face or a cut."""
SQUARE = 0.9999
"""A surface looks the way of a face where the two normals have at least this product."""


@dataclass(frozen=True)
class Naming:
    """Names the surfaces of a ``part`` at home; ``fresh`` are the places, among its features, of those that the step shown has cut."""

    part: Part
    fresh: frozenset[int] = frozenset()

    @property
    def lean(self) -> Axes | None:
        """The rows of the turn by which the part leans; None where it stands upright."""
        return None if self.part.tilt is None else self.part.tilt.matrix

    def surface(self, middle: Floats, normal: Floats | None, triangles: int) -> Surface:
        """Of a surface whose ``middle`` (mm, weighted by area) and outward ``normal`` are given in the part's home; a rounded one has no normal."""
        if self.part.tilt is not None:
            x, y, z = (float(value) for value in middle)
            middle = np.array(self.part.tilt.back((x, y, z)))
            if normal is not None:
                x, y, z = (float(value) for value in normal)
                normal = np.array(self.part.tilt.back_direction((x, y, z)))
        outer = None if normal is None else self._outer(middle, normal)
        if outer is not None:
            return Surface(triangles, outer)
        for place in self._by_sureness():
            cut = self.part.features[place]
            if _left_by(cut, self.part, middle, normal):
                return Surface(triangles, None, str(cut.kind), place in self.fresh)
        return Surface(triangles)

    def _outer(self, middle: Floats, normal: Floats) -> Face | None:
        for face in Face:
            if normal @ np.array(face.normal) > SQUARE:
                at = self.part.body.face(face).mm
                return face if abs(middle[face.axis.index] - at) < CLOSE else None
        return None

    def _by_sureness(self) -> list[int]:
        """Places among the features: cuts with plane walls and holes can be told exactly, outlines and profiles take what is left."""
        order, features = (BoxCut, Bore, PlaneCut, OutlineCut, EdgeProfile), self.part.features
        return sorted(range(len(features)), key=lambda place: order.index(type(features[place])))


def _left_by(cut: Feature, part: Part, middle: Floats, normal: Floats | None) -> bool:
    match cut:
        case BoxCut():
            return normal is not None and _on_wall(cut.box, middle, normal)
        case Bore():
            return _in_bore(cut, middle)
        case PlaneCut():
            away = middle - np.array(cut.point.mm)
            way = np.array(cut.normal)
            return normal is not None and float(normal @ way) > SQUARE and abs(float(away @ way)) < CLOSE
        case OutlineCut():
            return _by_outline(cut, part, middle, normal)
        case EdgeProfile():
            return _along_edge(cut, part, middle)
    return False


def _on_wall(box: Box, middle: Floats, normal: Floats) -> bool:
    """Whether a plane surface is one of the void's six walls: it looks into the void."""
    low, high = np.array(box.low.mm), np.array(box.high.mm)
    if ((middle < low - CLOSE) | (middle > high + CLOSE)).any():
        return False
    axis = int(np.argmax(np.abs(normal)))
    if abs(normal[axis]) < SQUARE:
        return False
    wall = low[axis] if normal[axis] > 0 else high[axis]
    return bool(abs(middle[axis] - wall) < CLOSE)


def _in_bore(bore: Bore, middle: Floats) -> bool:
    away = middle - np.array(bore.start.mm)
    way = np.array(bore.direction)
    deep = float(away @ way)
    across = float(np.linalg.norm(away - deep * way))
    depth = np.inf if bore.depth is None else bore.depth.mm
    return -CLOSE <= deep <= depth + bore.diameter.mm and across <= bore.diameter.mm / 2 + CLOSE


def _by_outline(cut: OutlineCut, part: Part, middle: Floats, normal: Floats | None) -> bool:
    axis = cut.outline.axis
    if not cut.span.low.mm - CLOSE <= middle[axis.index] <= cut.span.high.mm + CLOSE:
        return False
    if normal is not None and abs(normal[axis.index]) > SQUARE:
        # The floor of a pocket; what is kept by an outline has no floor.
        ends = (cut.span.low.mm, cut.span.high.mm)
        return not cut.keep and min(abs(middle[axis.index] - end) for end in ends) < CLOSE
    return cut.keep or _within(cut, middle)


def _within(cut: OutlineCut, middle: Floats) -> bool:
    """Whether it lies in the rectangle about an opening's outline; arcs may bulge beyond its corners by half its size."""
    spans = zip(cut.outline.axis.others(), cut.outline.bounds, strict=True)
    for axis, span in spans:
        bulge = span.extent.mm / 2 + CLOSE
        if not span.low.mm - bulge <= middle[axis.index] <= span.high.mm + bulge:
            return False
    return True


def _along_edge(profile: EdgeProfile, part: Part, middle: Floats) -> bool:
    if profile.courses or profile.round_what:
        face = profile.edge[0]
        return abs(middle[face.axis.index] - part.body.face(face).mm) <= profile.size.mm + CLOSE
    return all(
        abs(middle[face.axis.index] - part.body.face(face).mm) <= profile.size.mm + CLOSE for face in profile.edge
    )
