"""What the tools of the steps can do: how wide and how thick they cut, and the corners that a round cutter leaves round."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from drawleaf.checks.context import Bench, called, figures, mm, names, result, sentence
from drawleaf.model.checks import CheckResult, Verdict
from drawleaf.model.plan import BoxCut, Part
from drawleaf.model.position import Position
from drawleaf.model.steps import Method, Operation, Step

REACH, CORNERS = "tool-reach", "inside-corners"


@dataclass(frozen=True, slots=True)
class Reach:
    """How far a tool cuts in one pass, in mm; None for as far as you like. ``widest`` across a board, ``deepest`` into it."""

    widest: float | None
    deepest: float


# Common practice, no source: a 10 in mitre saw crosses about a 1x6 and a 4x4, a 7-1/4 in circular saw goes 2-3/8 in deep, a 10 in table
# saw 3-1/8 in; a router's straight bit has 1-1/4 in of edge.
REACHES = {
    "mitre saw": Reach(146.0, 89.0),
    "circular saw": Reach(None, 60.0),
    "table saw": Reach(None, 79.0),
    "jigsaw": Reach(None, 60.0),
    "router": Reach(None, 32.0),
}
ACROSS = ("crosscut", "cut-off")
SAWN = (*ACROSS, "rip", "break-down", "trim-part", "trim-panel", "notch")
CUT_IN = ("channel", "notch")


def check_reach(bench: Bench) -> Iterator[CheckResult]:
    """What is too wide or too thick for the tool that a step names: advice where another way of the kit does it, or a cut from both
    faces; a stop where none does. One pass for all where nothing is."""
    looked = False
    found = False
    for step in bench.derived.steps:
        for operation in step.operations:
            reach = _reach(operation.method)
            if reach is None or operation.kind not in (*SAWN, *CUT_IN):
                continue
            looked = True
            trouble = _beyond(bench, operation, reach)
            if trouble is not None:
                found = True
                yield _out_of_reach(step, operation, reach, *trouble)
    if looked and not found:
        yield result(
            REACH,
            "What the tools can reach",
            Verdict.PASS,
            (),
            sentence("Every saw and router in the steps reaches through what it has to cut."),
            what="Every cut",
            limit=sentence("the width and depth that common tools of each kind cut"),
        )


def _reach(method: Method) -> Reach | None:
    return REACHES.get(method.tools[0].id) if method.tools else None


def _beyond(bench: Bench, operation: Operation, reach: Reach) -> tuple[Part, str, float] | None:
    """The part that is farthest beyond reach, in which way, and how far it has to be cut."""
    worst: tuple[float, Part, str, float] | None = None
    for one in operation.parts:
        part = bench.parts[one]
        for way, size, most in _sizes(part, operation, reach):
            if most is not None and size > most + 0.1 and (worst is None or size / most > worst[0]):
                worst = (size / most, part, way, size)
    return worst[1:] if worst is not None else None


def _sizes(part: Part, operation: Operation, reach: Reach) -> Iterator[tuple[str, float, float | None]]:
    if operation.kind in CUT_IN:
        cuts = [cut for owner, cut in operation.features if owner == part.id and isinstance(cut, BoxCut)]
        yield "deep", max((cut.box.extent(cut.into.axis).mm for cut in cuts), default=0.0), reach.deepest
        return
    if operation.kind in ACROSS:
        # A part is crosscut from its whole board, or cut off the strip that was ripped for it.
        board = part.stock.width if operation.kind == "crosscut" else None
        yield "wide", (board or part.size[1]).mm, reach.widest
    yield "thick", part.stock.thickness.mm, reach.deepest


def _out_of_reach(step: Step, operation: Operation, reach: Reach, part: Part, way: str, size: float) -> CheckResult:
    most = (reach.widest if way == "wide" else reach.deepest) or 0.0
    tool = operation.method.tools[0].name.lower()
    other = next((one for one in operation.others if not one.borrow and _does(one, way, size)), None)
    turned = size <= 2 * most and way != "deep"
    values = {
        "step": step.number,
        "part": called(part),
        "size": mm(size),
        "tool": tool,
        "most": mm(most),
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
        figures=figures(size=mm(size), reach=mm(most)),
        limit=sentence("{most} for a {tool}", most=mm(most), tool=tool),
        remedy=sentence(
            advice or "No tool of the set does it: make the part smaller, or write the plan for other “tools”.",
            **values,
        ),
        steps=(step.id,),
    )


def _does(method: Method, way: str, size: float) -> bool:
    """Whether a way of working has no such limit, or one that is far enough."""
    reach = _reach(method)
    most = None if reach is None else reach.widest if way == "wide" else reach.deepest
    return most is None or size <= most


def check_corners(bench: Bench) -> Iterator[CheckResult]:
    """Inside corners that a round cutter leaves round: whether the step squares them, or anything in the kit could."""
    kit = bench.plan.catalogue.kits.get(bench.plan.making.kit)
    owned = kit is None or "chisel" in kit.tools
    for step in bench.derived.steps:
        stopped = [
            (bench.parts[part], feature)
            for operation in step.operations
            if operation.method.tools and operation.method.tools[0].id == "router"
            for part, feature in operation.features
            if isinstance(feature, BoxCut) and _ends_blind(feature)
        ]
        if stopped:
            parts = list(dict.fromkeys(part for part, _ in stopped))
            squared = any(tool.id == "chisel" for tool in step.tools)
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
