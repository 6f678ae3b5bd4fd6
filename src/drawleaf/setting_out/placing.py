"""Where a part sits on another, as one would measure it at the bench: flush here, so far from that edge there."""

from __future__ import annotations

from dataclasses import dataclass

from drawleaf.model.place import Axis, Box, Face
from drawleaf.model.plan import Joint, Part, Plan
from drawleaf.model.shapes import PlaneCut, Vector
from drawleaf.units import Length

FLUSH = Length.of_mm(0)
_LEVEL_MM, _ALONG = 0.05, 1e-6
"""How far two planes may be apart, in mm, and how far their normals, for two faces to be level: those of splayed parts are found in floats."""


@dataclass(frozen=True, slots=True)
class Offset:
    """The insert's face of that name lies so far inside (negative: outside) the receiver's face of the same name."""

    face: Face
    room: Length

    @property
    def flush(self) -> bool:
        return not self.room


def placing(plan: Plan, joint: Joint) -> tuple[Offset, ...]:
    """One offset for each axis along the joint's contact: the flush face where there is one, else the nearer face."""
    insert, receiver = plan.part(joint.insert), plan.part(joint.receiver)
    return tuple(_offset(insert, receiver, axis) for axis in joint.face.axis.others())


def _offset(insert: Part, receiver: Part, axis: Axis) -> Offset:
    if insert.tilt != receiver.tilt:
        # The boxes of parts that lean unlike each other are written in two frames: what is sawn level is told from the planes.
        for face in (axis.high, axis.low):
            if are_level(insert, receiver, face):
                return Offset(face, FLUSH)
    low = Offset(axis.low, insert.body.span(axis).low - receiver.body.span(axis).low)
    high = Offset(axis.high, receiver.body.span(axis).high - insert.body.span(axis).high)
    if axis is Axis.Y and low.flush:
        return low
    return min((low, high), key=lambda offset: abs(offset.room))


def are_level(one: Part, other: Part, face: Face) -> bool:
    """Whether the faces of that name of two parts lie in one plane as the piece stands, however each part leans."""
    (normal, off), (again, from_there) = standing_plane(one, face), standing_plane(other, face)
    alike = all(abs(a - b) < _ALONG for a, b in zip(normal, again, strict=True))
    return alike and abs(off - from_there) < _LEVEL_MM


def standing_plane(part: Part, face: Face) -> tuple[Vector, float]:
    """The unit normal of a part's face on the standing piece, out of the wood, and how far along it the plane lies, in mm."""
    sawn = next((cut for cut in part.features if isinstance(cut, PlaneCut) and cut.face is face), None)
    normal = sawn.normal if sawn is not None else face.normal
    point = sawn.point.mm if sawn is not None else _middle(part.body, face)
    if part.tilt is not None:
        normal, point = part.tilt.out_direction(normal), part.tilt.out(point)
    return normal, sum(n * p for n, p in zip(normal, point, strict=True))


def _middle(box: Box, face: Face) -> Vector:
    x, y, z = box.center.mm
    at = box.face(face).mm
    return (at if face.axis is Axis.X else x, at if face.axis is Axis.Y else y, at if face.axis is Axis.Z else z)
