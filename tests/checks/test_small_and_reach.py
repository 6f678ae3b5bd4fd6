"""Small parts, long parts, reach of tools, inside corners: a pass, advice and a stop of each, where it has one; and what must hold for all."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import pytest
from tests.checks.conftest import figure, found
from tests.hardware.conftest import library

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.checks import with_results
from drawleaf.checks.context import Bench
from drawleaf.checks.making import LONG_CARE, check_long, check_small
from drawleaf.checks.reach import ACROSS, check_corners, check_reach
from drawleaf.compiler import Choice, Outcome
from drawleaf.model.checks import CheckResult, Verdict
from drawleaf.model.derived import Derived
from drawleaf.model.place import Axis, Span
from drawleaf.model.settings import NO_SETTINGS
from drawleaf.model.steps import Step
from drawleaf.model.tools import Reach, Tool
from drawleaf.solids.build import build_solids
from drawleaf.units import ZERO, Length


def derived(outcome: Outcome) -> Derived:
    assert outcome.derived is not None, outcome.diagnostics
    return outcome.derived


def bench_of(plan: Derived) -> Bench:
    return Bench(plan, build_solids(plan.plan))


def changed(plan: Derived, change) -> Bench:
    """The same plan with its steps changed."""
    return bench_of(replace(plan, steps=tuple(change(step) for step in plan.steps)))


def verdicts(results: Iterable[CheckResult]) -> set[Verdict]:
    return {one.verdict for one in results}


BLOCKS = """
stock:
  pine: {{material: pine board, size: 1x3}}
assemblies:
  block:
    parts:
      rail: {{stock: pine, thickness: y, grain: x, left: 0, right: 300 mm, front: 0, bottom: 0, high: 40 mm}}
      block: {{stock: pine, thickness: y, grain: x, left: 0, right: {long} mm, back: rail.front, bottom: 0, high: 40 mm}}
    joints:
      - {{butt: block, to: rail, with: [glue]}}
"""


def uncautioned(step: Step) -> Step:
    return replace(step, cautions=tuple(one for one in step.cautions if not one.id.startswith("small")))


@pytest.mark.parametrize(("long", "verdict"), [(160, None), (120, Verdict.ADVICE), (60, Verdict.ADVICE), (45, None)])
def test_a_short_block_at_the_mitre_saw(checked, long: int, verdict: Verdict | None) -> None:
    """6 in (152 mm) may be held at the saw; a shorter block wants a caution in its step. Under 2 in it is cut off by hand."""
    plan = derived(checked(BLOCKS.format(long=long)))
    as_told = [one for one in check_small(bench_of(plan)) if "mitre saw" in str(one.words.values)]
    assert verdicts(as_told) == (set() if verdict is None else {Verdict.PASS})
    without = [one for one in check_small(changed(plan, uncautioned)) if "mitre saw" in str(one.words.values)]
    assert verdicts(without) == (set() if verdict is None else {verdict})


def test_a_narrow_block_is_held_against_a_width(checked) -> None:
    """Long enough for the saw and too narrow: what it is held against is the width, no length that it has."""

    def wider(step: Step) -> Step:
        operations = []
        for one in step.operations:
            tools = tuple(
                replace(tool, least_piece=replace(tool.least_piece, wide=Length.of_mm(60)))
                if tool.least_piece
                else tool
                for tool in one.method.tools
            )
            operations.append(replace(one, method=replace(one.method, tools=tools)))
        return replace(uncautioned(step), operations=tuple(operations))

    plan = derived(checked(BLOCKS.format(long=160)))
    told = [one for one in check_small(changed(plan, wider)) if "mitre saw" in str(one.words.values)]
    assert told
    assert {one.limit.template.partition(" ")[0] for one in told} == {"{wide}"}


ROUNDED = (
    BLOCKS
    + """\
    machining:
      - {{in: block, round_over: {{edges: [front-top], size: 3 mm}}}}
