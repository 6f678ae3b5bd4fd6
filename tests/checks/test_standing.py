"""Whether what stands in a step stands by itself."""

from __future__ import annotations

from dataclasses import replace
from math import atan, degrees

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.checks.conftest import figure, found

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.checks.context import Bench
from drawleaf.checks.standing import LEAN, UNSTEADY, check, lean_of
from drawleaf.model.checks import Verdict
from drawleaf.solids.build import build_solids

SQUARE = [(0.0, 0.0), (200.0, 0.0), (200.0, 100.0), (0.0, 100.0)]
SIZES = st.floats(10, 900)


def test_the_lean_by_hand() -> None:
    """A block 100 deep whose weight lies 300 up, over its middle: it falls when it leans by atan(50 / 300), 9.46 degrees."""
    assert lean_of(SQUARE, (100, 50), 300) == pytest.approx(degrees(atan(50 / 300)))
    assert lean_of(SQUARE, (100, 50), 300) == pytest.approx(9.46, abs=0.005)


@given(SIZES, SIZES)
def test_the_higher_the_weight_the_sooner_it_falls(high: float, more: float) -> None:
    assert lean_of(SQUARE, (100, 50), high + more) < lean_of(SQUARE, (100, 50), high)


@given(SIZES, st.floats(1, 500))
def test_beside_its_base_it_falls_by_itself(high: float, out: float) -> None:
    assert lean_of(SQUARE, (100, 100 + out), high) < 0
    assert lean_of([(0.0, 0.0), (200.0, 0.0)], (100, out), high) < 0


CASE = """
stock:
  ply: {{material: birch plywood, nominal: 18 mm, actual: 18 mm}}
assemblies:
  case:
    parts:
      side: {{stock: ply, thickness: x, grain: z, left: 0, front: 0, back: {deep} mm, bottom: 0, top: {high} mm, mirror: {{x: 300 mm}}}}
      shelf: {{stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: {deep} mm, bottom: 60 mm, repeat: {{along: z, at: [0 mm, {up} mm]}}}}
    joints:
      - {{butt: shelf, to: side, with: [glue, screws]}}
checks: {{waive: [{{check: tip-over, reason: It is only half built.}}]}}
"""


def case(checked, deep: float, high: float):
    outcome = checked(CASE.format(deep=deep, high=high, up=high - 100))
    assert outcome.derived is not None, outcome.diagnostics
    return outcome


def test_a_tall_narrow_case_is_held_and_its_steps_say_so(checked) -> None:
    """200 deep and 1500 high, its weight about 750 up: it leans by atan(100 / 750) = 7.6 degrees, under the 10 asked for."""
    outcome = case(checked, 200, 1500)
    result = found(outcome, "step-steadiness")
    assert result.verdict is Verdict.PASS
    assert result.caution == UNSTEADY
    assert 7 < figure(result, "leans before it falls") < LEAN
    assert "helper" in result.at_step.template
    steps = [step for step in outcome.derived.steps if UNSTEADY in [one.id for one in step.cautions]]
    assert [step.id for step in steps] == list(result.steps)
    assert steps


def test_without_the_caution_the_author_is_advised(checked) -> None:
    derived = case(checked, 200, 1500).derived
    catalogue = derived.plan.catalogue
    cautions = {name: one for name, one in catalogue.cautions.items() if name != UNSTEADY}
    bare = replace(derived, plan=replace(derived.plan, catalogue=replace(catalogue, cautions=cautions)))
    results = list(check(Bench(bare, build_solids(bare.plan))))
    assert {one.verdict for one in results} == {Verdict.ADVICE}
    assert all("note" in one.remedy.template for one in results)


@pytest.mark.parametrize(("deep", "high"), [(500, 900), (200, 500)])
def test_a_deep_case_and_a_low_one_stand(checked, deep: float, high: float) -> None:
    result = found(case(checked, deep, high), "step-steadiness")
    assert (result.verdict, result.caution) == (Verdict.PASS, "")
    assert not result.at_step


FRAME = """
stock:
  oak: {material: red oak board, size: 1x3}
assemblies:
  frame:
    parts:
      stile: {stock: oak, thickness: y, grain: z, left: 0, wide: 60 mm, front: 0, bottom: 0, top: 1200 mm, mirror: {x: 300 mm}}
      rail: {stock: oak, thickness: y, grain: x, left: stile.right, right: stile.mirrored.left, front: 0, bottom: 0, high: 60 mm, repeat: {along: z, at: [0 mm, 1140 mm]}}
    joints:
      - {butt: rail, to: stile, with: [glue, {pocket_screws: {count: 2, on: back}}]}
"""


def test_a_face_frame_is_put_together_lying_down(checked) -> None:
    """19 mm deep and 1200 high, it would not stand: nobody holds it up, it lies on the bench, and its step says so."""
    outcome = checked(FRAME)
    result = found(outcome, "step-steadiness")
    assert (result.verdict, result.caution) == (Verdict.PASS, "")
    formatter = Formatter.of(outcome.derived.plan)
    steps = [step_text(step, outcome.derived, formatter) for step in outcome.derived.steps]
    assert [text.title for text in steps if any("lying on a flat bench" in str(one) for one in text.actions)]
