"""Clamps that are on the work at once: how many, opening how far, and whether the kit has them.

Spacing by the kind of joint: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from math import ceil, sqrt

from drawleaf.derive.shop.brought import brought_by, in_goes, is_tied
from drawleaf.derive.shop.methods import kit_of
from drawleaf.model.catalogue import FastenerKind
from drawleaf.model.diagnostic import About, Diagnostic, Severity, Subject
from drawleaf.model.place import Axis
from drawleaf.model.plan import Joint, Plan
from drawleaf.model.settings import GlueUpSettings, SquareSettings
from drawleaf.model.steps import JOINING, ClampUse, Operation, Step
from drawleaf.model.tool_sets import Kit
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
JAW = Length.of_inches(2)
"""A joint no longer than this takes one clamp, whose jaw covers it."""
ONE_JOINT = 2


def clamps_of(plan: Plan, operations: Iterable[Operation]) -> tuple[ClampUse, ...]:
    """What a step needs at once, by size, smallest first. What glue alone holds keeps its clamps until it has set, whatever follows in the
    step; all else is done one after the other, so the most of each size is enough."""
    operations = tuple(operations)
    most = _sizes(plan, _staying(plan, operations))
    for operation in operations:
        for size, count in _sizes(plan, _uses(plan, operation)).items():
            most[size] = max(most.get(size, 0), count)
    return tuple(ClampUse(count, size) for size, count in sorted(most.items(), key=lambda one: one[0]))


def _sizes(plan: Plan, uses: Iterable[ClampUse]) -> dict[Length, int]:
    """So many clamps of each size as they are sold; what is longer than any of these is told as it is."""
    sizes = SIZES_MM if plan.lengths.units is Units.MM else SIZES
    found: dict[Length, int] = {}
    for use in uses:
        size = next((size for size in sizes if size >= use.opening), use.opening)
        found[size] = found.get(size, 0) + use.count
    return found


def _clamped(operation: Operation) -> bool:
    return any(tool.clamp is not None for tool in operation.method.tools)


def stays_clamped(operation: Operation) -> bool:
    """Whether glue alone holds what the operation joins, so that its clamps stay until the glue has set."""
    return (
        operation.kind in JOINING
        and _clamped(operation)
        and any(joint.glued for joint in operation.joints)
        and all(fastener.item.pin for fastener in operation.fasteners)
    )


def _staying(plan: Plan, operations: Sequence[Operation]) -> list[ClampUse]:
    stay = [operation for operation in operations if stays_clamped(operation)]
    if len(stay) == 1:
        return list(max((_holding(plan, _of_go(stay[0], go)) for go in clamp_goes(plan, stay[0])), key=_count))
    joints = {joint.id: joint for operation in stay for joint in operation.joints}
    return _holding(plan, list(joints.values()))


def _count(uses: Iterable[ClampUse]) -> int:
    return sum(use.count for use in uses)


def clamp_goes(plan: Plan, operation: Operation) -> tuple[tuple[str, ...], ...]:
    """The parts that an operation brings, by the goes in which the kit's clamps hold them: the next goes on when the clamps come off the
    last. One go where the clamps are enough, where none are listed, and where what comes hangs together already."""
    kit = kit_of(plan)
    if not kit.clamps or not stays_clamped(operation) or is_tied(plan, operation):
        return (operation.parts,)

    def fits(go: Sequence[str]) -> bool:
        return not lacking(kit, _rounded(plan, _holding(plan, _of_go(operation, go))))

    return in_goes(operation.parts, fits)


def _of_go(operation: Operation, parts: Sequence[str]) -> list[Joint]:
    return [joint for joint in operation.joints if brought_by(operation, joint) in parts]


def _rounded(plan: Plan, uses: Iterable[ClampUse]) -> list[ClampUse]:
    return [ClampUse(count, size) for size, count in _sizes(plan, uses).items()]


def lacking(kit: Kit, uses: Iterable[ClampUse]) -> tuple[ClampUse, ...]:
    """How many more the kit would need, by opening; a clamp that opens farther stands in for a shorter one, but is there only once."""
    found: list[ClampUse] = []
    free = sorted((own.opening for own in kit.clamps for _ in range(own.count)), reverse=True)
    for use in sorted(uses, key=lambda one: one.opening, reverse=True):
        have = sum(opening >= use.opening for opening in free[: use.count])
        free = free[have:]
        if have < use.count:
            found.append(ClampUse(use.count - have, use.opening))
    return tuple(found)


def _uses(plan: Plan, operation: Operation) -> Iterable[ClampUse]:
    if not _clamped(operation):
        return ()
    match operation.kind:
        case "glue-up":
            assert isinstance(operation.settings, GlueUpSettings)
            return (ClampUse(operation.settings.clamps * 2 - 1, operation.settings.rough_width),)
        case "square":
            return _squaring(plan, operation)
        case kind if kind in JOINING:
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
    """How many clamps stand along a joint: one where its jaw covers all of it, else ``every`` so far, and one at each end."""
    return 1 if length <= JAW else max(2, ceil(length.ratio(every)) + 1)


def _joining(plan: Plan, operation: Operation) -> tuple[ClampUse, ...]:
    """What holds while screws or brads are driven; what glue alone holds is ``_holding``."""
    joints = operation.joints
    if not joints or stays_clamped(operation) or all(fastener.item.pin for fastener in operation.fasteners):
        return ()
    if operation.kind == "join-body" and any(joint.glued for joint in joints):
        opening = max(_reach_over(plan, joint) for joint in joints)
        count = clamps_along(_whole_run(joints), NAILED_EVERY)
        return (ClampUse(min(count, _nailed_most(plan, opening)), opening),)
    if (
        any(fastener.item.kind == FastenerKind.POCKET_SCREW for fastener in operation.fasteners)
        or operation.kind == "join-front"
    ):
        return (ClampUse(ONE_JOINT, HOLDING.opening),)
    return (ClampUse(ONE_JOINT, max(_reach_over(plan, joint) for joint in joints)),)


def _holding(plan: Plan, joints: Sequence[Joint]) -> list[ClampUse]:
    """The clamps that hold glued joints until they have set, each pressing the shortest sound way: through the two parts that lie against
    each other, or along a part over both its ends, which closes what is joined there at once."""
    groups: dict[object, list[Joint]] = {}
    for joint in joints:
        if joint.glued and not joint.family.square_end:  # a round end is knocked home, and its hole holds it
            along = pressed_along(plan, joint)
            groups.setdefault(joint.id if along is None else (along, press_axis(plan, joint)), []).append(joint)
    uses: list[ClampUse] = []
    for group in _stacked(plan, list(groups.values())):
        ends = all(_closed_from_end(plan, one) for one in group)
        count = 1 if ends else clamps_along(max(map(_run, group)), EVERY)
        # A wide face takes a row of clamps along either edge.
        rows = 2 if pressed_along(plan, group[0]) is None and _across(group[0]) > WIDE_END else 1
        uses.append(ClampUse(count * rows, _over_all(plan, group)))
    return uses


def _stacked(plan: Plan, groups: list[list[Joint]]) -> list[list[Joint]]:
    """The same groups, those of strips that lie face to face on each other as one: a clamp presses through the whole stack."""
    found: list[list[Joint]] = []
    for group in groups:
        flat = pressed_along(plan, group[0]) is None
        beside = [one for one in found if flat and any(_stack(plan, a, b) for a in one for b in group)]
        found = [one for one in found if one not in beside]
        found.append([joint for one in beside for joint in one] + group)
    return found


def _stack(plan: Plan, one: Joint, other: Joint) -> bool:
    """Whether two joints lie over each other at either side of a part that they share."""
    if pressed_along(plan, one) is not None or one.face.axis is not other.face.axis:
        return False
    if not {one.insert, one.receiver} & {other.insert, other.receiver}:
        return False
    shared = [one.contact.span(axis).overlap(other.contact.span(axis)) for axis in one.face.axis.others()]
    if any(span is None for span in shared):
        return False
    least = min(_run(one), _run(other))
    return max(span.extent for span in shared if span is not None) >= least * Fraction(9, 10)


def _over_all(plan: Plan, group: Sequence[Joint]) -> Length:
    """What a clamp reaches over to close all joints of a group: a stack from its one outside to the other, else the farthest of them."""
    if len(group) > 1 and pressed_along(plan, group[0]) is None:
        return _reach(plan, group[0].face.axis, [part for joint in group for part in (joint.insert, joint.receiver)])
    return max(_reach_over(plan, joint) for joint in group)


def press_axis(plan: Plan, joint: Joint) -> Axis:
    """The axis along which a clamp closes a joint: across the face where the parts meet, but the way that tails come to their sockets."""
    return plan.part(joint.insert).thickness if joint.family.comes_across else joint.face.axis


def pressed_along(plan: Plan, joint: Joint) -> str | None:
    """The part that a clamp presses along, from end to end: what is joined at its own end or edge, or has the sockets. None where it
    presses through two parts that lie against each other."""
    if joint.family.comes_across:
        return joint.receiver
    return joint.insert if joint.face.axis is not plan.part(joint.insert).thickness else None


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


def _across(joint: Joint) -> Length:
    """The joint's width."""
    return min(joint.contact.extent(axis) for axis in joint.face.axis.others())


