"""Clamps that are on the work at once: how many, opening how far, and whether the kit has them.

Spacing by the kind of joint: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from math import ceil, sqrt

from drawleaf.derive.shop.methods import kit_of
from drawleaf.model.catalogue import FastenerKind
from drawleaf.model.diagnostic import About, Diagnostic, Severity, Subject
from drawleaf.model.place import Axis
from drawleaf.model.plan import Joint, Plan
from drawleaf.model.settings import GlueUpSettings, SquareSettings
from drawleaf.model.steps import ClampUse, Operation, Step
from drawleaf.units import Length, Units

EVERY = Length.of_inches(6)
"""A clamp so often along an edge that glue alone holds."""
NAILED_EVERY = Length.of_inches(12)
"""A clamp so often where brads hold as well."""
NAILED_MOST = 6
"""So many are set at once where brads hold: they move on as the nailing does."""
WIDE_END = Length.of_inches(8)
"""The end of a part wider than this takes a clamp at each edge."""
HOLDING = ClampUse(2, Length.of_mm(150))
"""Two clamps hold a loose part to the bench."""
SIZES = tuple(Length.of_inches(size) for size in (6, 12, 24, 36, 50, 60, 96))
SIZES_MM = tuple(Length.of_mm(size) for size in (150, 300, 600, 900, 1250, 1500, 2400))
"""Clamps as they are sold, by inches and by millimetres; an opening is rounded up to the next of these."""
ONE_JOINT = 2


def clamps_of(plan: Plan, operations: Iterable[Operation]) -> tuple[ClampUse, ...]:
    """What a step needs at once, by size, smallest first; its operations follow one another, so the most of each size is enough."""
    sizes = SIZES_MM if plan.lengths.units is Units.MM else SIZES
    most: dict[Length, int] = {}
    for operation in operations:
        for use in _uses(plan, operation):
            size = next((size for size in sizes if size >= use.opening), sizes[-1])
            most[size] = max(most.get(size, 0), use.count)
    return tuple(ClampUse(count, size) for size, count in sorted(most.items(), key=lambda one: one[0]))


def _uses(plan: Plan, operation: Operation) -> Iterable[ClampUse]:
    if not any(tool.clamp is not None for tool in operation.method.tools):
        return ()
    match operation.kind:
        case "glue-up":
            assert isinstance(operation.settings, GlueUpSettings)
            return (ClampUse(operation.settings.clamps * 2 - 1, operation.settings.rough_width),)
        case "square":
            return _squaring(plan, operation)
        case "join" | "join-body" | "join-front":
            return _joining(plan, operation)
        case "dry-fit":
            return ()
        case _:
            return (HOLDING,)


def _squaring(plan: Plan, operation: Operation) -> tuple[ClampUse, ...]:
    """One along the diagonal. Where the kit has none so long, a rope does it, which the step offers: no clamp is asked for."""
    diagonal, kit = _diagonal(plan, operation), kit_of(plan)
    if kit.clamps and all(own.opening < diagonal for own in kit.clamps):
        return ()
    return (ClampUse(1, diagonal),)


def clamps_along(length: Length, every: Length) -> int:
    """How many clamps stand along a joint, at least two: ``every`` so far, and one at each end."""
    return max(2, ceil(length.ratio(every)) + 1)


def _joining(plan: Plan, operation: Operation) -> tuple[ClampUse, ...]:
    joints = operation.joints
    if not joints:
        return ()
    if operation.kind == "join-body" and any(joint.glued for joint in joints):
        opening = _reach(plan, joints[0].face.axis, [part for one in joints for part in (one.insert, one.receiver)])
        count = clamps_along(_whole_run(joints), NAILED_EVERY if operation.fasteners else EVERY)
        return (ClampUse(min(count, _nailed_most(plan, opening)) if operation.fasteners else count, opening),)
    if all(fastener.item.pin for fastener in operation.fasteners):
        if not any(joint.glued for joint in joints):
            return ()
        ends = [joint for joint in joints if _closed_from_end(plan, joint)]
        count = sum(clamps_along(_run(joint), EVERY) for joint in joints if joint not in ends)
        # One clamp over the whole length closes the joints at both ends of a part at once.
        count += len({joint.insert for joint in ends})
        return (ClampUse(count, max(_span(plan, joint) for joint in joints)),)
    if (
        any(fastener.item.kind == FastenerKind.POCKET_SCREW for fastener in operation.fasteners)
        or operation.kind == "join-front"
    ):
        return (ClampUse(ONE_JOINT, HOLDING.opening),)
    return (ClampUse(ONE_JOINT, max(_span(plan, joint) for joint in joints)),)


def move_on(plan: Plan, operation: Operation) -> bool:
    """Whether fewer clamps are set at once than the joint is long for, and each moves on when brads hold its stretch."""
    if operation.kind != "join-body" or not operation.fasteners:
        return False
    wanted = clamps_along(_whole_run(operation.joints), NAILED_EVERY)
    return any(use.count < wanted for use in _joining(plan, operation))


def _nailed_most(plan: Plan, opening: Length) -> int:
    """As many as the kit has will do where brads hold, from two up to ``NAILED_MOST``."""
    owned = sum(own.count for own in kit_of(plan).clamps if own.opening >= opening)
    return min(NAILED_MOST, owned) if owned >= ONE_JOINT else NAILED_MOST


def _whole_run(joints: Sequence[Joint]) -> Length:
    return sum((_run(joint) for joint in joints), Length.of_mm(0))


def _closed_from_end(plan: Plan, joint: Joint) -> bool:
    """Whether a clamp along the part closes the joint: a tenon or dowels at the end of a rail, no wider than two hands."""
    insert = plan.part(joint.insert)
    pinned = joint.family.tenoned or any(fastener.item.pin for fastener in joint.fasteners)
    return pinned and joint.face.axis is insert.length_axis and _run(joint) <= WIDE_END


def _run(joint: Joint) -> Length:
    """The joint's length."""
    return max(joint.contact.extent(axis) for axis in joint.face.axis.others())


