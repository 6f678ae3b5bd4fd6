"""Whether a piece stands: the balance, what tips it, what an anchor changes."""

from __future__ import annotations

from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.checks.conftest import figure, found
from tests.conftest import outcome_of

from drawleaf.checks.stability import Weight, balance
from drawleaf.model.checks import Verdict

MASSES = st.floats(1, 100)
ARMS = st.floats(10, 500)


@given(MASSES, ARMS, MASSES, ARMS)
def test_heavier_or_farther_out_tips_sooner(mass: float, arm: float, load: float, out: float) -> None:
    still = Weight(mass, arm, 300)
    before = balance([still, Weight(load, -out, 300)])
    assert balance([still, Weight(load * 2, -out, 300)]) == pytest.approx(before / 2)
    assert balance([still, Weight(load, -out * 2, 300)]) == pytest.approx(before / 2)


@given(MASSES, ARMS, st.floats(1, 100))
def test_a_pull_tips_by_its_height(mass: float, arm: float, pull: float) -> None:
    still = [Weight(mass, arm, 300)]
    assert balance(still) == inf
    assert balance(still, pull, 1000) == pytest.approx(balance(still, pull, 500) / 2)


@given(MASSES, ARMS, st.floats(0.001, 0.05))
def test_leaning_never_helps(mass: float, arm: float, lean: float) -> None:
    weights = [Weight(mass, arm, 400), Weight(10, -100, 400)]
    assert balance(weights, lean=lean) < balance(weights)


CHEST = """
stock:
  ply: {{material: birch plywood, nominal: 18 mm, actual: 18 mm}}
  back: {{material: birch plywood, nominal: 6 mm, actual: 6 mm}}
assemblies:
  case:
    parts:
      side: {{stock: ply, thickness: x, grain: z, left: 0, front: 0, back: {deep} mm, bottom: 0, top: {high} mm, mirror: {{x: 300 mm}}}}
      shelf: {{stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: {deep} mm, bottom: 60 mm, repeat: {{along: z, at: [0 mm, {up} mm]}}}}
    joints:
      - {{butt: shelf, to: side, with: [glue, screws]}}
{fittings}
"""
STRAP = "    hardware:\n      - {item: anti-tip strap, on: shelf.2, face: back, at: {x: 300 mm, z: 700 mm}}"


def chest(checked, deep: float, high: float, fittings: str = ""):
    outcome = checked(CHEST.format(deep=deep, high=high, up=high - 100, fittings=fittings))
    return found(outcome, "tip-over")


def test_a_tall_shallow_case_stops_a_deep_one_passes(checked) -> None:
    assert chest(checked, 200, 1200).verdict is Verdict.STOP
    assert chest(checked, 700, 900).verdict is Verdict.PASS


def test_one_that_hardly_stands_is_advised(checked) -> None:
    """Between the two: what holds it is over what tips it, by less than a quarter."""
    verdicts = {deep: chest(checked, deep, 900) for deep in (460, 500, 560)}
    assert [
        one.verdict
        for one in verdicts.values()
        if 1 <= figure(one, "when someone pulls at its top edge with 10 lb (4.5 kg)") < 1.25
    ]
    for one in verdicts.values():
        margin = figure(one, "when someone pulls at its top edge with 10 lb (4.5 kg)")
        expected = Verdict.STOP if margin < 1 else Verdict.ADVICE if margin < 1.25 else Verdict.PASS
        assert one.verdict is expected


def test_a_strap_makes_it_pass_and_the_words_say_so(checked) -> None:
    outcome = checked(CHEST.format(deep=200, high=1200, up=640, fittings=STRAP.replace("z: 700", "z: 709")))
    result = found(outcome, "tip-over")
    assert result.verdict is Verdict.PASS
    assert "anchor" in result.words.template
    assert "anchor-to-wall" in result.steps


def test_the_line_that_the_mend_gives_anchors_the_piece(checked) -> None:
    told = chest(checked, 200, 1200).remedy.template.format()
    line = told.split("“")[1].split("”")[0]
    assert "on: case.shelf.2" in line
    outcome = checked(CHEST.format(deep=200, high=1200, up=1100, fittings=f"    hardware:\n      {line}"))
    assert found(outcome, "tip-over").verdict is Verdict.PASS


def test_the_pull_by_hand(checked) -> None:
    """Two sides 700 x 900 x 18, two shelves 564 x 700 x 18, 680 kg/m3: 25.1 kg, all 350 mm behind the front. 10 lb at 900 mm:
    25.1 x 9.80665 x 350 / (44.482 x 900) = 2.15."""
    result = chest(checked, 700, 900)
    assert figure(result, "when someone pulls at its top edge with 10 lb (4.5 kg)") == pytest.approx(2.15, abs=0.01)


def test_the_bench_needs_its_strap_and_says_when() -> None:
    result = found(outcome_of("boot-bench"), "tip-over")
    trial = dict(result.words.values)["trial"]
    assert "child" in str(trial)
    assert result.verdict is Verdict.PASS


def test_no_check_claims_conformity() -> None:
    for name in ("boot-bench", "key-ledge"):
        derived = outcome_of(name).derived
        assert derived is not None
        for one in derived.checks:
            text = one.words.template.lower() + one.source.lower()
            assert not any(word in text for word in ("conforms", "complies", "certified", "meets the standard"))
