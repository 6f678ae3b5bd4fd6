"""Where a part sits on another, as one would measure it at the bench: flush here, so far from that edge there."""

from __future__ import annotations

from dataclasses import dataclass

from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Joint, Part, Plan
from drawleaf.units import Length

FLUSH = Length.of_mm(0)


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
    low = Offset(axis.low, insert.body.span(axis).low - receiver.body.span(axis).low)
    high = Offset(axis.high, receiver.body.span(axis).high - insert.body.span(axis).high)
    if axis is Axis.Y and low.flush:
        return low
    return min((low, high), key=lambda offset: abs(offset.room))
