"""Figures for the bench: bit sizes, channels and screws as measured from real edges."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from tests.conftest import outcome_of

from drawleaf.model.place import Face
from drawleaf.model.plan import BoxCut, Plan
from drawleaf.model.screw_sizes import shank
from drawleaf.setting_out.channels import channel_of
from drawleaf.setting_out.placing import placing
from drawleaf.setting_out.screws import clearance_hole, pilot_hole, screw_lines
from drawleaf.units import Length


def inches(value: str) -> Length:
    return Length.of_inches(Fraction(value))


@pytest.fixture(scope="module")
def bench() -> Plan:
    derived = outcome_of("boot-bench").derived
    assert derived is not None
    return derived.plan


@pytest.mark.parametrize(("gauge", "diameter"), [(6, "0.138"), (8, "0.164"), (10, "0.190")])
def test_shank_by_number(gauge: int, diameter: str) -> None:
    """ASME B18.6.1: 0.060 + 0.013 n inches."""
    assert shank(gauge).inches == Fraction(diameter)


@pytest.mark.parametrize(("gauge", "hole"), [(6, "9/64"), (8, "11/64"), (10, "13/64")])
def test_clearance_hole_lets_the_shank_through(gauge: int, hole: str) -> None:
    assert clearance_hole(gauge) == inches(hole)
    assert clearance_hole(gauge) >= shank(gauge)


@pytest.mark.parametrize(
    ("gauge", "gravity", "hole"),
    [
        (8, 0.45, "5/64"),
        (8, 0.55, "5/64"),
        (8, 0.68, "7/64"),
        (6, 0.45, "1/16"),
        (6, 0.68, "3/32"),
        (4, 0.7, "5/64"),
        (10, 0.68, "1/8"),
    ],
)
def test_pilot_hole_by_density(gauge: int, gravity: float, hole: str) -> None:
    """Two-thirds of the shank is the root; all of it above a specific gravity of 0.6, 70% below. By hand: number 8 in oak,
    0.164 x 2/3 = 0.109, nearest 64th 7/64; number 4 in maple 0.112 x 2/3 = 0.0747, 5/64."""
    assert pilot_hole(gauge, gravity) == inches(hole)


def channels(plan: Plan, part_id: str, kind: str):
    part = plan.part(part_id)
    return [channel_of(part, f) for f in part.features if isinstance(f, BoxCut) and f.kind == kind]


def test_dado_of_the_bottom(bench: Plan) -> None:
    """The toe is 3 in, so the dado runs from 3 in to 3-23/32 in above the bottom end of the side."""
    (dado,) = channels(bench, "case.side", "dado")
    assert (dado.edge, dado.offset, dado.width, dado.depth) == (
        Face.BOTTOM,
        inches("3"),
        inches("23/32"),
        inches("1/4"),
    )
    assert dado.stops == ()


def test_twins_share_a_setting(bench: Plan) -> None:
    (left,), (right,) = channels(bench, "case.side", "dado"), channels(bench, "case.side.mirrored", "dado")
    assert left.settings == right.settings


def test_rabbet_is_as_wide_as_the_back_is_thick(bench: Plan) -> None:
    (rabbet,) = channels(bench, "case.side", "rabbet")
    assert (rabbet.edge, rabbet.offset) == (Face.BACK, inches("0"))
    assert rabbet.width == Length.of_mm(Fraction("5.2"))
    assert rabbet.depth == inches("3/8")


def test_grooves_run_out_into_the_rabbets(bench: Plan) -> None:
    """Nobody stops a groove where the rabbet takes the wood away anyhow."""
    (groove,) = channels(bench, "drawer.box_side", "groove")
    assert groove.stops == ()
    assert (groove.edge, groove.offset) == (Face.BOTTOM, inches("1/2"))


def test_a_stopped_channel_says_how_far(bench: Plan) -> None:
    part = bench.part("case.side")
    dado = next(f for f in part.features if isinstance(f, BoxCut) and f.kind == "dado")
    span = dado.box.y
    short = BoxCut(
        "dado", dado.box.with_span(Face.FRONT.axis, type(span)(span.low + inches("1"), span.high)),
        dado.into, (dado.into, Face.BACK), None, dado.position,
    )  # fmt: skip
    assert channel_of(replace(part, features=(short,)), short).stops == ((Face.FRONT, inches("1")),)


def test_screws_are_measured_from_the_part_they_go_through(bench: Plan) -> None:
    joint = next(j for j in bench.joints if j.insert == "case.bottom" and j.receiver == "case.side")
    (line,) = screw_lines(bench, joint.fasteners)
    assert line.through == "case.side"
    assert (line.edge, line.across) == (Face.BOTTOM, inches("3") + inches("23/64"))
    assert line.end is Face.FRONT
    assert line.along == tuple(sorted(line.along))
    assert line.count == len(joint.fasteners)


def test_a_fast_screw_between_slots_is_a_line_of_its_own(bench: Plan) -> None:
    """Its hole is round, theirs are slots: each needs its own words, bit and picture."""
    joint = next(j for j in bench.joints if j.insert == "case.bottom" and j.receiver == "case.side")
    first, fast, *rest = joint.fasteners
    lines = screw_lines(bench, (replace(first, slotted=True), fast, *(replace(one, slotted=True) for one in rest)))
    assert [(line.slotted, line.count) for line in lines] == [(True, len(joint.fasteners) - 1), (False, 1)]


def test_flush_sides_are_found(bench: Plan) -> None:
    joint = next(j for j in bench.joints if j.insert == "case.front_rail" and j.receiver == "case.side")
    assert [(offset.face, offset.flush) for offset in placing(bench, joint)] == [(Face.FRONT, True), (Face.TOP, True)]
