"""Whether it can be made safely by one person: parts too small for a machine, too long for it, too heavy to lift alone."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import ceil

from drawleaf.checks.context import Bench, called, figures, result, sentence
from drawleaf.english import capitalized
from drawleaf.graphs import connected
from drawleaf.model.checks import NOTHING, CheckResult, Quantity, Verdict
from drawleaf.model.plan import Part
from drawleaf.model.settings import (
    ChannelSettings,
    CrosscutSettings,
    CutOffSettings,
    EdgeSettings,
    MitreSettings,
    RipSettings,
)
from drawleaf.model.steps import Operation, Step
from drawleaf.model.tools import LeastPiece, Tool
from drawleaf.units import Length

SMALL, LIFT, LONG = "small-parts", "heavy-lift", "long-parts"


TINY = Fraction(1, 3)
"""A third of the least length: no way of holding it by hand keeps the fingers clear, whatever the step says."""
CUTS_OUT = ("break-down", "saw-lines", "glue-up", "clip-on-board", "trim-panel")
"""Work on what parts are cut from, or on panels: their own size says nothing of what is held."""
ROUTER_KINDS = ("round-over", "chamfer", "channel")
LONG_ALONE = (72, 1800)
"""Inches or millimetres; what is longer, one person steers at a machine no more: common practice, no source."""
LONG_CARE = "long parts"
LIFT_ALONE = 23.0
LIFT_SOURCE = "23 kg, the load constant of the NIOSH lifting equation (1994), from memory"
CARE = ("small", "large sheets", "heavy")
HEAVY, TOO_HEAVY = "heavy lift", "too heavy for two"
TWO = 2
MOST_LIFTERS = 4
"""One at each corner; more cannot get hold of one piece of furniture: common practice, no source."""
HOME = ("anchor-to-wall", "hang-on-wall", "set-in-place")


def check_small(bench: Bench) -> Iterator[CheckResult]:
    """Parts below the safe size for the machine that a step names, where the step has no caution for small parts."""
    told: set[tuple[str, str, str]] = set()
    for step, operation, tool, least_piece in _machine_work(bench):
        small = [
            bench.parts[one] for one in operation.parts if _too_small(bench.parts[one], least_piece, _stop(operation))
        ]
        if not small or (tool.leaves_round and operation.kind not in ROUTER_KINDS) or _on_long_board(operation):
            continue
        if operation.kind in CUTS_OUT:
            continue
        warned = any(caution.id.startswith(CARE[0]) for caution in step.cautions)
        tiny = [part for part in small if part.size[0] < least_piece.long * TINY]
        on_board = isinstance(operation.settings, CutOffSettings)
        refused = bool(tiny) and not (warned and on_board)
        verdict = Verdict.STOP if refused else Verdict.PASS if warned else Verdict.ADVICE
        least = min(small, key=lambda part: part.size[0])
        if (step.id, tool.id, least.kind) in told:
            continue
        told.add((step.id, tool.id, least.kind))
        named = tool.name.lower()
        words = "Step {step}: the {part} is {length} × {width}, which is little to hold at the {tool}"
        words += (
            ": no holder keeps the fingers clear." if refused else "; the step says how to hold it." if warned else "."
        )
        yield result(
            SMALL,
            "Small parts at a machine",
            verdict,
            small,
            sentence(
                words, step=step.number, part=called(least), length=least.size[0], width=least.size[1], tool=named
            ),
            figures=figures(length=least.size[0], width=least.size[1]),
            limit=sentence("{short} long at the {tool}, or a way to hold it", short=least_piece.long, tool=named)
            if any(_too_short(part, least_piece, _stop(operation)) for part in small)
            else sentence("{wide} wide at the {tool}, or a way to hold it", wide=least_piece.wide, tool=named),
            remedy=sentence(
                "Have it done by hand, slice the part off a wider or longer board, or waive this with your own way of holding it."
                if refused
                else "Work the end of a longer piece and cut the part off last; say so in a note on “{step}”, or waive this.",
                **({} if refused else {"step": step.id}),
            ),
            steps=(step.id,),
        )


def _on_long_board(operation: Operation) -> bool:
    """Whether the parts are sawn while they are still one with a long board, and cut off it later."""
    match operation.settings:
        case RipSettings(rest=rest):
            return bool(rest)
        case MitreSettings(short=short):
            return short
        case ChannelSettings(boards=boards) | EdgeSettings(boards=boards):
            return bool(boards)
        case _:
            return False


def check_lift(bench: Bench) -> Iterator[CheckResult]:
    """Where more is lifted than one person should: a full sheet, a part or assembly that a step moves, the finished piece."""
    heavy = [one for one in _lifts(bench) if one[0] > LIFT_ALONE]
    for mass, step, what in heavy:
        yield _lift(bench, step, what, mass)
    if not heavy:
        most = max(bench.mass(part) for part in bench.plan.parts)
        yield result(
            LIFT,
            "Lifting",
            Verdict.PASS,
            bench.plan.parts,
            sentence(
                "The heaviest part weighs {part} and the whole piece {mass}, its wood alone: within what one person lifts.",
                part=Quantity(most, "mass"),
                mass=Quantity(bench.derived.mass_kg, "mass"),
            ),
            what="Every part",
            figures=figures(heaviest_part=Quantity(most, "mass")),
            limit=sentence("{limit} for one person", limit=Quantity(LIFT_ALONE, "mass")),
            source=LIFT_SOURCE,
        )


def check_long(bench: Bench) -> Iterator[CheckResult]:
    """Parts too long for one person: at a machine that they must be steered through, and where a step sets them in place."""
    longest = max(bench.plan.parts, key=lambda part: part.size[0])
    alone = bench.thumb(*LONG_ALONE)
    found: dict[str, tuple[Part, list[Step]]] = {}
    for step in bench.derived.steps:
        long = [part for part in _handled(bench, step) if part.size[0] > alone]
        if long:
            part = max(long, key=lambda one: one.size[0])
            found.setdefault(part.kind, (part, []))[1].append(step)
    for part, steps in found.values():
        yield _long(bench, part, steps)
    if not found:
        yield result(
            LONG,
            "Long parts",
            Verdict.PASS,
            (longest,),
            sentence(
                "No part is longer than the {part}, {length}, which one person steers at a machine and sets in place."
                if longest.size[0] <= alone
                else "The {part} is {length} long, and no step has to steer it at a machine.",
                part=called(longest),
                length=longest.size[0],
            ),
            what="Every part",
            figures=figures(longest_part=longest.size[0]),
            limit=sentence("{limit} for one person", limit=bench.thumb(*LONG_ALONE)),
        )


def _handled(bench: Bench, step: Step) -> Iterator[Part]:
    """The parts that a step has to steer at a machine, or that it sets in place."""
    for operation in step.operations:
        tool = operation.method.tools[0] if operation.method.tools else None
        if (
            tool is not None and tool.steered and operation.kind != "break-down"
        ):  # a full sheet has a caution of its own
            yield from (bench.parts[one] for one in operation.parts)
    if step.scene is not None:
        yield from (bench.parts[move.part] for move in step.scene.moves if move.part in bench.parts)


def _long(bench: Bench, part: Part, steps: list[Step]) -> CheckResult:
    given = LONG_CARE in bench.plan.catalogue.cautions
    words = "The {part} is {length} long, and step {step} has to steer it"
    words += (
        "; the step says to support its far end or to have a helper." if given else "; one person cannot do that well."
    )
    return result(
        LONG,
        "Long parts",
        Verdict.PASS if given else Verdict.ADVICE,
        (part,),
        sentence(words, part=called(part), length=part.size[0], step=steps[0].number),
        figures=figures(length=part.size[0]),
        limit=sentence("{limit} for one person", limit=bench.thumb(*LONG_ALONE)),
        remedy=sentence("Say in a note on “{step}” who holds the far end.", step=steps[0].id),
        steps=tuple(step.id for step in steps),
        caution=LONG_CARE if given else "",
    )


def _lifts(bench: Bench) -> Iterator[tuple[float, Step, str]]:
    """What is lifted: mass in kg, in which step, in words. Sheets alike are reported once."""
    told: set[str] = set()
    for layout in bench.derived.layouts.sheets:
        sheet, material = layout.sheet, layout.stock.material
        step = _step_of_sheet(bench, layout.number)
        what = f"a full sheet of {material.name.lower()}"
        if step is not None and what not in told:
            told.add(what)
            volume = sheet.length.mm * sheet.width.mm * layout.stock.thickness.mm
            yield material.mass(volume), step, what
    for step in bench.derived.steps:
        moves = {move.part for move in step.scene.moves} if step.scene else set()
        moved = _in_one_hand(bench, [bench.parts[one] for one in step.parts if one in moves])
        if moved:
            yield (
                sum(map(bench.mass, moved)),
                step,
                f"the {moved[0].name.lower()}" if len(moved) == 1 else "what is set on",
            )
    if bench.derived.steps:
        last = bench.derived.steps[-1]
        home = next((step for step in bench.derived.steps if step.operations[0].kind in HOME), last)
        yield bench.derived.mass_kg, home, "the finished piece"


def _in_one_hand(bench: Bench, moved: list[Part]) -> list[Part]:
    """Of what a step moves, the heaviest that hangs together: what no joint ties is lifted one by one."""
    tied = ((joint.insert, joint.receiver) for joint in bench.plan.joints)
    groups = [[bench.parts[one] for one in group] for group in connected((part.id for part in moved), tied)]
    return max(groups, key=lambda group: sum(map(bench.mass, group)), default=[])


def _lift(bench: Bench, step: Step, what: str, mass: float) -> CheckResult:
    """Up to twice what one person lifts, the step is given the caution for two people, if it has none yet and the catalogue has one
    to give. Beyond that two people are not enough, whatever the step says."""
    people = people_for(mass)
    warned = any(caution.id.startswith(CARE[1:]) for caution in step.cautions)
    care = HEAVY if people <= TWO else TOO_HEAVY
    given = (people > TWO or not warned) and care in bench.plan.catalogue.cautions
    words, values = "Step {step}: {what} weighs {mass}", {}
    remedy = sentence("Say in a note on “{step}” that two people lift here.", step=step.id)
    at_step = NOTHING
    if people <= TWO:
        verdict = Verdict.PASS if warned or given else Verdict.ADVICE
        words += ", and the step has two people lift it." if warned or given else ", more than one person should lift."
    else:
        verdict = Verdict.ADVICE if people <= MOST_LIFTERS else Verdict.STOP
        values = {"people": people}
        words += ", which takes {people} people to lift or to move out; two are not enough."
        if verdict is Verdict.STOP:
            words += " So many cannot get hold of one piece."
        at_step = sentence(
            "This weighs {mass}. Lift or move it with {people} people, or build it in sections where it will stand."
            if verdict is Verdict.ADVICE
            else "This weighs {mass}. Build it in sections where it will stand; do not lift it whole.",
            mass=Quantity(mass, "mass"),
            people=people,
        )
        remedy = sentence(
            "Make it of sections that are joined where it will stand, or waive this and say in a note on “{step}” who lifts.",
            step=step.id,
        )
    return result(
        LIFT,
        "Lifting",
        verdict,
        [bench.parts[one] for one in step.parts if one in bench.parts],
        sentence(words, step=step.number, what=what, mass=Quantity(mass, "mass"), **values),
        what=capitalized(what),
        figures=figures(mass=Quantity(mass, "mass"), people=people),
        limit=sentence("{limit} for one person", limit=Quantity(LIFT_ALONE, "mass")),
        source=LIFT_SOURCE,
        remedy=remedy,
        steps=(step.id,),
        caution=care if given else "",
        at_step=at_step,
    )


def people_for(mass: float) -> int:
    """How many people a mass in kg takes, each lifting no more than one person should."""
    return max(1, ceil(mass / LIFT_ALONE - 1e-9))


def _machine_work(bench: Bench) -> Iterator[tuple[Step, Operation, Tool, LeastPiece]]:
    for step in bench.derived.steps:
        for operation in step.operations:
            tool = operation.method.tools[0] if operation.method.tools else None
            if tool is not None and tool.least_piece is not None:
                yield step, operation, tool, tool.least_piece


def _stop(operation: Operation) -> Length | None:
    """The length that a crosscut cuts to: a piece that is trimmed later is longer at first."""
    return operation.settings.stop if isinstance(operation.settings, CrosscutSettings | CutOffSettings) else None


def _too_small(part: Part, least: LeastPiece, stop: Length | None) -> bool:
    return _too_short(part, least, stop) or part.size[1] < least.wide


def _too_short(part: Part, least: LeastPiece, stop: Length | None) -> bool:
    return (stop or part.size[0]) < least.long


def _step_of_sheet(bench: Bench, number: int) -> Step | None:
    wanted = f"sheet {number}"
    for step in bench.derived.steps:
        if step.scene and step.scene.layout == wanted:
            return step
    placed = {one.part for layout in bench.derived.layouts.sheets if layout.number == number for one in layout.placed}
    return next(
        (
            step
            for step in bench.derived.steps
            if any(operation.kind == "break-down" and placed & set(operation.parts) for operation in step.operations)
        ),
        None,
    )
