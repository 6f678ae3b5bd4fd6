"""Openings and notches of parts, known before the joints are read: what lines an opening is joined to its walls."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from drawleaf.model.joint_family import CutKind
from drawleaf.model.place import Box, Face, Span
from drawleaf.model.plan import BoxCut, Feature, Part
from drawleaf.model.shapes import Outline, OutlineCut


@dataclass(frozen=True, slots=True)
class Opening:
    """What is cut out of a part, and its walls: the faces of the void behind which there is wood."""

    void: Box
    walls: tuple[Face, ...]


def openings_of(part: Part, features: Iterable[Feature]) -> tuple[Opening, ...]:
    """The rectangular openings and the notches that machining cuts into a loose part."""
    return tuple(
        Opening(void, _walls(void, part.seen)) for feature in features if (void := _void(part, feature)) is not None
    )


def touching_inside(insert: Part, receiver: Part, openings: Mapping[str, Sequence[Opening]]) -> tuple[Face, Box] | None:
    """The insert's face that lies against a wall of an opening of the receiver, and where they touch; None where they do not.

    A strip that lies on one wall and reaches to two others meets the one along which it touches most.
    """
    found: list[tuple[Face, Box]] = []
    for opening in openings.get(receiver.id, ()):
        for face in opening.walls:
            surface = insert.seen.face(face)
            if surface != opening.void.face(face):
                continue
            a, b = face.axis.others()
            spans = [
                _shared(insert.seen.span(axis), opening.void.span(axis), receiver.seen.span(axis)) for axis in (a, b)
            ]
            if spans[0] is not None and spans[1] is not None:
                box = insert.seen.with_span(face.axis, Span(surface, surface))
                found.append((face, box.with_span(a, spans[0]).with_span(b, spans[1])))
    return max(found, key=lambda met: _area(*met), default=None)


def _area(face: Face, contact: Box) -> float:
    a, b = face.axis.others()
    return contact.extent(a).mm * contact.extent(b).mm


def _void(part: Part, feature: Feature) -> Box | None:
    if isinstance(feature, BoxCut):
        return feature.box if feature.kind == CutKind.NOTCH else None
    if not isinstance(feature, OutlineCut) or feature.keep or feature.after_assembly:
        return None
    if not _is_rectangle(feature.outline):
        return None
    (a, b), (u, v) = feature.outline.axis.others(), feature.outline.bounds
    return part.seen.with_span(feature.outline.axis, feature.span).with_span(a, u).with_span(b, v)


def _is_rectangle(outline: Outline) -> bool:
    """Whether its straight stretches are the four sides of its bounds, perhaps with rounded corners between them."""
    u, v = outline.bounds
    sides = 0
    for one, other in zip(outline.corners, (*outline.corners[1:], outline.corners[0]), strict=True):
        if one.turn:
            continue
        on_side = (one.u == other.u and one.u in (u.low, u.high)) or (one.v == other.v and one.v in (v.low, v.high))
        if not on_side:
            return False
        sides += 1
    return sides == 4 and len(outline.corners) in (4, 8)


def _walls(void: Box, seen: Box) -> tuple[Face, ...]:
    """Where the void ends inside the part."""
    return tuple(face for face in Face if (seen.face(face) - void.face(face)).exact_mm * face.side > 0)


def _shared(first: Span, *others: Span) -> Span | None:
    shared: Span | None = first
    for other in others:
        shared = shared.overlap(other) if shared is not None else None
    return shared
