"""Another way of a joint, a machining or hardware, held against the first: what is done instead, cut at another size, bought, needed."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import replace

from drawleaf.derive.steps import step_tools
from drawleaf.model.derived import Derived, OtherWay
from drawleaf.model.lists import CutList
from drawleaf.model.position import Position
from drawleaf.model.steps import HardwareUse, Operation, Step


def compared(
    an_id: str, name: str, first: Derived, other: Derived, here: Collection[Position], there: Collection[Position]
) -> OtherWay:
    """``here`` are the places of the line in the source, ``there`` those of its other way: they tell which work is of which."""
    ours, theirs = _joints_at(first, here), _joints_at(other, there)
    instead = tuple(_only(step, there, theirs) for step in other.steps if _works_on(step, there, theirs))
    tools = {tool.id for step in first.steps for tool in step.tools}
    needed = {tool.id: tool for step in instead for tool in step_tools(other.plan, step.operations)}
    before, after = _bought(first), _bought(other)
    cut = {part.id: (part.size, part.rough) for part in first.plan.parts}
    return OtherWay(
        id=an_id,
        name=name,
        in_place_of=tuple(step.number for step in first.steps if _works_on(step, here, ours)),
        steps=instead,
        derived=replace(other, cut_list=_numbered_alike(first, other)),
        sized=tuple(part.id for part in other.plan.parts if cut.get(part.id) != (part.size, part.rough)),
        more=tuple(_less(after, before)),
        fewer=tuple(_less(before, after)),
        tools=tuple(tool for an_id, tool in needed.items() if an_id not in tools),
    )


def _joints_at(derived: Derived, places: Collection[Position]) -> frozenset[str]:
    return frozenset(joint.id for joint in derived.plan.joints if joint.position in places)


def _works_on(step: Step, places: Collection[Position], joints: Collection[str]) -> bool:
    return any(_is_of(operation, places, joints) for operation in step.operations)


def _is_of(operation: Operation, places: Collection[Position], joints: Collection[str]) -> bool:
    """Whether it makes a cut, a joint or a hole of these, or drives what holds one."""
    made = (*operation.joints, *(feature for _, feature in operation.features), *operation.fittings)
    return any(one.position in places for one in made) or any(one.joint in joints for one in operation.fasteners)


def _only(step: Step, places: Collection[Position], joints: Collection[str]) -> Step:
    """The step with the work of one line of the source alone."""
    return replace(
        step,
        operations=tuple(one for one in step.operations if _is_of(one, places, joints)),
        copies=(),
        helps=tuple(one for one in step.helps if one.position in places),
    )


def _bought(derived: Derived) -> dict[str, HardwareUse]:
    return {row.item.id: HardwareUse(row.item, row.count) for row in derived.hardware}


def _less(these: dict[str, HardwareUse], those: dict[str, HardwareUse]) -> Iterable[HardwareUse]:
    """What there is more of among these."""
    for an_id, use in these.items():
        more = use.count - (those[an_id].count if an_id in those else 0)
        if more > 0:
            yield HardwareUse(use.item, more)


def _numbered_alike(first: Derived, other: Derived) -> CutList:
    """The cut list of the other way with the item numbers of the first, so that a balloon means the same part in both."""
    numbers = {part.id: item.number for item in first.cut_list.items for part in item.parts}
    items = [replace(item, number=numbers.get(item.parts[0].id, item.number)) for item in other.cut_list.items]
    return replace(other.cut_list, items=tuple(sorted(items, key=lambda item: item.number)))