"""
)


@pytest.mark.parametrize(("long", "verdict"), [(160, None), (120, Verdict.ADVICE), (45, Verdict.STOP)])
def test_a_tiny_block_is_refused_at_the_router(checked, long: int, verdict: Verdict | None) -> None:
    """A short block is advised against; one of 45 mm is refused, whatever the step says."""
    told = check_small(bench_of(derived(checked(ROUNDED.format(long=long)))))
    assert verdicts(one for one in told if "router" in str(one.words.values)) == (
        set() if verdict is None else {verdict}
    )


@pytest.mark.parametrize(("long", "verdict"), [(110, None), (100, None), (90, Verdict.ADVICE), (30, Verdict.STOP)])
def test_a_short_block_at_the_bandsaw(checked, long: int, verdict: Verdict | None) -> None:
    """A hand's breadth may be steered past the blade; less leaves the fingers no room."""
    plan = derived(checked(BLOCKS.format(long=160)))
    saw = plan.plan.catalogue.tools["bandsaw"]
    block = replace(
        plan.plan.parts[-1], body=plan.plan.parts[-1].body.with_span(Axis.X, Span(ZERO, Length.of_mm(long)))
    )

    def sawn(step: Step) -> Step:
        uncut = [
            replace(one, kind="saw-curve", method=replace(one.method, tools=(saw,)), settings=NO_SETTINGS)
            for one in step.operations
            if one.kind == "join"
        ]
        return replace(uncautioned(step), operations=tuple(uncut))

    bench = changed(plan, sawn)
    bench.parts[block.id] = block
    told = [one for one in check_small(bench) if one.verdict is not Verdict.PASS]
    assert verdicts(told) == (set() if verdict is None else {verdict})


STRIP = """
making: {{kit: full shop}}
stock:
  oak: {{material: red oak board, size: 1x6}}
  thin: {{material: red oak board, size: 1x6, actual: {thick} in}}
assemblies:
  box:
    parts:
      base: {{stock: oak, thickness: z, grain: x, left: 0, right: 300 mm, front: 0, back: 100 mm, top: 0}}
      strip: {{stock: thin, thickness: y, grain: x, left: 0, right: 300 mm, front: 0, bottom: 0, high: {high} in}}
      block: {{stock: oak, thickness: y, grain: x, left: 0, right: {long} in, front: 40 mm, bottom: 0, high: 1-1/4 in}}
    joints:
      - {{butt: strip, to: base, with: [glue]}}
      - {{butt: block, to: base, with: [glue]}}
"""


def ways_of(plan: Derived, part: str) -> dict[str, str]:
    return {
        op.kind: op.method.tools[0].id
        for step in plan.steps
        for op in step.operations
        if part in op.parts and op.kind in ("rip", "cut-off", "crosscut", "plane-to-thickness")
    }


@pytest.mark.parametrize(("thick", "high", "long", "rip", "off"), [
    ("1/8", "1/2", "1-1/4", "bandsaw", "mitre box"),
    ("1/2", "1-1/2", "4", "table saw", "mitre saw"),
])  # fmt: skip
def test_slivers_stay_off_the_table_saw(checked, thick: str, high: str, long: str, rip: str, off: str) -> None:
    """A strip 1/8 x 1/2 in and a piece of 1-1/4 in stay off the table saw and the mitre saw: the strip goes through the bandsaw, which throws
    nothing back, the piece into a mitre box. Thicker and longer ones are cut as ever."""
    text = STRIP.format(thick=thick, high=high, long=long).replace("making: {kit: full shop}\n", "")
    plan = derived(checked(text, Choice(kit="full shop")))
    assert ways_of(plan, "box.strip")["rip"] == rip
    assert set(ways_of(plan, "box.block").values()) >= {off}