def _span(plan: Plan, joint: Joint) -> Length:
    """What a clamp has to reach over to close one joint: both parts, across it."""
    return _reach(plan, joint.face.axis, (joint.insert, joint.receiver))


def _reach(plan: Plan, axis: Axis, parts: Sequence[str]) -> Length:
    spans = [plan.part(part).body.span(axis) for part in parts]
    return max(span.high for span in spans) - min(span.low for span in spans)


def _diagonal(plan: Plan, operation: Operation) -> Length:
    assert isinstance(operation.settings, SquareSettings)
    a, b = (_reach(plan, axis, operation.parts).mm for axis in operation.settings.plane.others())
    return Length(Fraction(round(sqrt(a * a + b * b))))


def clamp_problems(plan: Plan, steps: Sequence[Step]) -> tuple[Diagnostic, ...]:
    """Where the kit has too few clamps for a step: how many to borrow."""
    kit = kit_of(plan)
    if not kit.clamps:
        return ()
    worst: dict[Length, tuple[int, Step, ClampUse]] = {}
    for step in steps:
        for use in step.clamps:
            short = use.count - sum(own.count for own in kit.clamps if own.opening >= use.opening)
            if short > worst.get(use.opening, (0,))[0]:
                worst[use.opening] = short, step, use
    return tuple(
        Diagnostic(
            "clamps-lacking",
            f"step {step.number} ({step.id}) needs {use.count} clamps at once that open {plan.lengths.text(use.opening)}; "
            f"the tool set {kit.name!r} has {use.count - short}",
            None,
            mend=f"Borrow {short}, or glue it in stages.",
            severity=Severity.ADVICE,
            subject=Subject(About.KIT),
        )
        for short, step, use in worst.values()
    )
