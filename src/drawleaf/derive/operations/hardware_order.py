"""Hardware that the author wants on only when something else is there: what it waits for, and whether the steps keep to it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.plan import Fitting, Plan
from drawleaf.model.steps import Step
from drawleaf.model.work_order import FittedAfter


def waits_for(plan: Plan, fitting: Fitting) -> frozenset[str]:
    """The parts that have to be there before a piece of hardware goes on; none where the author says nothing."""
    return frozenset(part for one in plan.order.fitted_after if one.line == fitting.line for part in one.parts)


def hardware_unkept(plan: Plan, steps: Sequence[Step]) -> Iterator[Diagnostic]:
    """Lines whose hardware goes on too early, or whose own drawer or door would come before it."""
    for asked in plan.order.fitted_after:
        on = _first(steps, (step for step in steps if _fits(step, asked.line)))
        there = [step.number for step in steps if step.scene is not None and asked.parts & set(step.scene.new)]
        moving = {one.moving for one in plan.fittings if one.line == asked.line and one.moving}
        hung = [step for step in steps if any(moving & {one.moving for one in op.fittings} for op in step.operations)]
        late = any(step.number < on for step in hung)
        if late or (there and max(there) > on):
            yield _impossible(asked)


def _first(steps: Sequence[Step], found: Iterable[Step]) -> int:
    return min((step.number for step in found), default=len(steps) + 1)


def _fits(step: Step, line: str) -> bool:
    return any(fitting.line == line for operation in step.operations for fitting in operation.fittings)


def _impossible(asked: FittedAfter) -> Diagnostic:
    return Diagnostic(
        "order-impossible",
        f"This hardware cannot go on after {asked.told}: it has to be there before",
        asked.position,
        "What it carries or holds comes to the piece before that.",
        "Take this “after” out.",
    )
