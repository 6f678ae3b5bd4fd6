"""Copies round an upright: each is the first, turned about it with its lean, its cuts and its joints."""

from __future__ import annotations

from math import cos, isclose, radians, sin

import pytest
from tests.small_plans import derived_from, outcome_from, plan_from

from drawleaf.model.plan import Part
from drawleaf.model.shapes import Tilt

STOOL = """
plan: {title: Stool, number: X-1, date: 2026-11-20, author: Nobody, lengths: in}
stock:
  seat: {material: birch plywood, nominal: 3/4, actual: 3/4}
  leg: {material: red oak lumber, nominal: 6/4}
assemblies:
  stool:
    parts:
      seat: {stock: seat, thickness: z, grain: x, left: 0, right: 20, front: 0, back: 20, bottom: 18}
      leg: {stock: leg, thickness: x, grain: z, left: 9, front: 2, deep: 1-1/4, bottom: 0, top: seat.bottom, pivot: top, LEAN, AROUND}
    joints:
      - {butt: leg, to: seat, with: [glue, screws]}
"""
LEANS = (
    "lean: {back: 8 deg}, level_ends: {bottom: 0, top: seat.bottom}",
    "lean: {back: 8 deg, left: 3 deg}, turn: 20 deg, level_ends: {top: seat.bottom}",
    "note: Upright.",
)


def stool(lean: str, around: str = "around: {x: 10, y: 10, count: 3}") -> str:
    return STOOL.replace("LEAN", lean).replace("AROUND", around)


def stands(part: Part) -> list[tuple[float, float, float]]:
    """The corners of what is sawn, where they stand on the piece, in mm."""
    tilt = part.tilt or Tilt(part.seen.center, ())
    return [tilt.out(corner) for corner in part.body.corners]


@pytest.mark.parametrize("lean", LEANS)
def test_each_copy_is_the_first_turned_about_the_upright(lean: str) -> None:
    """By a third of a turn each, to a hundredth of a millimetre."""
    legs = [one for one in plan_from(stool(lean)).parts if one.id.startswith("stool.leg")]
    assert [one.id for one in legs] == ["stool.leg.1", "stool.leg.2", "stool.leg.3"]
    middle = 10 * 25.4
    for number, leg in enumerate(legs):
        c, s = cos(radians(120 * number)), sin(radians(120 * number))
        for (x, y, z), found in zip(stands(legs[0]), stands(leg), strict=True):
            x, y = x - middle, y - middle
            wanted = (middle + x * c - y * s, middle + x * s + y * c, z)
            assert all(isclose(a, b, abs_tol=0.01) for a, b in zip(wanted, found, strict=True)), leg.id


def test_the_copies_are_equal_at_the_bench() -> None:
    """One row of the cut list, and one step that cuts the ends of all."""
    derived = derived_from(stool(LEANS[0]))
    assert [len(item.parts) for item in derived.cut_list.items if item.parts[0].kind == "stool.leg"] == [3]
    assert sum(1 for step in derived.steps if "angled ends" in step.title) == 1


@pytest.mark.parametrize(
    ("around", "code"),
    [
        ("around: {x: 10, y: 10, count: 3}, mirror: {x: 10}", "around-with"),
        ("around: {x: 10, y: 10, count: 3}, repeat: {along: x, at: [0, 3]}", "around-with"),
        ("around: {x: 10, y: 10, count: 0}", "copies-out-of-range"),
    ],
)
def test_what_makes_no_sense_is_refused(around: str, code: str) -> None:
    """Twins and rows beside it, or no copies at all."""
    assert code in [one.code for one in outcome_from(stool(LEANS[2], around)).diagnostics]
