"""Screws into parts that lean are measured on the solids: how far they go in, and how near their points come to a side."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import asin, degrees

import pytest
from tests.small_plans import derived_from

from drawleaf.checks.context import Bench
from drawleaf.checks.screws import Hold, _verdict, hold_of
from drawleaf.model.checks import Verdict
from drawleaf.model.plan import Fastener, in_own_frame
from drawleaf.solids.build import build_solids
from drawleaf.units import Length

STOOL = """\
plan: {title: Stool, number: T-2, date: 2026-11-30, author: A. Maker, lengths: in}
dimensions: {long: 16, wide: 11-1/4, height: 11}
stock:
  leg: {material: construction lumber, size: 2x2}
  rail: {material: pine board, size: 1x3}
  top: {material: pine board, size: 1x12}
assemblies:
  base:
    parts:
      leg: {stock: leg, thickness: x, full_width: y, grain: z, left: 1-1/2, front: 1-1/4, bottom: 0, top: top.bottom, lean: {right: 9 deg, back: 7 deg}, pivot: top, level_ends: {bottom: 0, top: top.bottom}, mirror: {x: long / 2}}
      apron: {stock: rail, thickness: y, grain: x, left: leg.right, right: leg.mirrored.left, front: leg.front + 3/8, high: 2-1/4, top: top.bottom, lean: {back: 7 deg}, pivot: top, level_ends: {top: top.bottom}}
      top: {stock: top, thickness: z, full_width: y, grain: x, left: 0, right: long, front: 0, top: height}
    joints:
      - {butt: apron, to: leg, with: [glue, {screws: {count: 2, end_distance: 3/8}}]}
"""


@pytest.fixture(scope="module")
def bench() -> Bench:
    derived = derived_from(STOOL)
    return Bench(derived, build_solids(derived.plan))


def apron_screw(bench: Bench):
    """Of the screws through the legs into the apron's ends, the one whose point comes nearest to a side."""
    return min((one for joint in bench.plan.joints for one in joint.fasteners), key=lambda one: _left(bench, one))


def _left(bench: Bench, screw: Fastener) -> float:
    hold = hold_of(bench, screw)
    assert hold is not None
    return hold.left


def test_every_screw_of_a_splayed_stool_is_judged(bench: Bench) -> None:
    screws = [one for joint in bench.plan.joints for one in joint.fasteners if not one.item.pin]
    assert all(hold_of(bench, one) is not None for one in screws)
    assert any(bench.parts[one.into].tilt is not None for one in screws)
    told = [one for one in bench.derived.checks if one.check == "screws"]
    assert [one.verdict for one in told] == [Verdict.PASS]


def test_it_enters_by_its_length_less_the_leg(bench: Bench) -> None:
    screw = apron_screw(bench)
    hold = hold_of(bench, screw)
    assert hold is not None
    leg = bench.parts[screw.through]
    assert hold.skin == pytest.approx(leg.body.extent(leg.thickness).mm, abs=0.05)
    assert hold.skin + hold.entry == pytest.approx(screw.item.length.mm)


def test_a_longer_one_drifts_towards_a_side(bench: Bench) -> None:
    """Square to the leg it runs at the leg's splay to the apron: half an inch more brings its point nearer by the sine of that angle."""
    screw = apron_screw(bench)
    way = in_own_frame(bench.parts[screw.into], screw).direction
    slants = sorted(abs(step) for step in way)[:2]
    assert 4 < degrees(asin(max(slants))) < 15
    longer = replace(screw, item=replace(screw.item, length=screw.item.length + Length.of_inches(1) / 2))
    here, there = hold_of(bench, screw), hold_of(bench, longer)
    assert here is not None
    assert there is not None
    drift = here.left - there.left
    assert min(abs(drift - 12.7 * slant) for slant in slants if slant > 1e-3) < 0.01


def test_one_that_nears_a_face_is_advised_against_and_one_that_leaves_it_stopped(bench: Bench) -> None:
    """Longer by as much as brings its point within a millimetre or so of the face that it nears, and out of it."""
    screw = apron_screw(bench)

    def longer(more: float) -> Hold:
        length = screw.item.length + Length.of_mm(Fraction(more).limit_denominator(1000))
        hold = hold_of(bench, replace(screw, item=replace(screw.item, length=length)))
        assert hold is not None
        return hold

    near, out = (next(more for more in range(200) if longer(more / 2).left < left) / 2 for left in (1.2, -0.2))
    assert [_verdict(screw, longer(more)) for more in (0, near, out)] == [Verdict.PASS, Verdict.ADVICE, Verdict.STOP]
