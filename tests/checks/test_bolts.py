"""Bolts that hold up the rails of a bed."""

from __future__ import annotations

import pytest
from tests.trade.seats import BED

from drawleaf.checks.bolts import across, bolt_shear, parallel
from drawleaf.checks.shear import yield_loads
from drawleaf.model.checks import Verdict
from drawleaf.units.measures import convert


def test_the_yield_equations_give_the_published_value_of_a_half_inch_bolt() -> None:
    """NDS-2018 Table 12A, from memory: 1/2 in through two 1-1/2 in members of Douglas fir, along the grain of both: 480 lb."""
    loads = yield_loads(0.5, 1.5, 1.5, parallel(0.5), parallel(0.5), 45_000)
    assert min(load / term for load, term in zip(loads, (4, 4, 3.6, 3.2, 3.2, 3.2), strict=True)) == pytest.approx(
        480, abs=5
    )


def test_a_bolt_in_end_grain_by_hand() -> None:
    """1/4 in through 3-1/2 in of fir (0.42) into 2-1/2 in of its end: mode IV, by hand, with 0.67 for end grain and K 1.25."""
    fe_main, fe_side = 6100 * 0.42**1.45 / 0.5, 11200 * 0.42
    ratio = fe_main / fe_side
    hand = 0.25**2 / (3.2 * 1.25) * (2 * fe_main * 45_000 / (3 * (1 + ratio))) ** 0.5 * 0.67
    assert across(0.42, 0.25) == pytest.approx(fe_main)
    found = bolt_shear(6.35, 88.9, 63.5, 0.42, 0.42, 45_000, along=True)
    assert found == pytest.approx(convert(hand, "lbf", "N"), rel=1e-6)
    assert bolt_shear(6.35, 88.9, 0, 0.42, 0.42, 45_000, along=True) == 0


def told(checked, **changed: str):
    source = BED.format(**{"item": "barrel bolt 1/4 x 6", "more": "", **changed})
    outcome = checked(source)
    assert outcome.derived is not None, outcome.diagnostics
    return [one for one in outcome.derived.checks if one.check == "people-load"]


def said(one) -> str:
    return one.words.template + " " + " ".join(str(value) for _, value in one.words.values)


def test_two_bolts_at_each_end_of_a_rail_are_reckoned(checked) -> None:
    """The result names them, and no sentence says that they were left out."""
    found = told(checked)
    bolts = [one for one in found if "bolt" in said(one)]
    assert len(bolts) == 1
    assert ("count", 2) in bolts[0].words.values
    assert not any("not reckoned" in said(one) for one in found)


def test_a_bolted_rail_stands_tight_and_does_not_lift_out(checked) -> None:
    outcome = checked(BED.format(item="barrel bolt 1/4 x 6", more=""))
    assert not [one for one in outcome.derived.checks if one.check == "loose-fit" and one.verdict is not Verdict.PASS]


def test_one_bolt_holds_half_as_much_and_a_bracket_is_not_reckoned(checked) -> None:
    two, one = told(checked), told(checked, more=", count: 1")
    ranks = list(Verdict)
    worse = [ranks.index(next(r.verdict for r in some if "bolt" in said(r))) for some in (two, one)]
    assert worse[1] > worse[0]
    hooked = told(checked, item="bed-rail bracket 5 in")
    assert any("bed-rail bracket" in said(r) and "not reckoned" in said(r) for r in hooked)
