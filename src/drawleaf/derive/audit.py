"""The books must balance: what is listed is laid out, made and used; what is bought is driven; sums agree.

Each line compares two figures that were calculated in different ways. What does not agree is an error.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Sequence

from drawleaf.derive.agreement import agrees
from drawleaf.graphs import is_connected
from drawleaf.model.catalogue import Consumable
from drawleaf.model.diagnostic import About, Diagnostic, Subject
from drawleaf.model.lists import Audit, AuditLine, ConsumableRow, CutList, HardwareRow, Layouts, ToolRow
from drawleaf.model.plan import Plan
from drawleaf.model.steps import JOINING, Schedule, Step

Tally = Counter[tuple[str, ...]]
"""How many there are of each: an id, and words that distinguish what shares it."""
MAKING = ("break-down", "crosscut", "cut-off", "cut-tape")
TRIMMING = ("trim-panel", "fit-opening")
"""What gives a glued-up panel its size; a door or drawer front glued up from strips gets it at its opening."""
CLOSING = (*JOINING, "set-panel", "set-splines")
USING = (*CLOSING, "hang-drawer", "set-shelves", "set-drawer")
HOUR_SLACK = 1e-6
MOST_NAMED = 5


def make_audit(
    plan: Plan,
    cut_list: CutList,
    layouts: Layouts,
    hardware: Sequence[HardwareRow],
    tools: Sequence[ToolRow],
    steps: Sequence[Step],
    schedule: Schedule,
    consumables: Sequence[ConsumableRow] = (),
) -> tuple[Audit, tuple[Diagnostic, ...]]:
    """Every reconciliation, and a diagnostic for each that fails."""
    lines = (
        _on_cut_list(plan, cut_list),
        _in_layouts(plan, layouts),
        _strips_laid_out(plan, layouts),
        _made(plan, steps),
        _used(plan, steps),
        _used_once(plan, steps),
        _features_cut(plan, steps),
        _settings_hold(plan, steps),
        _joints_closed(plan, steps),
        _fasteners_driven(plan, steps),
        _bought_is_used(hardware, steps),
        _tools_listed(tools, steps),
        _in_order(steps),
        _hours(steps, schedule),
        _waits(steps, schedule),
        _supplied(consumables, steps),
        _coats(plan, steps),
    )
    return Audit(lines), tuple(failure(line) for line in lines if not line.agrees)


def failure(line: AuditLine) -> Diagnostic:
    """A line that does not balance, as an error."""
    return Diagnostic(
        "audit",
        f"{line.name}: {line.left} against {line.right}",
        None,
        cause=line.detail or "The two do not agree.",
        subject=line.subject,
    )


def _compare(name: str, left: Tally, right: Tally, unit: str, about: About | None = None) -> AuditLine:
    """How many there are on each side, and which differ. ``about`` is what the ids are of."""
    wrong = sorted(key for key in left.keys() | right.keys() if left[key] != right[key])
    shown = ", ".join(f"{' '.join(key)} ({left[key]} and {right[key]})" for key in wrong[:MOST_NAMED])
    more = f", and {len(wrong) - MOST_NAMED} more" if len(wrong) > MOST_NAMED else ""
    subject = Subject(about, wrong[0][0]) if about is not None and wrong else None
    return AuditLine(name, f"{left.total()} {unit}", f"{right.total()} {unit}", not wrong, shown + more, subject)


def _tally(ids: Iterable[str]) -> Tally:
    return Counter((one,) for one in ids)


def _on_cut_list(plan: Plan, cut_list: CutList) -> AuditLine:
    listed = _tally(part.id for item in cut_list.items for part in item.parts)
    return _compare("Parts of the plan, and parts on the cut list", _tally(_ids(plan)), listed, "parts", About.PART)


def _in_layouts(plan: Plan, layouts: Layouts) -> AuditLine:
    placed = _tally(
        placed.part for layout in (*layouts.sheets, *layouts.boards) for placed in layout.placed if placed.strip is None
    )
    whole = _tally(part.id for part in plan.parts if part.glue_up is None)
    return _compare("Parts, and parts laid out on sheets and boards", whole, placed, "parts", About.PART)


def _strips_laid_out(plan: Plan, layouts: Layouts) -> AuditLine:
    placed = Counter(
        (placed.part, f"strip {placed.strip}")
        for layout in (*layouts.sheets, *layouts.boards)
        for placed in layout.placed
        if placed.strip is not None
    )
    strips = Counter(
        (part.id, f"strip {strip}")
        for part in plan.parts
        if part.glue_up is not None
        for strip in range(1, part.glue_up.strips + 1)
    )
    return _compare("Strips of glued-up panels, and strips laid out on boards", strips, placed, "strips", About.PART)


def _ids(plan: Plan) -> Iterable[str]:
    return (part.id for part in plan.parts)


def _made(plan: Plan, steps: Sequence[Step]) -> AuditLine:
    panels = {part.id for part in plan.parts if part.glue_up is not None}
    made = _tally(
        part
        for step in steps
        for operation in step.operations
        for part in operation.parts
        if operation.kind in (TRIMMING if part in panels else MAKING)
    )
    return _compare("Parts, and parts cut to size in a step", _tally(_ids(plan)), made, "parts", About.PART)


def _used(plan: Plan, steps: Sequence[Step]) -> AuditLine:
    """Every part that meets another takes part in an assembly step; joints say how many times it can be new there."""
    needed = {part for joint in plan.joints for part in (joint.insert, joint.receiver)}
    used = {
        part
        for step in steps
        for operation in step.operations
        if operation.kind in USING
        for part in (*operation.parts, *(end for joint in operation.joints for end in (joint.insert, joint.receiver)))
    }
    return _compare(
        "Parts with joints, and parts put together in a step",
        _tally(needed),
        _tally(used & needed),
        "parts",
        About.PART,
    )


def _used_once(plan: Plan, steps: Sequence[Step]) -> AuditLine:
    """Every part is put to others exactly once: it arrives in one step, or is what the first arrival of its assembly comes to.

    A sub-assembly that goes on whole arrives as one thing: its parts were used when it was put together.
    """
    needed = {part for joint in plan.joints for part in (joint.insert, joint.receiver)}
    used: Counter[str] = Counter()
    closed: list[tuple[str, str]] = []
    for operation in (one for step in steps for one in step.operations if one.kind in CLOSING):
        coming = [part for part in operation.parts if part in needed]
        whole = len(coming) > 1 and all(used[part] for part in coming) and is_connected(coming, closed)
        used.update(() if whole else coming)
        pairs = [(joint.insert, joint.receiver) for joint in operation.joints]
        used.update({end for pair in pairs for end in pair if not used[end]})
        closed += pairs
    return _compare(
        "Every part used in assembly exactly once", _tally(needed), _tally(used.elements()), "parts", About.PART
    )


def _features_cut(plan: Plan, steps: Sequence[Step]) -> AuditLine:
    have = Counter(
        (part.id, feature.kind) for part in plan.parts for feature in part.features if feature.kind != "pilot"
    )
    cut = Counter(
        (part, feature.kind) for step in steps for operation in step.operations for part, feature in operation.features
    )
    return _compare("Cuts, holes and edges of the parts, and those made in a step", have, cut, "cuts", About.PART)


def _settings_hold(plan: Plan, steps: Sequence[Step]) -> AuditLine:
    """What a step prints of its settings holds for each cut, hole and edge that it makes, not only for the first."""
    made = [
        (part, feature, operation)
        for step in steps
        for operation in step.operations
        for part, feature in operation.features
    ]
    wrong = [
        (part, f"{feature.kind} of {part} in {operation.id}")
        for part, feature, operation in made
        if not agrees(operation.settings, plan.part(part), feature)
    ]
    return AuditLine(
        "Cuts, holes and edges made in a step, and those that are as its settings say",
        f"{len(made)} cuts",
        f"{len(made) - len(wrong)} as set",
        not wrong,
        ", ".join(dict.fromkeys(words for _, words in wrong[:MOST_NAMED])),
        Subject(About.PART, wrong[0][0]) if wrong else None,
    )


def _joints_closed(plan: Plan, steps: Sequence[Step]) -> AuditLine:
    closed = _tally(
        joint.id
        for step in steps
        for operation in step.operations
        if operation.kind in CLOSING
        for joint in operation.joints
    )
    joints = _tally(joint.id for joint in plan.joints)
    return _compare("Joints, and joints closed in a step", joints, closed, "joints", About.JOINT)


def _fasteners_driven(plan: Plan, steps: Sequence[Step]) -> AuditLine:
    placed = _tally(fastener.item.id for joint in plan.joints for fastener in joint.fasteners)
    driven = _tally(
        fastener.item.id for step in steps for operation in step.operations for fastener in operation.fasteners
    )
    return _compare("Fasteners of the joints, and fasteners driven in a step", placed, driven, "fasteners")


def _bought_is_used(hardware: Sequence[HardwareRow], steps: Sequence[Step]) -> AuditLine:
    bought = Counter({(row.item.id,): row.count for row in hardware})
    used: Tally = Counter()
    for step in steps:
        for use in step.hardware:
            used[use.item.id,] += use.count
    return _compare("Hardware on the list, and hardware used in the steps", bought, used, "pieces")


def _tools_listed(tools: Sequence[ToolRow], steps: Sequence[Step]) -> AuditLine:
    listed = Counter((row.tool.id, f"in step {number}") for row in tools for number in row.steps)
    used = Counter((tool.id, f"in step {step.number}") for step in steps for tool in step.tools)
    return _compare("Tools on the list by step, and tools the steps use", listed, used, "uses")


def _in_order(steps: Sequence[Step]) -> AuditLine:
    """Every operation comes after all that it waits for."""
    home = {operation.id: step.number for step in steps for operation in step.operations}
    waits = [
        (home.get(before, 10**6), step.number, before)
        for step in steps
        for op in step.operations
        for before in op.after
    ]
    early = [before for at, number, before in waits if at > number]
    return AuditLine(
        "Operations that wait for others, and those that come after them",
        f"{len(waits)} waits",
        f"{len(waits) - len(early)} kept",
        not early,
        ", ".join(early[:MOST_NAMED]),
    )


def _hours(steps: Sequence[Step], schedule: Schedule) -> AuditLine:
    minutes = sum(operation.minutes for step in steps for operation in step.operations)
    agrees = abs(minutes / 60 - schedule.active_hours) < HOUR_SLACK
    return AuditLine(
        "Hours of work in the steps, and hours in the schedule",
        f"{minutes / 60:.2f} h",
        f"{schedule.active_hours:.2f} h",
        agrees,
        "",
    )


def _waits(steps: Sequence[Step], schedule: Schedule) -> AuditLine:
    """Every wait of a step is in the schedule, at its full length."""
    asked = Counter({(f"step {step.number}",): round(step.wait_hours * 60) for step in steps if step.wait_hours})
    laid: Tally = Counter()
    for drying in schedule.dryings:
        laid[f"step {drying.step}",] += round((drying.end - drying.start) * 60)
    return _compare("Waits of the steps, and waits in the schedule", asked, laid, "minutes")


def _supplied(consumables: Sequence[ConsumableRow], steps: Sequence[Step]) -> AuditLine:
    """What the steps use up is on the shopping list."""
    listed = {row.item.id for row in consumables}
    used = sorted({one.id for step in steps for one in step.supplies if isinstance(one, Consumable)})
    missing = [name for name in used if name not in listed]
    return AuditLine(
        "Supplies that the steps use up, and those of them that are listed",
        f"{len(used)} supplies",
        f"{len(used) - len(missing)} listed",
        not missing,
        ", ".join(missing[:MOST_NAMED]),
    )


def _coats(plan: Plan, steps: Sequence[Step]) -> AuditLine:
    def tally(parts_of: Callable[[], Iterable[tuple[str, int, str]]]) -> Tally:
        counts: Tally = Counter()
        for name, coats, part in parts_of():
            counts[part, name] += coats
        return counts

    asked = tally(
        lambda: ((c.product.id, c.coats, part) for c in plan.finish if c.product is not None for part in c.parts)
    )
    given = tally(
        lambda: (
            (op.coat.product.id, op.coat.coats, part)
            for step in steps
            for op in step.operations
            if op.kind == "coat" and op.coat is not None and op.coat.product is not None
            for part in op.parts
        )
    )
    return _compare("Coats asked for, and coats given in a step, part by part", asked, given, "coats", About.PART)
