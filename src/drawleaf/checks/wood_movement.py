"""Solid wood held fast across its grain: how much seasonal movement the glue or the screws would have to fight.

A part may be held along a line, or over a small width. What counts is how far apart, across its grain, the places lie where it is
held by something that does not move with it.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from drawleaf.checks.context import (
    Bench,
    called,
    figures,
    gives,
    holds_fast,
    judged,
    mm,
    names,
    result,
    sentence,
    span_mm,
)
from drawleaf.checks.tied import bodies_without, laminated, moves_along, tied_together
from drawleaf.joinery import family_of
from drawleaf.joinery.bench import PartlyGlued
from drawleaf.joinery.moisture import MOVEMENT_SOURCE, coefficient, moisture_range, movement
from drawleaf.model.checks import CheckResult, Figure, Fine, Quantity, Sentence, Verdict
from drawleaf.model.joint_family import CutKind
from drawleaf.model.place import Axis
from drawleaf.model.plan import BoxCut, Joint, Part
from drawleaf.model.steps import JOINING
from drawleaf.units import Length

NAME = "wood-movement"
# How much movement a fastening puts up with before wood or glue gives: common practice, no source.
GLUE_ADVICE, GLUE_STOP = 0.8, 3.2
SCREW_ADVICE, SCREW_STOP = 1.6, 9.5
# The end of a rail in a stile, on a tenon or dowels: 100 mm of oak is glued whole, wider ones are divided. Common practice, no source.
END_ADVICE, END_STOP = 1.8, 4.5
WIDEST_RAIL = 150.0
"""What is wider is a panel, and its end may not be glued at all."""
SCREWED = "screws"
SMALL, TRIFLE = 0.25, 0.1
BROADER = 1.25
"""Boards glued together are judged as one where they are so much wider than the widest of them; else that one tells it."""
NARROW = 65.0
LIMIT = sentence(
    "{glue} where glued, {screws} where screwed", glue=Fine(mm(GLUE_ADVICE)), screws=Fine(mm(SCREW_ADVICE))
)
LIMIT_AT_ENDS = sentence("{glue} where the end of a part is glued", glue=Fine(mm(END_ADVICE)))
FULL_SOURCE = f"{MOVEMENT_SOURCE}; limits: common practice, no source"


@dataclass(frozen=True, slots=True)
class Hold:
    """Places across a part's grain where one joint holds it, from ``low`` to ``high``; ``by`` is the part that holds. ``at_end``: it is
    the end of the part that is held, as a rail's is in a stile."""

    low: float
    high: float
    glued: bool
    by: Part
    joint: Joint

    at_end: bool = False


def check(bench: Bench) -> Iterator[CheckResult]:
    """One finding for each kind of solid part that is wide or held too fast; one for all narrow parts that are sound."""
    dry, damp = moisture_range(bench.plan.checks)
    narrow: list[Part] = []
    for part, group in bench.kinds(part for part in bench.plan.parts if coefficient(part.stock.material)):
        _, found = max((_finding(bench, one, group, dry, damp) for one in group), key=lambda one: one[0])
        if found is None:
            continue
        if found.verdict is Verdict.PASS and part.body.extent(part.width_axis).mm < NARROW:
            narrow += group
        else:
            yield found
    if narrow:
        yield _narrow(narrow, dry, damp)
    for body in laminated(bench):
        yield from _laminated(bench, body, dry, damp)