@pytest.mark.parametrize(("thick", "carrier"), [("1/8", True), ("1/2", False)])
def test_a_thin_board_is_planed_on_a_carrier(checked, thick: str, carrier: bool) -> None:
    plan = derived(
        checked(
            STRIP.format(thick=thick, high="1-1/2", long="4").replace("making: {kit: full shop}\n", ""),
            Choice(kit="full shop"),
        )
    )
    step = next(step for step in plan.steps if any(op.kind == "plane-to-thickness" for op in step.operations))
    words = " ".join(map(str, step_text(step, plan, Formatter.of(plan.plan)).actions))
    assert ("carrier" in words) is carrier


def test_a_machine_asks_for_more_than_a_hands_breadth() -> None:
    """Nothing that is under 100 mm long is let to a machine without a word."""
    least = {name: tool.least_piece for name, tool in library().catalogue.tools.items() if tool.least_piece is not None}
    assert {"mitre saw", "table saw", "circular saw", "jigsaw", "router", "router table"} <= least.keys()
    assert all(piece.long.mm >= 100 for piece in least.values())


LONG = """
stock:
  ply: {{material: birch plywood, nominal: 18 mm, actual: 18 mm}}
assemblies:
  case:
    parts:
      side: {{stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 300 mm, bottom: 0, top: 400 mm, mirror: {{x: {half} mm}}}}
      shelf: {{stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 300 mm, bottom: 100 mm}}
    joints:
      - {{dado: shelf, in: side, depth: 6 mm, with: [glue]}}
checks: {{waive: [{{check: shelf-sag, reason: It is only long.}}]}}
"""


def test_a_long_part_gives_its_step_the_caution(checked) -> None:
    plan = derived(checked(LONG.format(half=1100)))
    result = found(checked(LONG.format(half=1100)), "long-parts")
    assert result.verdict is Verdict.PASS
    assert result.caution == LONG_CARE
    assert figure(result, "length") == 2176
    for step in plan.steps:
        assert (LONG_CARE in [one.id for one in step.cautions]) == (step.id in result.steps)


def test_without_that_caution_the_author_is_advised(checked) -> None:
    plan = derived(checked(LONG.format(half=1100)))
    catalogue = plan.plan.catalogue
    cautions = {name: one for name, one in catalogue.cautions.items() if name != LONG_CARE}
    bare = replace(plan, plan=replace(plan.plan, catalogue=replace(catalogue, cautions=cautions)))
    assert verdicts(check_long(bench_of(bare))) == {Verdict.ADVICE}


def test_a_short_one_needs_none(checked) -> None:
    result = found(checked(LONG.format(half=600)), "long-parts")
    assert (result.verdict, result.caution) == (Verdict.PASS, "")


WIDE = """
stock:
  plank: {material: pine board, size: 1x10}
assemblies:
  block:
    parts:
      rail: {stock: plank, thickness: y, grain: x, left: 0, right: 300 mm, front: 0, bottom: 0, high: 230 mm}
"""


def at_mitre_saw(plan: Derived, *, others: bool, wide: float = 146.0) -> Bench:
    """The plan with every crosscut at the mitre saw, which crosses so many mm, and with or without the other ways that the kit has."""
    tools = plan.plan.catalogue.tools
    saw = replace(tools["mitre saw"], reach=Reach(Length.of_mm(round(wide)), Length.of_mm(89)))
    other = tools["circular saw"]

    def sawn(step: Step) -> Step:
        return replace(
            step,
            operations=tuple(
                replace(
                    one,
                    method=replace(one.method, tools=(saw,)) if one.kind in ACROSS else one.method,
                    others=(replace(one.method, tools=(other,), borrow=()),) if others else (),
                )
                for one in step.operations
            ),
        )

    return changed(plan, sawn)


def beyond(bench: Bench) -> list[CheckResult]:
    return [one for one in check_reach(bench) if one.verdict is not Verdict.PASS]