def _reach_over(plan: Plan, joint: Joint) -> Length:
    """What a clamp has to reach over to close a joint: both parts across it; where it presses along the insert, what that is joined to at its
    other end too."""
    parts, axis = [joint.insert, joint.receiver], press_axis(plan, joint)
    if joint.family.comes_across:
        joints = plan.joints_of((joint.receiver,))
        parts += [one.insert for one in joints if one.receiver == joint.receiver and one.family is joint.family]
    elif pressed_along(plan, joint) is not None:
        joints = plan.joints_of((joint.insert,))
        parts += [one.receiver for one in joints if one.insert == joint.insert and one.face.axis is axis]
    return _reach(plan, axis, parts)


def _reach(plan: Plan, axis: Axis, parts: Sequence[str]) -> Length:
    spans = [plan.part(part).body.span(axis) for part in parts]
    return max(span.high for span in spans) - min(span.low for span in spans)


def _diagonal(plan: Plan, operation: Operation) -> Length:
    assert isinstance(operation.settings, SquareSettings)
    a, b = (_reach(plan, axis, operation.parts).mm for axis in operation.settings.plane.others())
    return Length(Fraction(round(sqrt(a * a + b * b))))


def clamp_problems(plan: Plan, steps: Sequence[Step]) -> tuple[Diagnostic, ...]:
    """Where the kit has too few clamps for a step, or none that reach, and what would do."""
    kit = kit_of(plan)
    worst: dict[Length, tuple[int, Step]] = {}
    for step in steps if kit.clamps else ():
        # What stays under its clamps needs all of them together; what is done one after the other, only those of each size.
        together = lacking(kit, _rounded(plan, _staying(plan, step.once.operations)))
        for use in (*together, *(short for one in step.clamps for short in lacking(kit, [one]))):
            if use.count > worst.get(use.opening, (0,))[0]:
                worst[use.opening] = use.count, step
    return tuple(_lack(plan, kit, opening, short, step) for opening, (short, step) in worst.items())


def _lack(plan: Plan, kit: Kit, opening: Length, short: int, step: Step) -> Diagnostic:
    wanted = next(use.count for use in step.clamps if use.opening == opening)
    far, longest = plan.lengths.text(opening), max(own.opening for own in kit.clamps)
    many = "a clamp that opens" if wanted == 1 else f"{wanted} clamps at once that open"
    entry = f"- {{count: {short}, opening: {far}}}"
    if longest < opening:
        has = f"the longest of the tool set {kit.name!r} opens {plan.lengths.text(longest)}"
        cure = "hook two clamps together head to head"
    else:
        has = f"the tool set {kit.name!r} has {wanted - short}" + (" left" if len(step.clamps) > 1 else "")
        cure = "close the joints with “screws” or “brads” in “with”, along which clamps move on"
    return Diagnostic(
        "clamps-lacking",
        f"step {step.number} ({step.id}) needs {many} {far}; {has}",
        None,
        mend=f"Borrow {short}, {cure}, or write “{entry}” under “clamps” of your tool set.",
        severity=Severity.ADVICE,
        subject=Subject(About.KIT),
    )
