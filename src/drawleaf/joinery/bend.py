"""The corner at which a mitre lies: which end of the one part meets which of the other, and how the mitre runs."""

from __future__ import annotations

from dataclasses import dataclass

from drawleaf.model.place import Axis, Box, Face
from drawleaf.model.plan import Part
from drawleaf.model.shapes import show_face
from drawleaf.units import Length


@dataclass(frozen=True, slots=True)
class Bend:
    """A corner: the insert's ``end`` and the receiver's ``other`` end there; the mitre runs along ``run``, through the full corner."""

    end: Face
    other: Face
    run: Axis
    overlap: Box

    @property
    def inner(self) -> tuple[Length, Length]:
        """The inside of the corner, along the axes of ``end`` and ``other``."""
        return self.overlap.face(self.end.opposite), self.overlap.face(self.other.opposite)

    @property
    def sides(self) -> tuple[Length, Length]:
        """How far the corner reaches along the insert and along the receiver."""
        return self.overlap.extent(self.end.axis), self.overlap.extent(self.other.axis)


def bend_of(insert: Part, receiver: Part, overlap: Box) -> Bend | None:
    """The corner that two parts form, both running to its outside; None where they form none."""
    lies_flat = insert.thickness is receiver.thickness
    run = (
        insert.thickness
        if lies_flat
        else next(axis for axis in Axis if axis not in (insert.thickness, receiver.thickness))
    )
    for axis in run.others():
        other = next(one for one in run.others() if one is not axis)
        # Along the one axis the insert ends there and the receiver lies across it, along the other it is the other way round.
        end, second = _end(insert, receiver, axis, overlap), _end(receiver, insert, other, overlap)
        if end is not None and second is not None:
            return Bend(end, second, run, overlap)
    return None


def _end(part: Part, across: Part, axis: Axis, overlap: Box) -> Face | None:
    """The end at which a part runs to the outside of another that lies across it, and no farther."""
    span = overlap.span(axis)
    if across.seen.span(axis) != span:
        return None
    if part.seen.span(axis) == span:
        # A returned end is no longer than the moulding is thick: its mitre opens to the side to which that shows its profile.
        return show_face(across.section, axis) if across.section is not None and across.thickness is axis else None
    return next((face for face in (axis.low, axis.high) if part.seen.face(face) == overlap.face(face)), None)
