"""Which helps a step sets, what holds them there, and whether they have room."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from drawleaf.derive.shop.clamps import HOLDING, stays_clamped
from drawleaf.model.catalogue import FastenerKind
from drawleaf.model.diagnostic import Diagnostic, Severity
from drawleaf.model.helps import Help, HelpKind
from drawleaf.model.place import Axis, Box, Face
from drawleaf.model.plan import Plan
from drawleaf.model.steps import ClampUse, Operation, Scene, Step
from drawleaf.model.tools import Clamp, Tool
from drawleaf.units import Length

TOUCH = Length.of_mm(1)
"""What overlaps by no more than this is only beside it."""
TILTED = 0.05
"""A pocket screw slants by more than this against the face that it is driven from."""
FAR = Length.of_mm(3000)
"""From so far a part comes."""
EACH = 2
"""Clamps on a fence or batten: one at each end."""


def helps_at(plan: Plan, operations: Sequence[Operation], scene: Scene | None, before: Iterable[Help]) -> tuple[Help, ...]:  # fmt: skip
    """The helps that are set for these operations, each at what is there by then. A batten or spacer that an earlier step set (``before``) has
    done its work."""
    if not plan.helps or scene is None:
        return ()
    joined = {joint.id for operation in operations for joint in operation.joints}
    fitted = {fitting.id for operation in operations for fitting in operation.fittings}
    lines = {feature.position for operation in operations for _, feature in operation.features}
    there = {*scene.standing, *scene.new, *(part for operation in operations for part in operation.parts)}
    set_already = {(one.position, one.parts) for one in before if one.kind in (HelpKind.BATTEN, HelpKind.SPACER)}
    found = []
    for one in plan.helps:
        if not (one.serves & (joined | fitted)) and one.line not in lines:
            continue
        if not set(one.parts) <= there or (one.position, one.parts) in set_already:
            continue
        places = tuple(
            place
            for place in one.places
            if (not place.part or place.part in there) and (place.joint is None or place.joint in joined)
        )
        if places or not one.places:
            found.append(replace(one, places=places))
    return tuple(found)


def with_helps(plan: Plan, steps: Sequence[Step]) -> tuple[Step, ...]:
    """The steps with the helps that each sets, and the clamps that hold those."""
    if not plan.helps:
        return tuple(steps)
    made: list[Step] = []
    for step in steps:
        before = [one for other in made for one in other.helps]
        helps = tuple(
            replace(one, late=_is_passed(plan, step.scene, one))
            for one in helps_at(plan, step.operations, step.scene, before)
        )
        held = _held(step, helps)
        tools = _with_clamps(plan, step.tools) if held else step.tools
        made.append(replace(step, helps=helps, clamps=_more_clamps(step.clamps, held), tools=tools))
    return tuple(made)


def _is_passed(plan: Plan, scene: Scene | None, one: Help) -> bool:
    """Whether a part that comes in the step would have to go through it."""
    for move in scene.moves if scene is not None else ():
        axis = max(Axis, key=lambda a: abs(move.direction[a.index]))
        from_there = Face.of(axis, -1 if move.direction[axis.index] > 0 else 1)
        way = plan.part(move.part).body.grown(from_there, FAR)
        if any(_stand_in_each_other(way, place.box) for place in one.places):
            return True
    return False


def _stand_in_each_other(one: Box, other: Box) -> bool:
    both = one.overlap(other)
    return both is not None and all(both.extent(axis) > TOUCH for axis in Axis)


def at_once(step: Step, helps: Sequence[Help]) -> int:
    """How many scraps of these are set at one time in a step: all where glue keeps all joints in clamps; else those of one part, which move on."""
    counts = [max(1, len(one.places)) for one in helps]
    stay = any(stays_clamped(operation) for operation in step.operations)
    return sum(counts) if stay else max(counts, default=0)


def _held(step: Step, helps: Sequence[Help]) -> int:
    """The clamps that hold the helps of a step at one time."""
    return EACH * sum(at_once(step, [one for one in helps if one.kind is kind]) for kind in HelpKind if kind.clamped)


def _more_clamps(clamps: tuple[ClampUse, ...], count: int) -> tuple[ClampUse, ...]:
    if not count:
        return clamps
    sizes = {use.opening: use.count for use in clamps}
    opening = min((size for size in sizes if size >= HOLDING.opening), default=HOLDING.opening)
    sizes[opening] = sizes.get(opening, 0) + count
    return tuple(ClampUse(number, size) for size, number in sorted(sizes.items(), key=lambda one: one[0]))


def _with_clamps(plan: Plan, tools: tuple[Tool, ...]) -> tuple[Tool, ...]:
    """The tools with clamps among them, before what is worn."""
    if any(tool.clamp is not None for tool in tools):
        return tools
    clamps = next((tool for tool in plan.catalogue.tools.values() if tool.clamp is Clamp.PLAIN), None)
    if clamps is None:
        return tools
    worn = {name for tool in tools for name in tool.wear}
    bare = sum(tool.id not in worn for tool in tools)
    return (*tools[:bare], clamps, *tools[bare:])


def help_problems(plan: Plan, steps: Sequence[Step]) -> Iterator[Diagnostic]:
    """Helps that no step sets, that stand where a part stands, or on the side that pocket screws are driven from."""
    told: set[object] = set()
    used = {one.position for step in steps for one in step.helps}
    for one in plan.helps:
        if one.position not in used and one.position not in told:
            told.add(one.position)
            yield Diagnostic(
                "help-idle",
                f"no step sets this {one.kind.value}",
                one.position,
                "What it stands between or lies on is not all there when this line's work is done.",
                "Write it at the line that brings the last of these parts, or give that line an “after”.",
                Severity.ADVICE,
            )
    for step in steps:
        for one in step.helps:
            if one.position in told:
                continue
            problem = _driven_from_there(plan, one) or _in_the_way(plan, step, one)
            if problem is not None:
                told.add(one.position)
                yield problem


def _driven_from_there(plan: Plan, one: Help) -> Diagnostic | None:
    """A fence on the side of the pockets: the driver has no room there, and the screws push the part away from it."""
    if one.kind is not HelpKind.FENCE or one.face is None:
        return None
    screws = (
        screw
        for joint in plan.joints
        if joint.id in one.serves
        for screw in joint.fasteners
        if screw.item.kind == FastenerKind.POCKET_SCREW
    )
    if not any(sum(a * b for a, b in zip(screw.direction, one.face.normal, strict=True)) < -TILTED for screw in screws):
        return None
    return Diagnostic(
        "help-in-the-way",
        f"a fence at the {one.face.value} stands where the pocket screws are driven from",
        one.position,
        "Pocket screws push a part away from the face that its pockets are in, so the fence goes on the other side.",
        f"Write “fence: {one.face.opposite.value}”.",
        Severity.ADVICE,
    )


def _in_the_way(plan: Plan, step: Step, one: Help) -> Diagnostic | None:
    assert step.scene is not None
    there = {*step.scene.standing, *step.scene.new}
    for place in one.places:
        for part in plan.parts:
            if part.id not in there or part.tilt is not None:
                continue
            if _stand_in_each_other(place.box, part.body):
                return Diagnostic(
                    "help-in-the-way",
                    f"step {step.number} ({step.id}): the {one.name} would stand where “{part.id}” stands",
                    one.position,
                    "A help is set beside the parts that stand by then.",
                    "Name another side, make it smaller with “wide”, “deep” and “high”, or say it as a jig without a place.",
                    Severity.ADVICE,
                )
    return None
