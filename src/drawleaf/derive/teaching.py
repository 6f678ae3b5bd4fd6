"""A plan built by two, one of whom learns: which work is new in a step, and where both must stand at the bench.

Each kind of work names its lesson in ``shared/methods``, or else the tool that does it in ``shared/tools``. How long, how heavy and how many
is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from drawleaf.derive.shop.weights import about_kg
from drawleaf.model.plan import Plan
from drawleaf.model.steps import Operation, Step
from drawleaf.model.teaching import Hold, Lesson, Taught, Turn

LONG_MM = 1200.0
"""A part longer than this is steered by one and carried by another."""
HEAVY_KG = 12.0
"""What is brought into place by two where it weighs more."""
MANY_CLAMPS = 3
"""So many clamps close at once on parts that somebody must keep from shifting."""
_BREAK_DOWN = "break-down"
_MOST = 2
"""New lessons that one step gives at most: nobody learns more at a time. Where something is new, what is known goes without saying."""


def taught(plan: Plan, steps: Sequence[Step]) -> Mapping[int, Taught]:
    """What each step teaches, by its number. Steps in which nothing is taught are left out."""
    shown: dict[str, list[tuple[int, Operation]]] = {}
    found: dict[int, Taught] = {}
    for step in steps:
        kinds = {one.lesson: one for one in reversed(step.operations) if one.lesson}
        lessons = [_lesson(one, shown.setdefault(name, []), step) for name, one in reversed(kinds.items())]
        new = [one for one in lessons if one.turn is Turn.SHOWN]
        lessons = new[:_MOST] or sorted(lessons, key=lambda one: one.turn.value)[:1]
        for name, one in kinds.items():
            shown[name].append((step.number, one))
        hold, held = _hold(plan, step)
        if lessons or hold is not None:
            found[step.number] = Taught(tuple(lessons), hold, held, _together(step, lessons, hold))
    return found


def _lesson(operation: Operation, before: Sequence[tuple[int, Operation]], step: Step) -> Lesson:
    turn = Turn(min(len(before), 2) + 1)
    if not before:
        return Lesson(operation, turn, step.number, True)
    number, first = before[0]
    return Lesson(operation, turn, number, operation.settings != first.settings)


def _together(step: Step, lessons: Sequence[Lesson], hold: Hold | None) -> bool:
    """Whether both stand there: something is shown or held, or a machine runs."""
    powered = any(tool.power for operation in step.operations for tool in operation.method.tools[:1])
    return hold is not None or powered or any(lesson.turn is Turn.SHOWN for lesson in lessons)


def _hold(plan: Plan, step: Step) -> tuple[Hold | None, tuple[str, ...]]:
    """What the second pair of hands holds, the first of these that the step asks for."""
    parts = [plan.part(one) for one in step.parts]
    if any(operation.kind == _BREAK_DOWN for operation in step.operations):
        return Hold.SHEET, ()
    coming = set(step.scene.new) if step.scene is not None and step.scene.standing else set()
    if sum(about_kg(part) for part in parts if part.id in coming) > HEAVY_KG:
        return Hold.HEAVY, tuple(part.id for part in parts if part.id in coming)
    steered = {
        one
        for operation in step.operations
        if any(tool.steered for tool in operation.method.tools[:1])
        for one in operation.parts
    }
    long = tuple(part.id for part in parts if part.id in steered and part.size[0].mm > LONG_MM)
    if long:
        return Hold.LONG, long
    if sum(clamp.count for clamp in step.clamps) >= MANY_CLAMPS:
        return Hold.CLAMPS, tuple(step.scene.new) if step.scene is not None else ()
    return None, ()
