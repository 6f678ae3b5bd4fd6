"""An order that cannot be built, with the words by which the author can mend it."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.derive.assembly.order import Free, Unit
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.plan import Joint, Plan
from drawleaf.model.position import Position

MOST_NAMED = 4


def stuck_diagnostic(plan: Plan, units: Sequence[Unit], free: Free) -> Diagnostic:
    """The parts that hold each other, who blocks whom, and the joint that would have to change."""
    held = {unit.id: holders_of(unit, units, free) for unit in units}
    unit = min(units, key=lambda one: len(held[one.id]))
    holders = held[unit.id]
    if not holders:
        return _out_of_reach(plan, unit, units)
    joint = _joint_between(plan, unit, holders)
    first = plan.part(unit.parts[0])
    names = ", ".join(_name(plan, holder) for holder in holders[:MOST_NAMED])
    position = joint.position if joint else first.position
    related: list[tuple[Position, str]] = [
        (plan.part(holder.parts[0]).position, f"{_name(plan, holder)} blocks it") for holder in holders[:MOST_NAMED]
    ]
    where = f" ({joint.family.key} of {joint.insert} in {joint.receiver})" if joint else ""
    return Diagnostic(
        code="cannot-assemble",
        message=f"{_name(plan, unit)} cannot be brought to its place: it is held on all sides by {names}",
        position=position,
        cause="No part of what stands can come last along a straight line, with its screws driven.",
        mend=f"Let one joint run out or make it a butt joint{where}, or build some of these parts as an assembly of their own.",
        related=tuple(related),
    )


def _out_of_reach(plan: Plan, unit: Unit, units: Sequence[Unit]) -> Diagnostic:
    """Parts that can come to their place, but whose fasteners cannot be driven there."""
    joint = _joint_between(plan, unit, [other for other in units if other is not unit])
    return Diagnostic(
        code="cannot-drive",
        message=f"{_name(plan, unit)} can be brought to its place, but not fastened there",
        position=joint.position if joint else plan.part(unit.parts[0]).position,
        cause="Whatever comes last, a driver cannot be set on the heads of its screws or brads: another part stands in front of them.",
        mend="Drive them from the other side (`through`, or `on` for pocket screws), or leave it to the glue.",
    )


def _name(plan: Plan, unit: Unit) -> str:
    return unit.id if len(unit.parts) != 1 else plan.part(next(iter(unit.parts))).id


def holders_of(unit: Unit, units: Sequence[Unit], free: Free) -> list[Unit]:
    """As few units as hold this one: found by letting go of one after the other. None where nothing holds it."""
    holders = [other for other in units if other is not unit]
    if free(unit.parts, _all_parts(holders)):
        return []
    for other in list(holders):
        fewer = [one for one in holders if one is not other]
        if not free(unit.parts, _all_parts(fewer)):
            holders = fewer
    return holders


def _all_parts(units: Sequence[Unit]) -> tuple[str, ...]:
    return tuple(part for unit in units for part in unit.parts)


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
