"""Screws: through, into, out of; edges, ends; pockets; what a wall screw holds."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.checks.conftest import figure, found
from tests.conftest import outcome_of

from drawleaf.checks.screws import Hold, _verdict
from drawleaf.checks.wall_hanging import withdrawal_design, withdrawal_ultimate
from drawleaf.joinery.pockets import pocket_length
from drawleaf.model.checks import Verdict
from drawleaf.model.plan import Fastener
from drawleaf.units import Length

GOOD = Hold(skin=18, entry=25, left=10, edge=2.5, end=6)


def any_screw() -> Fastener:
    derived = outcome_of("key-ledge").derived
    assert derived is not None
    return derived.plan.joints[0].fasteners[0]


@pytest.mark.parametrize(
    ("hold", "verdict"),
    [
        (GOOD, Verdict.PASS),
        (Hold(18, 25, -0.5, 2.5, 6), Verdict.STOP),  # its point comes out
        (Hold(18, 25, 1.0, 2.5, 6), Verdict.ADVICE),  # within 1.5 mm of the far face
        (Hold(18, 4, 30, 2.5, 6), Verdict.STOP),  # hardly enters
        (Hold(18, 9, 30, 2.5, 6), Verdict.ADVICE),  # enters by less than two thirds of what it fastens
        (Hold(18, 9, 2.0, 2.5, 6), Verdict.PASS),  # no thicker wood to enter
        (Hold(18, 25, 10, 0.8, 6), Verdict.STOP),  # breaks out of an edge
        (Hold(18, 25, 10, 1.4, 6), Verdict.ADVICE),
        (Hold(18, 25, 10, 2.5, 2), Verdict.ADVICE),  # near the end of a board
    ],
)
def test_verdicts(hold: Hold, verdict: Verdict) -> None:
    assert _verdict(any_screw(), hold) is verdict


def test_the_ledges_screws_by_hand() -> None:
    """#8 x 2 in through 3/4 in of back into the shelf's edge: enters by 1-1/4 in, which is more than two thirds of 3/4 in."""
    result = found(outcome_of("key-ledge"), "screws", "ledge.shelf")
    assert result.verdict is Verdict.PASS
    assert figure(result, "enters") == pytest.approx(1.25 * 25.4)
    assert figure(result, "should enter") == pytest.approx(0.5 * 25.4)


def test_screws_into_the_edge_of_a_thin_shelf_are_advised(case) -> None:
    result = found(case(thick=12), "screws", "case.shelf")
    assert result.verdict is Verdict.ADVICE
    assert "edge" in result.words.template


def test_a_pocket_screw_of_the_wrong_length_is_advised(case) -> None:
    rail = "      rail: {stock: ply, thickness: y, grain: x, left: side.right, right: side.mirrored.left, back: deep, bottom: 0, high: 80 mm}"
    line = "      - {butt: rail, to: side, with: [{pocket_screws: {item: pocket screw 1 coarse, on: front, count: 2}}]}"
    assert found(case(parts=rail, joints=line), "screws", "case.rail").verdict is Verdict.ADVICE
    right = line.replace("pocket screw 1 coarse", "pocket screw 1-1/4 coarse")
    assert found(case(parts=rail, joints=right), "screws", "case.rail").verdict is Verdict.PASS


@pytest.mark.parametrize(
    ("thick", "inches"),
    [(12, "1"), (16, "1"), (18, "5/4"), (22, "5/4"), (25, "3/2"), (32, "3/2"), (38, "5/2"), (45, "5/2")],
)
def test_metric_stock_takes_the_pocket_screw_of_its_inch_size(thick: int, inches: str) -> None:
    """By the makers' charts from memory: 1 in for 1/2 and 5/8 in, 1-1/4 for 3/4 and 7/8, 1-1/2 for 1 to 1-1/4, 2-1/2 for 1-1/2."""
    assert pocket_length(Length.of_mm(thick)) == Length.of_inches(Fraction(inches))


def test_stock_of_16_mm_is_fastened_with_the_screw_that_its_check_asks_for(case) -> None:
    """The joint chose by a limit of 5/8 in and the check by one of 16 mm, so 16 mm stock got a screw that came out of it."""
    rail = "      rail: {stock: ply, thickness: y, grain: x, left: side.right, right: side.mirrored.left, back: deep, bottom: 0, high: 80 mm}"
    line = "      - {butt: rail, to: side, with: [{pocket_screws: {on: front, count: 2}}]}"
    plan = case(parts=rail, joints=line, thick=16)
    assert found(plan, "screws", "case.rail").verdict is Verdict.PASS


@given(st.floats(6, 40), st.floats(0.1, 5))
def test_thicker_stock_never_asks_for_a_shorter_pocket_screw(thick: float, more: float) -> None:
    shorter, longer = (pocket_length(Length.of_mm(Fraction(stock))) for stock in (thick, thick + more))
    assert shorter is not None
    assert longer is None or longer >= shorter


