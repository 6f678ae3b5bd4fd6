"""From which sides of a part the places of holes and fittings are measured. The steps' words and the part drawings both ask here."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.model.place import Axis, Face, Point
from drawleaf.model.plan import Bore, Fitting, Part
from drawleaf.units import ZERO, Length

Origins = dict[Axis, Face]
"""For each axis of a face, the side of the part that places along it are measured from."""


def nearest(part: Part, axis: Axis, at: Length) -> Face:
    """The side that is nearer along the axis; the low one where both are as near."""
    span = part.body.span(axis)
    return axis.low if at - span.low <= span.high - at else axis.high


def distance(part: Part, origin: Face, at: Length) -> Length:
    """How far a coordinate is from that side of the part."""
    return abs(at - part.body.face(origin))


def pin_origins(part: Part) -> Origins:
    """Rows of shelf pins are measured from the front and from the bottom, so that they are level on every part of a bay."""
    return {axis: axis.low for axis in part.thickness.others()}


def hole_origins(part: Part, bores: Sequence[Bore]) -> Origins:
    """A line of holes: from the nearer edge, and from the low end where there are several."""
    return _origins(part, bores[0].face, [bore.start for bore in bores])


def fitting_origins(part: Part, fittings: Sequence[Fitting]) -> Origins:
    """Fittings on a face: from the low end along the way they are spread (or along the part), from the nearer edge across it."""
    points = [fitting.at for fitting in fittings]
    a, b = fittings[0].face.axis.others()
    run, across = (a, b) if _spread(points, a) >= _spread(points, b) else (b, a)
    if len(points) == 1 and part.body.extent(b) > part.body.extent(a):
        run, across = b, a
    return {run: run.low, across: nearest(part, across, points[0].along(across))}


def run_and_across(part: Part, face: Face) -> tuple[Axis, Axis]:
    """The axis of a face along which holes are set out, and the one across it."""
    a, b = face.axis.others()
    return (a, b) if part.body.extent(a) >= part.body.extent(b) else (b, a)


def _origins(part: Part, face: Face, points: Sequence[Point]) -> Origins:
    along, across = run_and_across(part, face)
    end = along.low if len(points) > 1 else nearest(part, along, points[0].along(along))
    return {along: end, across: nearest(part, across, min(point.along(across) for point in points))}


def _spread(points: Sequence[Point], axis: Axis) -> Length:
    values = [point.along(axis) for point in points]
    return max(values) - min(values) if values else ZERO
