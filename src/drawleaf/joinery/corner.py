"""A corner of a box: the ends of two boards drawn through one another. Shared by box joints and dovetails."""

from __future__ import annotations

from dataclasses import dataclass

from drawleaf.joinery.family import Meeting
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.place import Axis, Box, Face, Span
from drawleaf.model.plan import Part


@dataclass(frozen=True, slots=True)
class Corner:
    """``face`` is the insert's end there, ``receiver_end`` the receiver's; fingers and tails follow one another along ``run``."""

    overlap: Box
    face: Face
    receiver_end: Face
    run: Axis

    @property
    def contact(self) -> Box:
        """Where the insert's shoulders lie against the inside of the receiver."""
        inner = self.overlap.face(self.face.opposite)
        return self.overlap.with_span(self.face.axis, Span(inner, inner))


def corner_of(insert: Part, receiver: Part, overlap: Box) -> Corner | None:
    """The corner at which two boards on edge meet; None where they lie flat in one plane."""
    if insert.thickness is receiver.thickness:
        return None
    face = _end(insert, overlap, receiver.thickness)
    other = _end(receiver, overlap, insert.thickness)
    return None if face is None or other is None else Corner(overlap, face, other, corner_run(insert, receiver))


def corner_at(meeting: Meeting) -> Corner:
    """The corner of a meeting that has one."""
    assert meeting.overlap is not None
    corner = corner_of(meeting.insert, meeting.receiver, meeting.overlap)
    assert corner is not None
    return corner


def corner_meets(insert: Part, receiver: Part, overlap: Box) -> tuple[Face, Box] | None:
    """The insert's face and the contact at their corner; None where there is no corner."""
    corner = corner_of(insert, receiver, overlap)
    return None if corner is None else (corner.face, corner.contact)


def corner_run(insert: Part, receiver: Part) -> Axis:
    """The axis that fingers and tails follow one another along."""
    return next(axis for axis in Axis if axis not in (insert.thickness, receiver.thickness))


def _end(part: Part, overlap: Box, axis: Axis) -> Face | None:
    """The end of the part at which it takes in the overlap."""
    for face in (axis.low, axis.high):
        if part.seen.face(face) == overlap.face(face):
            inner = part.seen.face(face.opposite)
            if inner != overlap.face(face.opposite):
                return face
    return None


def corner_problems(meeting: Meeting, noun: str, through: bool) -> tuple[Diagnostic, ...]:
    """What speaks against fingers or tails at this corner."""
    insert, receiver, overlap = meeting.insert, meeting.receiver, meeting.overlap
    assert overlap is not None
    found: list[Diagnostic] = []
    if overlap.extent(insert.thickness) != insert.seen.extent(insert.thickness):
        found.append(_short(meeting, noun, receiver, insert))
    if through and overlap.extent(receiver.thickness) != receiver.seen.extent(receiver.thickness):
        found.append(_short(meeting, noun, insert, receiver))
    return tuple(found)


def _short(meeting: Meeting, noun: str, short: Part, other: Part) -> Diagnostic:
    return Diagnostic(
        "corner-not-flush",
        f"“{short.id}” does not reach the outside of “{other.id}”",
        meeting.position,
        f"At a {noun} both parts run to the outside of the corner.",
        "Let its face refer to the far face of the other part.",
    )