@given(st.floats(0.3, 0.8), st.floats(3, 6), st.floats(10, 60))
def test_withdrawal_grows_with_thread_and_with_the_square_of_density(
    gravity: float, wide: float, thread: float
) -> None:
    for formula in (withdrawal_design, withdrawal_ultimate):
        once = formula(gravity, wide, thread)
        assert formula(gravity, wide, 2 * thread) == pytest.approx(2 * once)
        assert formula(2 * gravity, wide, thread) == pytest.approx(4 * once)


def test_the_ledge_hangs_well() -> None:
    result = found(outcome_of("key-ledge"), "wall-hanging")
    assert result.verdict is Verdict.PASS
    # Two #10 screws, 3 in less 3/4 in of board and 1/2 in of plasterboard is 1.75 in of thread: 2 x 2850 x 0.42^2 x 0.19 x 1.75 = 334 lb
    assert figure(result, "screws hold") / 4.4482216 == pytest.approx(334, abs=1)


def test_wall_screws_bear_the_weight_across_their_length(checked) -> None:
    """Two #10 screws through 3/4 in of pine: about 64 lb each by the yield equations. 100 kg (220 lb) is over 128 lb, 200 kg over twice that."""
    plan = """
stock: {{board: {{material: pine board, size: 18x144}}}}
assemblies:
  shelf:
    parts:
      top: {{stock: board, thickness: z, full_width: y, grain: x, left: 0, right: 600, front: 0, bottom: 144}}
      back: {{stock: board, thickness: y, full_width: z, grain: x, left: 0, right: 600, back: 144, bottom: 0}}
    joints: [{{butt: back, to: top, with: [glue, {{dowels: 4}}]}}]
    hardware: [{{item: wall screw, on: back, face: front, at: {{x: 100, z: 100}}, repeat: {{along: x, at: [0, 400]}}}}]
checks: {{loads: [{{on: shelf.top, load: {} kg}}]}}
"""
    verdicts = {
        load: next(
            one.verdict
            for one in checked(plan.format(load)).derived.checks
            if any(f.name == "screws bear" for f in one.figures)
        )
        for load in (30, 100, 200)
    }
    assert verdicts == {30: Verdict.PASS, 100: Verdict.ADVICE, 200: Verdict.STOP}


def test_a_bare_top_that_the_plan_says_nothing_of_carries_an_ordinary_load(checked) -> None:
    """A shelf on a cleat, held along its whole back: 600 x 140 mm at 1915 Pa is 161 N, over its own few newtons."""
    outcome = checked("""
stock: {board: {material: pine board, size: 18x144}, strip: {material: pine board, size: 18x69}}
assemblies:
  shelf:
    parts:
      top: {stock: board, thickness: z, grain: x, left: 0, right: 600, front: 0, deep: 140, bottom: 69}
      cleat: {stock: strip, thickness: y, full_width: z, grain: x, left: 0, right: 600, back: 140, top: top.bottom}
    joints: [{butt: cleat, to: top, with: [glue, {screws: {through: top}}]}]
    hardware: [{item: wall screw, on: cleat, face: front, at: {x: 300, z: 20}}]
""")
    result = found(outcome, "wall-hanging")
    assert 161 < figure(result, "load") < 190
    assert ("count", "one screw in a stud") in result.words.values


def test_a_ledge_that_carries_too_much_is_stopped(edited_plan) -> None:
    from drawleaf.compiler import Choice, check_plan

    heavy = edited_plan("key-ledge", ("{on: ledge.shelf, load: display}", "{on: ledge.shelf, load: 1500 lb}"))
    assert found(check_plan(heavy, Choice()), "wall-hanging").verdict is Verdict.STOP
    middling = edited_plan("key-ledge", ("{on: ledge.shelf, load: display}", "{on: ledge.shelf, load: 330 lb}"))
    derived = check_plan(middling, Choice()).derived
    assert derived is not None
    pulled = next(one for one in derived.checks if any(f.name == "pull at the screws" for f in one.figures))
    assert pulled.verdict is Verdict.ADVICE


@pytest.mark.parametrize(
    ("foot", "hook", "falls"),
    [
        (60, "face: front, at: {x: 100, z: 700}", True),
        (600, "face: front, at: {x: 100, z: 700}", False),
        (60, "face: top, at: {x: 100, y: 39}", False),
    ],
)
def test_a_stand_with_a_hook_falls_over_unless_its_foot_is_wide(checked, foot: int, hook: str, falls: bool) -> None:
    """3 kg on a hook pull a narrow stand over; a foot that reaches beyond the hook holds it, and so it stands with a hook on its top."""
    outcome = checked(f"""
stock: {{board: {{material: pine board, size: 18x144}}}}
assemblies:
  stand:
    parts:
      foot: {{stock: board, thickness: z, grain: y, full_width: x, left: 28, front: {30 - foot // 2}, deep: {foot}, bottom: 0}}
      post: {{stock: board, thickness: y, full_width: x, grain: z, left: 28, front: 30, bottom: 18, high: 800}}
    joints: [{{butt: post, to: foot, with: [glue, {{dowels: {{count: 3}}}}]}}]
    hardware: [{{item: coat hook, on: post, {hook}}}]
""")
    assert outcome.derived is not None, outcome.diagnostics
    told = [one for one in outcome.derived.checks if one.check == "wall-hanging"]
    assert [one.verdict for one in told] == ([Verdict.ADVICE] if falls else [])
