"""Which parts touch, and by how much two parts miss each other."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from drawleaf.joinery.family import Crossing, Family, Meeting, Terms
from drawleaf.joinery.leaning import leaning_meeting
from drawleaf.model.place import Axis, Box, Face, Span
from drawleaf.model.plan import Part
from drawleaf.model.position import Position
from drawleaf.resolve.joints.openings import Opening, touching_inside
from drawleaf.units import ZERO, Length


def touching(insert: Part, receiver: Part) -> tuple[Face, Box] | None:
    """The insert's face that lies against the receiver, and where they touch; None where they do not."""
    for face in Face:
        surface = insert.seen.face(face)
        if surface != receiver.seen.face(face.opposite):
            continue
        a, b = face.axis.others()
        first, second = (insert.seen.span(axis).overlap(receiver.seen.span(axis)) for axis in (a, b))
        if first and second:
            box = insert.seen.with_span(face.axis, Span(surface, surface))
            return face, box.with_span(a, first).with_span(b, second)
    return None


def meeting_of(
    family: Family,
    terms: Terms,
    insert: Part,
    receiver: Part,
    position: Position,
    openings: Mapping[str, Sequence[Opening]],
) -> Meeting | None:
    """How these two meet in the way of that family; None where they do not. What lines an opening meets its walls."""
    if insert.id == receiver.id:
        return None
    if insert.tilt is not None or receiver.tilt is not None:
        slanting = leaning_meeting(insert, receiver, position, square_end=family.facts.square_end)
        return (
            None
            if slanting is None
            else Meeting(insert, receiver, slanting[0], slanting[1], position, leaning=slanting[2])
        )
    if not isinstance(family, Crossing):
        contact = touching(insert, receiver) or touching_inside(insert, receiver, openings)
        return None if contact is None else Meeting(insert, receiver, contact[0], contact[1], position)
    overlap = insert.seen.overlap(receiver.seen)
    met = None if overlap is None else family.meets(insert, receiver, overlap, terms)
    return None if met is None else Meeting(insert, receiver, met[0], met[1], position, overlap)


@dataclass(frozen=True, slots=True)
class Miss:
    """How two parts fail to touch. ``gap`` from the insert's ``face`` to the receiver; negative where they overlap; None where they
    do not even lie opposite each other."""

    insert: Part
    receiver: Part
    face: Face | None
    gap: Length | None

    @property
    def size(self) -> tuple[int, Length]:
        """For finding the nearest miss: those that lie opposite each other first."""
        return (1, ZERO) if self.gap is None else (0, abs(self.gap))


def miss(insert: Part, receiver: Part) -> Miss:
    """The smallest move of the insert, along one axis, that would bring them to touch."""
    best = Miss(insert, receiver, None, None)
    for axis in Axis:
        a, b = axis.others()
        if not all(insert.seen.span(other).overlap(receiver.seen.span(other)) for other in (a, b)):
            continue
        for face in (axis.low, axis.high):
            gap = (receiver.seen.face(face.opposite) - insert.seen.face(face)) * face.side
            if best.gap is None or abs(gap) < abs(best.gap):
                best = Miss(insert, receiver, face, gap)
    return best
