"""Which bits with a bearing run a section, worked by hand in millimetres: the blank is 20 thick (y) and 30 high (z), its flat back at y 20."""

from __future__ import annotations

from fractions import Fraction
from types import SimpleNamespace
from typing import cast

import pytest

from drawleaf.model.place import Axis, Box, Face, Span
from drawleaf.model.plan import Part
from drawleaf.model.shapes import Corner, Outline, Section
from drawleaf.setting_out.mouldings import Bit, bit_cuts
from drawleaf.units import ZERO, Length


def mm(value: float) -> Length:
    return Length.of_mm(Fraction(value))


def moulding(*corners: tuple[float, float, float]) -> Part:
    """A moulding along x whose section has these corners in y and z, each with the turn of the stretch that follows it."""
    outline = Outline(Axis.X, tuple(Corner(mm(u), mm(v), turn) for u, v, turn in corners))
    box = Box(Span(ZERO, mm(500)), Span(ZERO, mm(20)), Span(ZERO, mm(30)))
    part = SimpleNamespace(
        section=Section("trial", outline), thickness=Axis.Y, width_axis=Axis.Z, length_axis=Axis.X, body=box, seen=box
    )
    return cast("Part", part)


def curved(turn: float, deep: float = 10, high: float = 10) -> Part:
    """The upper front corner taken away by one curve, so deep and so high."""
    return moulding((0, 0, 0), (20, 0, 0), (20, 30, 0), (deep, 30, turn), (0, 30 - high, 0))


@pytest.mark.parametrize(("turn", "bit"), [(90, Bit.ROUND_OVER), (-90, Bit.COVE)])
def test_a_quarter_of_a_circle_is_run_by_one_bit(turn: float, bit: Bit) -> None:
    """10 mm deep in passes of 1/8 in (3.175): four of them, with 10 of the edge left for the bearing."""
    (cut,) = bit_cuts(curved(turn)) or ()
    assert (cut.bit, cut.radius, cut.depth, cut.passes, cut.rim, cut.edge) == (bit, mm(10), mm(10), 4, mm(10), Face.TOP)


@pytest.mark.parametrize("turn", [60, -60, 120, 89])
def test_no_bit_runs_another_share_of_a_circle(turn: float) -> None:
    assert bit_cuts(curved(turn)) is None


def test_no_bit_runs_an_oval_or_a_slope() -> None:
    assert bit_cuts(curved(90, deep=10, high=12)) is None
    assert bit_cuts(curved(0)) is None


@pytest.mark.parametrize(("deep", "runs"), [(16.825, True), (17, False)])
def test_the_bearing_needs_an_eighth_of_an_inch(deep: float, runs: bool) -> None:
    """3.175 mm of 20 are left beyond a curve 16.825 deep."""
    exact = 20 - Fraction(127, 40) if deep == 16.825 else Fraction(17)
    part = curved(90, deep=cast("float", exact), high=cast("float", exact))
    assert (bit_cuts(part) is not None) is runs
