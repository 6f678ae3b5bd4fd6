"""The way of a load to the floor: what carries across its length, legs that nothing ties, and what is not reckoned."""

from __future__ import annotations

from math import sqrt

import pytest
from tests.checks.conftest import figure, found
from tests.conftest import ROOT

from drawleaf.checks.shear import design_shear
from drawleaf.compiler import Choice, check_plan
from drawleaf.model.checks import Verdict

POUND = 4.4482216152605


def test_a_brad_in_pine_by_hand() -> None:
    """Wire of 0.0475 in, both woods of 0.36: Fe = 16600 x 0.36^1.84 = 2533 psi. Long in both, it yields in mode IV:
    0.0475^2 / 2.2 x sqrt(2 x 2533 x 100000 / 6) = 9.42 lb."""
    fe = 16600 * 0.36**1.84
    hand = 0.0475**2 / 2.2 * sqrt(2 * fe * 1e5 / 6) * POUND
    assert design_shear(0.0475 * 25.4, 18, 20, 0.36, 0.36) == pytest.approx(hand)
    assert hand == pytest.approx(9.42 * POUND, rel=0.01)


def test_a_thin_side_crushes_first() -> None:
    """Under a screw of 0.11 in a side of 2 mm crushes: D l Fe / 2.2 = 0.11 x 0.0787 x 4637 / 2.2 = 18 lb (mode Is), less than a thick one holds."""
    thin = design_shear(0.11 * 25.4, 2, 30, 0.5, 0.5)
    assert thin == pytest.approx(0.11 * (2 / 25.4) * 16600 * 0.5**1.84 / 2.2 * POUND)
    assert thin < design_shear(0.11 * 25.4, 18, 30, 0.5, 0.5)
    assert design_shear(0.11 * 25.4, 18, 0, 0.5, 0.5) == 0


SHELF = """
stock:
  ply: {{material: birch plywood, nominal: 18 mm, actual: 18 mm}}
  bar: {{material: pine board, size: 1x2}}
assemblies:
  case:
    parts:
      side: {{stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 400, bottom: 0, top: 450, mirror: {{x: 300}}}}
      shelf: {{stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 400, top: 400}}
      batten: {{stock: bar, thickness: x, full_width: z, grain: y, left: side.right, front: 20, back: 380, top: shelf.bottom, mirror: {{x: 300}}}}
      back: {{stock: ply, thickness: y, grain: x, left: side.right, right: side.mirrored.left, back: 400, bottom: 0, high: 300}}
    joints:
      - {{butt: batten, to: side, with: [{held}]}}
      - {{butt: shelf, to: batten, with: [glue]}}
      - {{butt: back, to: side, with: [glue]}}
checks: {{loads: [{{on: case.shelf, load: {load}}}], waive: [{{check: tip-over, reason: It stands in a corner.}}]}}
"""


@pytest.mark.parametrize(
    ("held", "load", "verdict"),
    [
        ("{brads: {count: 3}}", "80 kg", Verdict.STOP),
        ("{screws: {count: 4}}", "80 kg", Verdict.PASS),
        ("{brads: {count: 3}}", "50 kg", Verdict.ADVICE),
    ],
)
def test_battens_under_a_shelf(checked, held: str, load: str, verdict: Verdict) -> None:
    """Half of 80 kg on three brads of some 5 kg each is far too much; four screws hold some 35 kg each."""
    outcome = checked(SHELF.format(held=held, load=load))
    one = found(outcome, "people-load")
    assert "alone carry" in one.words.template
    assert one.verdict is verdict, (figure(one, "load"), figure(one, "held"))


def test_glue_leaves_nothing_to_ask(checked) -> None:
    outcome = checked(SHELF.format(held="glue", load="80 kg"))
    assert [one for one in outcome.derived.checks if one.check == "people-load"] == []


LEGS = """
stock:
  top: {{material: construction lumber, size: 2x6}}
  leg: {{material: construction lumber, size: 2x2}}
assemblies:
  table:
    parts:
      top: {{stock: top, thickness: z, full_width: y, grain: x, left: 0, right: 500, front: 0, top: {high}}}
      leg: {{stock: leg, thickness: x, grain: z, full_width: y, left: 60, front: 10, bottom: 0, top: top.bottom{lean}, mirror: {{x: 250}}, repeat: {{along: y, at: [0, 80]}}}}
    joints:
      - {{butt: leg, to: top, with: [glue, {held}]}}
checks: {{loads: [{{on: table.top, load: sitting}}]}}
"""


@pytest.mark.parametrize(
    ("held", "lean", "verdict"),
    [
        ("{screws: {count: 1, heads: plugged}}", "", Verdict.STOP),
        ("{dowels: {count: 2}}", "", Verdict.PASS),
        ("{screws: {count: 1, heads: plugged}}", ", lean: {right: 10 deg}, pivot: top, level_ends: {bottom: 0, top: top.bottom}", Verdict.STOP),
    ],
)  # fmt: skip
def test_legs_that_nothing_ties(checked, held: str, lean: str, verdict: Verdict) -> None:
    """One screw down into the end of each leg of a bench, upright or splayed, is no joint; dowels in a short upright leg are."""
    outcome = checked(LEGS.format(held=held, lean=lean, high=200))
    told = [one for one in outcome.derived.checks if "Nothing ties" in one.words.template]
    assert [one.verdict for one in told] == [verdict]


def test_the_same_on_high_legs_pulls_harder(checked) -> None:
    pulls = []
    for high in (200, 700):
        outcome = checked(LEGS.format(held="{dowels: {count: 2}}", lean="", high=high))
        pulls.append(
            figure(next(one for one in outcome.derived.checks if "Nothing ties" in one.words.template), "pull")
        )
    assert pulls[1] > 3 * pulls[0]


def test_a_bed_on_bolts_has_its_greatest_load(tmp_path) -> None:
    """A bed's rails hang on two bolts at each end, which are in the sums: the person that it is made for is printed."""
    text = (ROOT / "tests" / "plans" / "bolted-bed" / "plan.yaml").read_text(encoding="utf-8")
    (tmp_path / "plan.yaml").write_text(text + "checks: {loads: [{on: slats.slat, load: lying}]}\n", encoding="utf-8")
    outcome = check_plan(tmp_path, Choice())
    assert outcome.derived is not None
    results = [one for one in outcome.derived.checks if one.check == "people-load"]
    assert {one.verdict for one in results} == {Verdict.PASS}
    assert "held" in [each.name for one in results for each in one.figures]
    assert "maximum load" in [each.name for one in results for each in one.figures]


@pytest.mark.parametrize(
    ("held", "told"), [("{screws: {count: 1, heads: plugged}}", True), ("{dowels: {count: 2}}", False)]
)
def test_a_small_table_on_untied_legs(checked, held: str, told: bool) -> None:
    """Where nobody is said to sit, legs that one screw holds by their ends are advised against; dowelled ones are let be."""
    text = LEGS.format(held=held, lean="", high=400).replace("checks: {loads: [{on: table.top, load: sitting}]}", "")
    assert text.count("checks") == 0
    found_so = [one for one in checked(text).diagnostics if one.code == "people-load"]
    assert [one.is_error for one in found_so] == ([False] if told else [])


def test_the_round_table_is_told() -> None:
    """Three splayed legs, a screw in the end of each."""
    outcome = check_plan(ROOT / "tests" / "plans" / "splayed-table", Choice())
    assert "people-load" in {one.code for one in outcome.diagnostics}
