"""Copies of machining: shifted for a repeated part, mirrored for a twin."""

from __future__ import annotations

from dataclasses import replace

from drawleaf.model.place import Axis, Box, Face, Point
from drawleaf.model.plan import Bore, BoxCut, EdgeProfile, Feature, Part
from drawleaf.model.shapes import Outline, OutlineCut, PlaneCut
from drawleaf.units import ZERO, Length


def transferred(feature: Feature, original: Part, copy: Part, mirror: Axis | None) -> Feature:
    """The feature of ``original`` as it sits on ``copy``, which is shifted, or mirrored along ``mirror``, or both."""
    if copy.id == original.id:
        return feature
    flip = mirror if mirror is not None and copy.mirrored != original.mirrored else None
    match feature:
        case BoxCut():
            into = _face(feature.into, flip)
            opened = tuple(face for face in Face if face in {_face(one, flip) for one in feature.open})
            return replace(feature, box=_box(feature.box, original, copy, flip), into=into, open=opened)
        case Bore():
            direction = tuple(
                -step if flip is axis and step else step for axis, step in zip(Axis, feature.direction, strict=True)
            )
            start = _point(feature.start, original, copy, flip)
            row = feature.row.replace(original.id, copy.id, 1) if feature.row else None
            return replace(feature, face=_face(feature.face, flip), start=start, direction=direction, row=row)
        case EdgeProfile():
            a, b = feature.edge
            return replace(feature, edge=(_face(a, flip), _face(b, flip)))
        case OutlineCut():
            axis = feature.outline.axis
            ends = [_along(end, axis, original, copy, flip) for end in (feature.span.low, feature.span.high)]
            return replace(
                feature,
                into=_face(feature.into, flip),
                outline=transferred_outline(feature.outline, original, copy, flip),
                span=replace(feature.span, low=min(ends), high=max(ends)),
                open=tuple(_face(one, flip) for one in feature.open),
            )
        case PlaneCut():
            normal = tuple(-step if flip is axis else step for axis, step in zip(Axis, feature.normal, strict=True))
            return replace(
                feature,
                face=_face(feature.face, flip),
                point=_point(feature.point, original, copy, flip),
                normal=normal,
            )


def _face(face: Face, flip: Axis | None) -> Face:
    return face.opposite if face.axis is flip else face


def _along(value: Length, axis: Axis, original: Part, copy: Part, flip: Axis | None) -> Length:
    """A coordinate on the original, at the like place of the copy."""
    if axis is flip:
        return copy.seen.span(axis).high - (value - original.seen.span(axis).low)
    return value + copy.seen.span(axis).low - original.seen.span(axis).low


def transferred_outline(outline: Outline, original: Part, copy: Part, flip: Axis | None) -> Outline:
    """An outline on the original, at the like place of the copy; ``flip`` is the axis that the copy is mirrored along."""
    moved = outline.mirrored(flip, ZERO) if flip is not None else outline
    # Where the first of its corners comes to lie shows how far all of them are shifted.
    was = outline.corners[0] if moved is outline else outline.corners[-1]
    now = moved.corners[0]
    by = dict.fromkeys(Axis, ZERO)
    for axis, before, after in zip(outline.axis.others(), (was.u, was.v), (now.u, now.v), strict=True):
        by[axis] = _along(before, axis, original, copy, flip) - after
    return moved.moved(Point(by[Axis.X], by[Axis.Y], by[Axis.Z]))


def like_place(at: Point, original: Part, copy: Part, flip: Axis | None) -> Point:
    """A place on the original, at the like place of the copy; ``flip`` is the axis that the copy is mirrored along."""
    return at if copy.id == original.id else _point(at, original, copy, flip)


def _point(point: Point, original: Part, copy: Part, flip: Axis | None) -> Point:
    return Point(*(_along(point.along(axis), axis, original, copy, flip) for axis in Axis))


def _box(box: Box, original: Part, copy: Part, flip: Axis | None) -> Box:
    for axis in Axis:
        span = box.span(axis)
        ends = [_along(value, axis, original, copy, flip) for value in (span.low, span.high)]
        box = box.with_span(axis, replace(span, low=min(ends), high=max(ends)))
    return box