def _laminated(bench: Bench, body: tuple[Part, ...], dry: float, damp: float) -> Iterator[CheckResult]:
    """Boards glued side by side, judged as the one board that they are, along each axis on which they are wider than any of them."""
    members = frozenset(part.id for part in body)
    first = body[0]
    for axis in (one for one in Axis if one is not first.grain):
        low, high = (end(span_mm(part.body, axis)[at] for part in body) for at, end in ((0, min), (1, max)))
        width = high - low
        if width < BROADER * max(part.body.extent(axis).mm for part in body):
            continue
        per_mm = movement(1.0, max(coefficient(part.stock.material) for part in body), dry, damp)
        holds = [hold for part in body for hold in _holds(bench, part, axis, members)]
        glue_fights = _spread(bench, members, [hold for hold in holds if hold.glued]) * per_mm
        fights = _spread(bench, members, holds) * per_mm
        verdict = judged(glue_fights, GLUE_ADVICE, GLUE_STOP)
        by_glue = verdict is not Verdict.PASS
        verdict = verdict if by_glue else judged(fights, SCREW_ADVICE, SCREW_STOP)
        words = "Glued together, the {count} boards with the {part} move as one, {width} wide: by {moves} in a year"
        if verdict is not Verdict.PASS:
            words += ". They are held fast over {spread} of it, so {fights} of movement has nowhere to go."
        elif fights < TRIFLE:
            words += ", and nothing holds them back across the grain."
        else:
            words += "; where they are held, they move by {fights}, which their fastenings bear."
        told = glue_fights if by_glue else fights
        yield result(
            NAME,
            "Wood movement",
            verdict,
            body,
            sentence(
                words,
                count=len(body),
                part=called(first),
                width=mm(width),
                moves=Fine(mm(width * per_mm)),
                spread=mm(told / per_mm),
                fights=Fine(mm(told)),
            ),
            figures=figures(
                width_across_the_grain=mm(width), moves_in_a_year=Fine(mm(width * per_mm)), held_back=Fine(mm(told))
            ),
            limit=LIMIT,
            source=FULL_SOURCE,
            remedy=sentence(
                "Hold them fast along one line alone, and elsewhere with screws through slots or with top fasteners."
            ),
            position=holds[0].joint.position if holds and verdict is not Verdict.PASS else first.position,
        )


def _narrow(parts: list[Part], dry: float, damp: float) -> CheckResult:
    def moves(part: Part) -> float:
        return movement(part.body.extent(part.width_axis).mm, coefficient(part.stock.material), dry, damp)

    most = max(parts, key=moves)
    return result(
        NAME,
        "Wood movement",
        Verdict.PASS,
        parts,
        sentence(
            "The narrow parts move little: the {part} most, by {moves} over {width}, held or not.",
            part=called(most),
            moves=Fine(mm(moves(most))),
            width=mm(most.body.extent(most.width_axis).mm),
        ),
        figures=_movement_figures(most, moves(most), dry, damp),
        limit=LIMIT,
        source=FULL_SOURCE,
    )


def _movement_figures(part: Part, whole: float, dry: float, damp: float) -> tuple[Figure, ...]:
    return figures(
        width_across_the_grain=mm(part.body.extent(part.width_axis).mm),
        moves_in_a_year=Fine(mm(whole)),
        moisture_from=Quantity(dry, "percent"),
        to=Quantity(damp, "percent"),
    )


def _finding(bench: Bench, part: Part, group, dry: float, damp: float) -> tuple[float, CheckResult | None]:
    width = part.body.extent(part.width_axis).mm
    per_mm = movement(1.0, coefficient(part.stock.material), dry, damp)
    whole = width * per_mm
    if whole < SMALL:
        return 0.0, None
    holds = list(_holds(bench, part))
    alone = frozenset({part.id})
    glued = _spread(bench, alone, [hold for hold in holds if hold.glued])
    held = _spread(bench, alone, holds)
    glue_fights, all_fight = glued * per_mm, held * per_mm
    at_ends = width <= WIDEST_RAIL and all(hold.at_end for hold in holds if hold.glued)
    verdict = judged(glue_fights, *((END_ADVICE, END_STOP) if at_ends else (GLUE_ADVICE, GLUE_STOP)))
    by_glue = verdict is not Verdict.PASS
    if not by_glue and (held > glued or not at_ends):
        verdict = judged(all_fight, SCREW_ADVICE, SCREW_STOP)
    fights = glue_fights if by_glue else all_fight
    words = "The {part}, {width} wide across the grain, moves by {moves} between the driest and the dampest weeks of the year"
    values = {"part": called(part), "width": mm(width), "moves": Fine(mm(whole))}
    if fights < TRIFLE:
        words += ", and nothing holds it back across the grain."
    elif verdict is Verdict.PASS:
        words += "; where it is held, it moves by {fights}, which its fastenings bear."
        values["fights"] = Fine(mm(fights))
    else:
        words += ". It is {how} over {spread} of that width, so {fights} of movement has nowhere to go: it {end}."
        values |= {
            "how": "glued down" if by_glue else _how_held(holds),
            "spread": mm(glued if by_glue else held),
            "fights": Fine(mm(fights)),
            "end": "splits, or pulls the joint apart" if by_glue else f"splits at the {_fastened_with(holds)}, or cups",
        }
    worst_joint = next((hold.joint for hold in reversed(holds) if hold.glued or not by_glue), None)
    outcome = result(
        NAME,
        "Wood movement",
        verdict,
        group,
        sentence(words, **values),
        figures=_movement_figures(part, whole, dry, damp) + figures(held_back=Fine(mm(fights))),
        limit=LIMIT_AT_ENDS if at_ends and glue_fights >= TRIFLE and (by_glue or held <= glued) else LIMIT,
        source=FULL_SOURCE,
        remedy=_divided(part, holds, per_mm) if by_glue and at_ends else _remedy(part, holds, by_glue, per_mm),
        position=worst_joint.position if worst_joint and verdict is not Verdict.PASS else part.position,
        steps=_where_held(bench, part, worst_joint if verdict is not Verdict.PASS else None),
    )
    return fights, outcome


