"""Where an author should look for a mistake that no room could place: what is wrong with the steps or the sums of a whole plan."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.position import Position

if TYPE_CHECKING:
    from drawleaf.model.derived import Derived
    from drawleaf.model.plan import Plan
    from drawleaf.model.steps import Step

_OF_THE_KIT = frozenset({"unknown-tool-set", "tools-lacking", "clamps-lacking"})


@dataclass(frozen=True, slots=True)
class Headings:
    """The plan's heading, and the line that names its kit; for a kit of the command line the line whose place it takes, or its own file."""

    plan: Position
    kit: Position | None


def placed(
    found: Iterable[Diagnostic], heads: Headings | None, plan: Plan, derived: Derived | None
) -> tuple[Diagnostic, ...]:
    """The same, each with a place: that of the kit, of the step or the part that its words name, or of the plan's heading."""
    found = tuple(found)
    if heads is None or all(one.position for one in found):
        return found
    named = _named(plan, derived)
    return tuple(one if one.position else replace(one, position=_place_of(one, heads, named)) for one in found)


def _place_of(one: Diagnostic, heads: Headings, named: dict[str, Position]) -> Position | None:
    if one.code in _OF_THE_KIT:
        return heads.kit
    words = f"{one.message} {one.cause}"
    told = [name for name in named if re.search(rf"(?<![\w.-]){re.escape(name)}(?![\w-])", words)]
    return named[max(told, key=len)] if told else heads.plan


def _named(plan: Plan, derived: Derived | None) -> dict[str, Position]:
    """Names that may stand in a message, with the line that made what they name."""
    parts = {part.id: part.position for part in plan.parts}
    named = (
        {part.name: part.position for part in plan.parts} | {part.kind: part.position for part in plan.parts} | parts
    )
    named |= {joint.id: joint.position for joint in plan.joints}
    for step in derived.steps if derived else ():
        position = _of_step(step, parts)
        if position:
            named[step.id] = position
    return named


def _of_step(step: Step, parts: dict[str, Position]) -> Position | None:
    """The joint, machining or fitting that a step works on; else its first part."""
    for operation in step.operations:
        for made in (*operation.joints, *(feature for _, feature in operation.features), *operation.fittings):
            return made.position
    return next((parts[part] for part in step.parts if part in parts), None)
