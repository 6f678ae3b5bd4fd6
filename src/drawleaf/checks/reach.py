"""What the tools of the steps can do: how wide and how thick they cut, and the corners that a round cutter leaves round."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from drawleaf.checks.context import Bench, called, figures, names, result, sentence
from drawleaf.model.checks import CheckResult, Verdict
from drawleaf.model.looking_through import tools_that_square
from drawleaf.model.plan import BoxCut, Part
from drawleaf.model.position import Position
from drawleaf.model.steps import Method, Operation, Step
from drawleaf.model.tools import Reach
from drawleaf.units import ZERO, Length

HAIR = Length.of_mm(Fraction(1, 10))
REACH, CORNERS = "tool-reach", "inside-corners"


ACROSS = ("crosscut", "cut-off")
SAWN = (*ACROSS, "rip", "break-down", "trim-part", "trim-panel", "notch")
CUT_IN = ("channel", "notch")


def check_reach(bench: Bench) -> Iterator[CheckResult]:
    """What is too wide or too thick for the tool that a step names: advice where another way of the kit does it, or a cut from both
    faces; a stop where none does. One pass for all where nothing is."""
    asked = 0
    found = False
    for step in bench.derived.steps:
        for operation in step.operations:
            reach = _reach(operation.method)
            if reach is None or operation.kind not in (*SAWN, *CUT_IN):
                continue
            asked += len(operation.parts)
            trouble = _beyond(bench, operation, reach)
            if trouble is not None:
                found = True
                yield _out_of_reach(step, operation, reach, *trouble)
    if asked and not found:
        yield result(
            REACH,
            "What the tools can reach",
            Verdict.PASS,
            (),
            sentence(
                "In {count} at a saw or a router, each counted at every such step, no wood is wider or thicker than that tool commonly cuts.",
                count=f"{asked} parts" if asked > 1 else "one part",
            ),
            what="Every cut",
            figures=figures(asked=asked),
            limit=sentence("the width and depth that common tools of each kind cut"),
        )


def _reach(method: Method) -> Reach | None:
    return method.tools[0].reach if method.tools else None


def _beyond(bench: Bench, operation: Operation, reach: Reach) -> tuple[Part, str, Length] | None:
    """The part that is farthest beyond reach, in which way, and how far it has to be cut."""
    worst: tuple[Fraction, Part, str, Length] | None = None
    for one in operation.parts:
        part = bench.parts[one]
        for way, size, most in _sizes(part, operation, reach):
            if most is not None and size > most + HAIR and (worst is None or size.ratio(most) > worst[0]):
                worst = (size.ratio(most), part, way, size)
    return worst[1:] if worst is not None else None


def _sizes(part: Part, operation: Operation, reach: Reach) -> Iterator[tuple[str, Length, Length | None]]:
    if operation.kind in CUT_IN:
        cuts = [cut for owner, cut in operation.features if owner == part.id and isinstance(cut, BoxCut)]
        yield "deep", max((cut.box.extent(cut.into.axis) for cut in cuts), default=ZERO), reach.deep
        return
    if operation.kind in ACROSS:
        # A part is crosscut from its whole board, or cut off the strip that was ripped for it.
        board = part.stock.width if operation.kind == "crosscut" else None
        strip = part.glue_up.strip_width if part.glue_up is not None else None  # a panel is not glued up by then
        yield "wide", board or strip or part.size[1], reach.wide
    yield "thick", part.stock.thickness, reach.deep


def _out_of_reach(step: Step, operation: Operation, reach: Reach, part: Part, way: str, size: Length) -> CheckResult:
    most = (reach.wide if way == "wide" else reach.deep) or ZERO
    tool = operation.method.tools[0].name.lower()
    other = next((one for one in operation.others if not one.borrow and _does(one, way, size)), None)
    turned = size <= 2 * most and way != "deep"
    values = {
        "step": step.number,
        "part": called(part),
        "size": size,
        "tool": tool,
        "most": most,
        "id": step.id,
        "other": other.name if other is not None else "",
    }
    words = {
        "wide": "Step {step}: the board for the {part} is {size} wide; a {tool} cuts {most} wide in one pass.",
        "thick": "Step {step}: the {part} is {size} thick; a {tool} cuts {most} deep in one pass.",
        "deep": "Step {step}: the cut in the {part} is {size} deep; a {tool} with its usual bit goes {most} deep.",
    }[way]
    if other is not None:
        advice = "Do it the other way: {other}."
    elif turned:
        advice = "Cut from one face, turn the board over against the same stop, and finish from the other."
    else:
        advice = ""
    return result(
        REACH,
        "What the tools can reach",
        Verdict.ADVICE if advice else Verdict.STOP,
        (part,),
        sentence(words, **values),
        figures=figures(size=size, reach=most),
        limit=sentence("{most} for a {tool}", most=most, tool=tool),
        remedy=sentence(
            advice or "No tool of the set does it: make the part smaller, or write the plan for other “tools”.",
            **values,
        ),
        steps=(step.id,),
    )


def _does(method: Method, way: str, size: Length) -> bool:
    """Whether a way of working has no such limit, or one that is far enough."""
    reach = _reach(method)
    most = None if reach is None else reach.wide if way == "wide" else reach.deep
    return most is None or size <= most


def check_corners(bench: Bench) -> Iterator[CheckResult]:
    """Inside corners that a round cutter leaves round: whether the step squares them, or anything in the kit could."""
    kit = bench.plan.catalogue.kits.get(bench.plan.making.kit)
    owned = kit is None or bool(tools_that_square(bench.plan.catalogue.tools) & kit.tools)
    for step in bench.derived.steps:
        stopped = [
            (bench.parts[part], feature)
            for operation in step.operations
            if operation.method.tools and operation.method.tools[0].leaves_round
            for part, feature in operation.features
            if isinstance(feature, BoxCut) and _ends_blind(feature)
        ]
        if stopped:
            parts = list(dict.fromkeys(part for part, _ in stopped))
            squared = any(tool.squares for tool in step.tools)
            yield _corners(step, parts, stopped[0][1].position, squared=squared, owned=owned)


def _corners(step: Step, stopped: list[Part], position: Position, *, squared: bool, owned: bool) -> CheckResult:
    words = "Step {step}: the router leaves round ends in the {parts}"
    words += "; a chisel squares them." if squared else ", and the part that goes in has square corners."
    remedy = (
        "Let the channel run right through, or say in a note on “{id}” that a chisel squares its ends."
        if owned
        else "The tool set has nothing that squares them: let the channel run right through, or add a chisel to it."
    )
    return result(
        CORNERS,
        "Inside corners",
        Verdict.PASS if squared else Verdict.ADVICE if owned else Verdict.STOP,
        stopped,
        sentence(words, step=step.number, parts=names(stopped).lower()),
        limit=sentence("a square corner is cut square by a tool of the step"),
        remedy=sentence(remedy, id=step.id),
        position=position,
        steps=(step.id,),
    )


def _ends_blind(cut: BoxCut) -> bool:
    """Whether a channel ends inside the part: its long way has an end that breaks through no face."""
    sides = list(cut.into.axis.others())
    run = max(sides, key=lambda axis: cut.box.extent(axis))
    return not {run.low, run.high} <= set(cut.open)