def _where_held(bench: Bench, part: Part, worst: Joint | None) -> tuple[str, ...]:
    """The steps that join the part; the one that closes its worst joint comes first, for that is where a word about it helps."""
    steps = bench.steps_with((part.id,), (*JOINING, "glue-up"))
    if worst is None:
        return steps
    closing = {step.id for step in bench.derived.steps for operation in step.operations if worst in operation.joints}
    return tuple(sorted(steps, key=lambda step: step not in closing))


def _holds(
    bench: Bench, part: Part, across: Axis | None = None, within: frozenset[str] = frozenset()
) -> Iterator[Hold]:
    """Where a part is held across its grain, or along another axis; by the other parts of its body (``within``) it is not held."""
    across = across or part.width_axis
    along: list[tuple[Joint, Part]] = []
    for joint in bench.joints_of[part.id]:
        other = bench.parts[joint.other(part.id)]
        if other.id in within:
            continue
        if moves_along(other, across):
            along.append((joint, other))
            continue
        if joint.family.glued_at and joint.insert == part.id:
            yield from _middle_tenon(bench, joint, across, other)
            continue
        if joint.family.mitred or joint.family.brought:
            continue  # mitres.py knows what becomes of them
        if joint.glued:
            low, high = _glued_over(bench, joint, part, across)
            at_end = joint.family.lapped or (joint.insert == part.id and joint.face.axis is part.grain)
            if high > low or at_end:
                yield Hold(low, high, True, other, joint, at_end)
        low, high = span_mm(part.body, across)
        places = [min(max(one.at.along(across).mm, low), high) for one in joint.fasteners if not gives(one)]
        if places:
            yield Hold(min(places), max(places), False, other, joint)
    yield from _held_by_a_frame(bench, within | {part.id}, across, along)


def _held_by_a_frame(
    bench: Bench, body: frozenset[str], across: Axis, along: list[tuple[Joint, Part]]
) -> Iterator[Hold]:
    """Parts that move as the board does hold it all the same where others tie them together: two rails of one frame. Each holds at the
    middle of its joint, for about that it moves itself."""
    fast = [(joint, other) for joint, other in along if holds_fast(joint) and not joint.family.mitred]
    if len({other.id for _, other in fast}) < 2:
        return
    places = [(sum(span_mm(joint.contact, across)) / 2.0, joint, other) for joint, other in fast]
    for frame in bodies_without(bench, body, (other.id for _, _, other in places)):
        own = [one for one in places if one[2].id in frame]
        if not own:
            continue
        low, high = min(one[0] for one in own), max(one[0] for one in own)
        if tied_together(bench, frame, across, low, high):
            yield from (Hold(at, at, joint.glued, other, joint) for at, joint, other in own)


def _glued_over(bench: Bench, joint: Joint, part: Part, across: Axis) -> tuple[float, float]:
    """From where to where glue holds a part across its grain: over its tenons, where it has some, else where the parts touch."""
    mortises = tenon_mortises(bench, joint) if joint.family.tenoned and joint.insert == part.id else []
    if not mortises:
        return glued_mm(bench, joint, across)
    spans = [span_mm(cut.box, across) for cut in mortises]
    return min(low for low, _ in spans), max(high for _, high in spans)