def test_a_board_wider_than_the_saw_is_advised(checked) -> None:
    """A 1x10 is 235 mm wide and a 10 in mitre saw crosses 146: the kit has another way, or one turns the board."""
    plan = derived(checked(WIDE))
    (other,) = beyond(at_mitre_saw(plan, others=True))
    assert other.verdict is Verdict.ADVICE
    assert "other way" in other.remedy.template
    (turned,) = beyond(at_mitre_saw(plan, others=False))
    assert turned.verdict is Verdict.ADVICE
    assert "turn the board over" in turned.remedy.template


def test_what_no_tool_reaches_is_a_stop(checked) -> None:
    (stop,) = beyond(at_mitre_saw(derived(checked(WIDE)), others=False, wide=100.0))
    assert stop.verdict is Verdict.STOP
    assert figure(stop, "reach") == 100


def test_a_longer_reach_never_finds_more(checked) -> None:
    plan = derived(checked(WIDE))
    order = list(Verdict)
    gravest = []
    for widest in (60.0, 110.0, 140.0, 230.0, 240.0, 400.0):
        bench = at_mitre_saw(plan, others=False, wide=widest)
        gravest.append(max((order.index(one.verdict) for one in beyond(bench)), default=0))
    assert gravest == sorted(gravest, reverse=True)
    assert set(gravest) == {0, 1, 2}


def test_within_reach_passes_once(checked) -> None:
    results = [one for one in derived(checked(BLOCKS.format(long=160))).checks if one.check == "tool-reach"]
    assert [one.verdict for one in results] == [Verdict.PASS]


STOPPED = """
stock:
  ply: {{material: birch plywood, nominal: 18 mm, actual: 18 mm}}
assemblies:
  case:
    parts:
      side: {{stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 300 mm, bottom: 0, top: 400 mm, mirror: {{x: 300 mm}}}}
      shelf: {{stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 300 mm, bottom: 100 mm}}
    joints:
      - {{dado: shelf, in: side, depth: 6 mm, {stop}with: [glue]}}
"""


def routed(plan: Derived, *, chisel: bool, owned: bool = True) -> list[CheckResult]:
    """Corners where every channel is cut with a router, and the step has a chisel or not, and the kit one or not."""
    router, chisel_tool = plan.plan.catalogue.tools["router"], plan.plan.catalogue.tools["chisel"]

    def by_router(step: Step) -> Step:
        if not any(one.kind == "channel" for one in step.operations):
            return step
        operations = tuple(
            replace(one, method=replace(one.method, tools=(router, *one.method.tools))) for one in step.operations
        )
        tools: list[Tool] = [tool for tool in step.tools if tool.id != "chisel"]
        return replace(step, operations=operations, tools=(*tools, chisel_tool) if chisel else tuple(tools))

    kits = {
        name: kit if owned else replace(kit, tools=kit.tools - {"chisel"})
        for name, kit in plan.plan.catalogue.kits.items()
    }
    plan = replace(plan, plan=replace(plan.plan, catalogue=replace(plan.plan.catalogue, kits=kits)))
    return list(check_corners(changed(plan, by_router)))


def test_a_stopped_dado_needs_a_chisel(checked) -> None:
    """Otherwise its code is `inside-corners`: the way of working has a chisel, one of an author's own may have none."""
    plan = derived(checked(STOPPED.format(stop="stopped: {front: 12 mm}, ")))
    assert verdicts(routed(plan, chisel=True)) == {Verdict.PASS}
    assert verdicts(routed(plan, chisel=False)) == {Verdict.ADVICE}
    assert {one.check for one in routed(plan, chisel=False)} == {"inside-corners"}
    assert verdicts(routed(plan, chisel=False, owned=False)) == {Verdict.STOP}


def test_a_dado_right_through_has_no_corners(checked) -> None:
    assert routed(derived(checked(STOPPED.format(stop=""))), chisel=False) == []


def test_a_caution_is_given_once(checked) -> None:
    plan = derived(checked(LONG.format(half=1100)))
    again = with_results(plan, plan.checks)
    for step in again.steps:
        ids = [one.id for one in step.cautions]
        assert len(ids) == len(set(ids))
