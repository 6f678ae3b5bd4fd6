"""Where an author should look for a mistake that no room could place: what is wrong with the steps or the sums of a whole plan."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from drawleaf.model.diagnostic import About, Diagnostic, Subject
from drawleaf.model.position import Position

if TYPE_CHECKING:
    from drawleaf.model.derived import Derived
    from drawleaf.model.plan import Plan
    from drawleaf.model.steps import Step


@dataclass(frozen=True, slots=True)
class Headings:
    """The plan's heading, and the line that names its kit; for a kit of the command line the line whose place it takes, or its own file."""

    plan: Position
    kit: Position | None


def placed(
    found: Iterable[Diagnostic], heads: Headings | None, plan: Plan, derived: Derived | None
) -> tuple[Diagnostic, ...]:
    """The same, each with a place: that of the kit, of the part, the joint or the step that it is about, or of the plan's heading."""
    found = tuple(found)
    if heads is None or all(one.position for one in found):
        return found
    known = _places(plan, derived, heads)
    return tuple(
        one
        if one.position
        else replace(one, position=known.get(one.subject, heads.plan) if one.subject else heads.plan)
        for one in found
    )


def _places(plan: Plan, derived: Derived | None, heads: Headings) -> dict[Subject, Position | None]:
    """Where in the source everything stands that a mistake can be about."""
    parts = {part.id: part.position for part in plan.parts}
    known: dict[Subject, Position | None] = {Subject(About.KIT): heads.kit}
    known |= {Subject(About.PART, name): position for name, position in parts.items()}
    known |= {Subject(About.JOINT, joint.id): joint.position for joint in plan.joints}
    for step in derived.steps if derived else ():
        known[Subject(About.STEP, step.id)] = _of_step(step, parts) or heads.plan
    return known


def _of_step(step: Step, parts: dict[str, Position]) -> Position | None:
    """The joint, machining or fitting that a step works on; else its first part."""
    for operation in step.operations:
        for made in (*operation.joints, *(feature for _, feature in operation.features), *operation.fittings):
            return made.position
    return next((parts[part] for part in step.parts if part in parts), None)
