"""An order that cannot be built, told so that the author can mend it."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.derive.order import Free, Unit
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.plan import Joint, Plan
from drawleaf.model.position import Position

MOST_NAMED = 4


def stuck_diagnostic(plan: Plan, units: Sequence[Unit], free: Free) -> Diagnostic:
    """The parts that hold each other, who blocks whom, and the joint that would have to change."""
    found = [(unit, _holders(unit, units, free)) for unit in units]
    unit, holders = min(found, key=lambda pair: len(pair[1]))
    joint = _joint_between(plan, unit, holders)
    first = plan.part(unit.parts[0])
    names = ", ".join(_name(plan, holder) for holder in holders[:MOST_NAMED])
    position = joint.position if joint else first.position
    related: list[tuple[Position, str]] = [
        (plan.part(holder.parts[0]).position, f"{_name(plan, holder)} blocks it") for holder in holders[:MOST_NAMED]
    ]
    where = f" ({joint.family} of {joint.insert} in {joint.receiver})" if joint else ""
    return Diagnostic(
        code="cannot-assemble",
        message=f"{_name(plan, unit)} cannot be brought to its place: it is held on all sides by {names}",
        position=position,
        cause="No part of what stands can come last along a straight line, with its screws driven.",
        mend=f"Let one joint run out or make it a butt joint{where}, or build some of these parts as an assembly of their own.",
        related=tuple(related),
    )


def _name(plan: Plan, unit: Unit) -> str:
    return unit.id if len(unit.parts) > 1 else plan.part(unit.parts[0]).id


def _holders(unit: Unit, units: Sequence[Unit], free: Free) -> list[Unit]:
    """A few units without which this one could leave: found by letting go of one after the other."""
    holders = [other for other in units if other is not unit]
    for other in list(holders):
        fewer = [one for one in holders if one is not other]
        if not free(unit.parts, tuple(part for one in fewer for part in one.parts)):
            holders = fewer
    return holders


def _joint_between(plan: Plan, unit: Unit, holders: Sequence[Unit]) -> Joint | None:
    """A joint that holds the unit, one that lets it in before one that does not."""
    others = {part for holder in holders for part in holder.parts}
    own = set(unit.parts)
    found = [
        joint
        for joint in plan.joints
        if (joint.insert in own and joint.receiver in others) or (joint.receiver in own and joint.insert in others)
    ]
    return min(found, key=lambda joint: not joint.depth, default=None)
