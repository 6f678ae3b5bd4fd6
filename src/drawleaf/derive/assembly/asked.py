"""The order of work that the author asks for, as the search for an order takes it; and whether the steps keep it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from drawleaf.derive.assembly.groups import units_of
from drawleaf.derive.assembly.order import Free, Unit, Waits
from drawleaf.derive.assembly.stuck import MOST_NAMED, holders_of
from drawleaf.english import listed
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.plan import Plan
from drawleaf.model.steps import JOINING, Step
from drawleaf.model.work_order import JoinedFirst, Ordered


def waits_of(plan: Plan) -> Waits | None:
    """Whether one unit has to stand before another comes; None where nothing is asked for."""
    orders = plan.order.orders
    if not orders:
        return None

    def waits(one: Unit, other: Unit) -> bool:
        early, late = set(one.parts), set(other.parts)
        return one is not other and any(order.early & early and order.late & late for order in orders)

    return waits


def is_asked(plan: Plan, parts: Sequence[str]) -> bool:
    """Whether the author says something of the order in which these parts come together."""
    own = set(parts)
    return any(one.early & own and one.late & own for one in plan.order.orders) or any(
        one.parts <= own for one in plan.order.firsts
    )


def joined_first(plan: Plan, units: Sequence[Unit]) -> tuple[Unit, ...]:
    """The units, those that are joined first among them as one unit that is built by itself."""
    found = list(units)
    for first in plan.order.firsts:
        own = [unit for unit in found if set(unit.parts) <= first.parts]
        if not 1 < len(own) < len(found) or {part for unit in own for part in unit.parts} != first.parts:
            continue
        parts = tuple(part for unit in own for part in unit.parts)
        bare = units_of(plan, [(unit.id, unit.parts, unit.rank) for unit in own])
        members = tuple(replace(unit, towards=one.towards) for unit, one in zip(own, bare, strict=True))
        whole = Unit("+".join(unit.id for unit in own), parts, min(unit.rank for unit in own), members=members)
        found = [whole if unit is own[0] else unit for unit in found if unit is own[0] or unit not in own]
    if len(found) == len(units):
        return tuple(units)
    towards = units_of(plan, [(unit.id, unit.parts, unit.rank) for unit in found])
    return tuple(replace(unit, towards=one.towards) for unit, one in zip(found, towards, strict=True))


def without_order(plan: Plan, left_out: Ordered | JoinedFirst) -> Plan:
    """The plan as if that line said nothing of the order."""
    orders = tuple(one for one in plan.order.orders if one.position != left_out.position)
    firsts = tuple(one for one in plan.order.firsts if one.position != left_out.position)
    return replace(plan, order=replace(plan.order, orders=orders, firsts=firsts))


def unkept(order: Ordered | JoinedFirst, units: Sequence[Unit], free: Free) -> Diagnostic:
    """An order that the parts do not allow, with what would be in the way."""
    late = order.late if isinstance(order, Ordered) else frozenset[str]()
    held = ((unit, holders_of(unit, units, free)) for unit in units if late.intersection(unit.parts))
    unit, holders = next(((unit, by) for unit, by in held if by), (None, []))
    cause = "With that order a part could not be brought to its place, or its screws not be driven."
    if unit is not None:
        named = listed([f"“{holder.id}”" for holder in holders], most=MOST_NAMED)
        cause = f"“{unit.id}” would come last, and is then held on all sides by {named}."
    if isinstance(order, JoinedFirst):
        message = f"{order.told} cannot be joined first: what it is joined to could then not be brought to its place"
    else:
        early, late = order.told
        message = f"{early} cannot be joined before {late}: once it stands, the rest cannot be brought to its place"
    return Diagnostic(
        "order-impossible",
        message,
        order.position,
        cause,
        "Take this “after” or “before” out, or let the joint that is in the way run out.",
    )


def kept_in(plan: Plan, steps: Iterable[Step]) -> Iterator[Diagnostic]:
    """Orders that the steps do not keep, whatever the reason."""
    came = _arrivals(steps)
    for order in plan.order.orders:
        wrong = [
            (early, late)
            for early in sorted(order.early - order.late)
            for late in sorted(order.late)
            if early in came and late in came and came[early] > came[late]
        ]
        if wrong:
            early, late = wrong[0]
            yield Diagnostic(
                "order-impossible",
                f"“{early}” cannot be joined before “{late}”",
                order.position,
                "They belong to pieces that are put together one after the other, and the piece with the second comes first.",
                "Take this “after” or “before” out, or make both parts of one assembly.",
            )


def _arrivals(steps: Iterable[Step]) -> dict[str, tuple[int, int]]:
    """When each part comes to others: the step, and its place among what is new there; what it comes to is there before."""
    came: dict[str, tuple[int, int]] = {}
    for step in steps:
        if step.scene is None or not any(operation.kind in JOINING for operation in step.operations):
            continue
        for part in step.scene.standing:
            came.setdefault(part, (step.number, -1))
        for place, part in enumerate(step.scene.new):
            came.setdefault(part, (step.number, place))
    return came
