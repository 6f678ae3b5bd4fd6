"""Whether it can be made safely by one person: parts too small for a machine, too long for it, too heavy to lift alone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from drawleaf.checks.context import Bench, called, figures, names, result, sentence
from drawleaf.model.checks import CheckResult, Quantity, Verdict
from drawleaf.model.plan import BoxCut, Part
from drawleaf.model.steps import Operation, Step
from drawleaf.units import Length

SMALL, REACH, LIFT, CORNERS = "small-parts", "tool-reach", "heavy-lift", "inside-corners"


@dataclass(frozen=True, slots=True)
class Machine:
    """What a machine can hold safely: the shortest and narrowest finished part, the widest crosscut (None: any). In mm."""

    shortest: float
    narrowest: float
    widest: float | None = None


# Common practice, no source; the hand stays 6 in from a mitre saw's blade, and its 10 in blade crosses about a 1x6.
MACHINES = {
    "mitre saw": Machine(152.0, 0.0, 146.0),
    "table saw": Machine(254.0, 38.0),
    "router": Machine(152.0, 19.0),
}
ROUTER_KINDS = ("round-over", "chamfer", "channel")
LIFT_ALONE = 23.0
LIFT_SOURCE = "23 kg, the load constant of the NIOSH lifting equation (1994), from memory"
CARE = ("small", "large sheets", "heavy")
HEAVY = "heavy lift"
HOME = ("anchor-to-wall", "hang-on-wall", "set-in-place")


def check_small(bench: Bench) -> Iterator[CheckResult]:
    """Parts below the safe size for the machine that a step names, where the step has no caution for small parts."""
    for step, operation, machine, tool in _machine_work(bench):
        small = [bench.parts[one] for one in operation.parts if _too_small(bench.parts[one], machine)]
        if not small or (tool == "router" and operation.kind not in ROUTER_KINDS):
            continue
        warned = any(caution.id.startswith(CARE[0]) for caution in step.cautions)
        verdict = Verdict.PASS if warned else Verdict.ADVICE
        least = min(small, key=lambda part: part.size[0])
        words = "Step {step}: the {part} is {length} × {width}, which is little to hold at the {tool}"
        words += "; the step tells how to hold it." if warned else "."
        yield result(
            SMALL,
            "Small parts at a machine",
            verdict,
            small,
            sentence(words, step=step.number, part=called(least), length=least.size[0], width=least.size[1], tool=tool),
            figures=figures(length=least.size[0], width=least.size[1]),
            limit=sentence("{short} long at the {tool}", short=_length(machine.shortest), tool=tool),
            remedy=sentence(
                "Work the end of a longer piece and cut the part off last; say so in a note on “{step}”, or waive this.",
                step=step.id,
            ),
            steps=(step.id,),
        )


def check_reach(bench: Bench) -> Iterator[CheckResult]:
    """Boards wider than the saw can cross."""
    for step, operation, machine, tool in _machine_work(bench):
        if machine.widest is None or operation.kind != "crosscut":
            continue
        wide = [part for one in operation.parts if (part := bench.parts[one]) and _board_width(part) > machine.widest]
        if not wide:
            continue
        worst = max(wide, key=_board_width)
        yield result(
            REACH,
            "What the tools can reach",
            Verdict.ADVICE,
            wide,
            sentence(
                "Step {step}: the board for the {part} is {width} wide; a {tool} with a 10 in blade crosses about {reach}.",
                step=step.number,
                part=called(worst),
                width=_length(_board_width(worst)),
                tool=tool,
                reach=_length(machine.widest),
            ),
            figures=figures(board=_length(_board_width(worst)), reach=_length(machine.widest)),
            limit=sentence("{reach} for a 10 in {tool}", reach=_length(machine.widest), tool=tool),
            remedy=sentence("Say in a note that a sliding saw or the other way is needed, or choose another kit."),
            steps=(step.id,),
        )


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
                "The heaviest part weighs {part} and the whole piece {mass}: one person can lift it.",
                part=Quantity(most, "mass"),
                mass=Quantity(bench.derived.mass_kg, "mass"),
            ),
            what="Every part",
            figures=figures(heaviest_part=Quantity(most, "mass")),
            limit=sentence("{limit} for one person", limit=Quantity(LIFT_ALONE, "mass")),
            source=LIFT_SOURCE,
        )


def _lifts(bench: Bench) -> Iterator[tuple[float, Step, str]]:
    """What is lifted: mass in kg, in which step, in words. Sheets alike are told once."""
    told: set[str] = set()
    for layout in bench.derived.layouts.sheets:
        sheet, material = layout.sheet, layout.stock.material
        step = _step_of_sheet(bench, layout.number)
        what = f"a full sheet of {material.name.lower()}"
        if step is not None and what not in told:
            told.add(what)
            volume = sheet.length.mm * sheet.width.mm * layout.stock.thickness.mm / 1e9
            yield volume * material.density, step, what
    for step in bench.derived.steps:
        moves = {move.part for move in step.scene.moves} if step.scene else set()
        moved = [bench.parts[one] for one in step.parts if one in moves]
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


def _lift(bench: Bench, step: Step, what: str, mass: float) -> CheckResult:
    """The step is given the caution for two people, if it has none yet and the catalogue has one to give."""
    warned = any(caution.id.startswith(CARE[1:]) for caution in step.cautions)
    given = not warned and HEAVY in bench.plan.catalogue.cautions
    words = "Step {step}: {what} weighs {mass}"
    words += ", and the step has two people lift it." if warned or given else ", more than one person should lift."
    return result(
        LIFT,
        "Lifting",
        Verdict.PASS if warned or given else Verdict.ADVICE,
        [bench.parts[one] for one in step.parts if one in bench.parts],
        sentence(words, step=step.number, what=what, mass=Quantity(mass, "mass")),
        what=what[:1].upper() + what[1:],
        figures=figures(mass=Quantity(mass, "mass")),
        limit=sentence("{limit} for one person", limit=Quantity(LIFT_ALONE, "mass")),
        source=LIFT_SOURCE,
        remedy=sentence("Say in a note on “{step}” that two people lift here.", step=step.id),
        steps=(step.id,),
        caution=HEAVY if given else "",
    )


def check_corners(bench: Bench) -> Iterator[CheckResult]:
    """Inside corners that a round cutter leaves round, and whether the step squares them."""
    for step in bench.derived.steps:
        for operation in step.operations:
            if not operation.method.tools or operation.method.tools[0].id != "router":
                continue
            stopped = [
                bench.parts[part]
                for part, feature in operation.features
                if isinstance(feature, BoxCut) and _ends_blind(feature)
            ]
            if not stopped:
                continue
            squared = any(tool.id == "chisel" for tool in step.tools)
            words = "Step {step}: the router leaves round ends in the {parts}"
            words += "; a chisel squares them." if squared else ", and the part that goes in has square corners."
            yield result(
                CORNERS,
                "Inside corners",
                Verdict.PASS if squared else Verdict.ADVICE,
                stopped,
                sentence(words, step=step.number, parts=names(stopped).lower()),
                limit=sentence("a square corner is cut square by a tool of the step"),
                remedy=sentence("Let the channel run right through, or say in a note how its ends are squared."),
                position=operation.features[0][1].position,
                steps=(step.id,),
            )


def _machine_work(bench: Bench) -> Iterator[tuple[Step, Operation, Machine, str]]:
    for step in bench.derived.steps:
        for operation in step.operations:
            tool = operation.method.tools[0].id if operation.method.tools else ""
            if tool in MACHINES:
                yield step, operation, MACHINES[tool], tool


def _too_small(part: Part, machine: Machine) -> bool:
    length, width, _ = part.size
    return length.mm < machine.shortest or width.mm < machine.narrowest


def _board_width(part: Part) -> float:
    """A part is crosscut from its board before it is ripped."""
    return part.stock.width.mm if part.stock.width is not None else part.size[1].mm


def _ends_blind(cut: BoxCut) -> bool:
    """Whether a channel ends inside the part: its long way has an end that breaks through no face."""
    sides = list(cut.into.axis.others())
    run = max(sides, key=lambda axis: cut.box.extent(axis))
    return not {run.low, run.high} <= set(cut.open)


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


def _length(value: float) -> Length:
    return Length.of_mm(int(value)) if value == int(value) else Length.of_inches(1) * round(value / 25.4 * 8) / 8