def glued_mm(bench: Bench, joint: Joint, across: Axis) -> tuple[float, float]:
    """From where to where a joint's glue reaches along an axis: all over it, or where its family spreads it."""
    family = family_of(joint.family)
    glued = family.glued_span(bench.plan, joint) if isinstance(family, PartlyGlued) else None
    if glued is None or glued[0].axis is not across:
        return span_mm(joint.contact, across)
    return glued[1].low.mm, glued[1].high.mm


def _middle_tenon(bench: Bench, joint: Joint, across: Axis, other: Part) -> Iterator[Hold]:
    """A breadboard end holds the top by its middle tenon alone, the narrowest mortise; the pegs of the others stand in slots."""
    mortises = tenon_mortises(bench, joint)
    if mortises:
        low, high = span_mm(min(mortises, key=lambda cut: cut.box.extent(across)).box, across)
        yield Hold(low, high, joint.glued, other, joint)


def tenon_mortises(bench: Bench, joint: Joint) -> list[BoxCut]:
    """The mortises of a joint, in the part that receives."""
    return [
        cut
        for cut in bench.parts[joint.receiver].features
        if isinstance(cut, BoxCut) and cut.joint == joint.id and cut.kind == CutKind.MORTISE
    ]


def _spread(bench: Bench, members: frozenset[str], holds: list[Hold]) -> float:
    """How far apart the outermost places are at which one body holds the members, in mm: three legs that nothing ties to one another
    part with the seat that they stand in."""
    spans = [0.0]
    for body in bodies_without(bench, members, (hold.by.id for hold in holds)):
        own = [hold for hold in holds if hold.by.id in body]
        spans.append(max(hold.high for hold in own) - min(hold.low for hold in own))
    return max(spans)


def _fastened_with(holds: Sequence[Hold]) -> str:
    """What holds a part other than by glue, as a sentence names it: ``screws``, ``pegs and dowels``, ``middle tenon``."""
    alone = next((hold.joint.family.glued_at for hold in holds if hold.joint.family.glued_at), "")
    items = [fastener.item for hold in holds for fastener in hold.joint.fasteners if not gives(fastener)]
    return alone or " and ".join(dict.fromkeys(f"{one.kind}s" if one.pin else SCREWED for one in items)) or SCREWED


def _how_held(holds: Sequence[Hold]) -> str:
    by = _fastened_with(holds)
    return "screwed fast" if by == SCREWED else f"held fast by its {by}"


def _as_rail(per_mm: float) -> Length:
    """How wide a part may be whose whole end is glued, when each mm of it moves by so much."""
    return mm(min(WIDEST_RAIL, END_ADVICE / per_mm // 1))


def _divided(part: Part, holds: Sequence[Hold], per_mm: float) -> Sentence:
    words = (
        "Make the {part} {width} wide or less, or divide its tenon in two and glue the one alone."
        if any(hold.joint.family.tenoned for hold in holds if hold.glued)
        else "Make the {part} {width} wide or less, or glue the middle of its end alone."
    )
    return sentence(words, part=called(part), width=_as_rail(per_mm))


def _remedy(part: Part, holds: Sequence[Hold], by_glue: bool, per_mm: float) -> Sentence:
    if by_glue and any(hold.joint.family.tenoned for hold in holds if hold.glued):
        return sentence(
            "As a rail, make the {part} {width} wide or less. As a panel, set it in a “groove” with “clearance”, without glue.",
            part=called(part),
            width=_as_rail(per_mm),
        )
    if by_glue:
        return sentence(
            "Leave the {part} free in a groove with room to move, or glue it along one edge alone and screw the rest through slots.",
            part=called(part),
        )
    by = _fastened_with(holds)
    if any(hold.joint.family.glued_at for hold in holds):
        return sentence(
            "Give the {part} more tenons, an odd number (“count”): the middle one is narrower then.", part=called(part)
        )
    if by != SCREWED:
        return sentence("Make the {part} narrower, or set its {by} closer together.", part=called(part), by=by)
    holders = [hold.by for hold in holds]
    return sentence(
        "Keep the screws along one edge of the {part} snug and give the others slotted holes (“slots: yes” under “screws”) in {holder}, so that it can move.",
        part=called(part),
        holder=f"the {names(holders).lower()}" if holders else "the part under it",
    )
