"""Mitre and blade tilt of cuts at an angle, and where the wood stays longest."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import asin, atan, cos, degrees, radians, sin, sqrt, tan

import pytest

from drawleaf.model.place import Axis, Face, Point
from drawleaf.model.shapes import PlaneCut, Tilt
from drawleaf.setting_out.slants import ends_of, longest_words, slant_of, slant_words
from solids_scene import HERE, mm, part

ORIGIN = Point(mm(0), mm(0), mm(0))


def board(*cuts: PlaneCut):
    """A board 600 long (x), 100 wide (y), 20 thick (z)."""
    return part("board", (0, 600, 0, 100, 0, 20), *cuts)


def end(face: Face, normal) -> PlaneCut:
    x = 600 if face is Face.RIGHT else 0
    return PlaneCut("trim", face, Point(mm(x), mm(0), mm(0)), normal, None, HERE)


def test_a_plain_mitre_has_no_tilt() -> None:
    cut = end(Face.RIGHT, (cos(radians(30)), sin(radians(30)), 0.0))
    one = slant_of(board(cut), cut)
    assert (one.sort, one.mitre, one.tilt) == ("end", 30, 0)
    assert one.long_edge is Face.FRONT
    assert one.long_face is None
    assert slant_words(one) == "miter 30°, longest at its front side"


def test_a_plain_bevel_has_no_mitre() -> None:
    cut = end(Face.LEFT, (-cos(radians(15)), 0.0, -sin(radians(15))))
    one = slant_of(board(cut), cut)
    assert (one.mitre, one.tilt, one.long_face) == (0, 15, Face.TOP)


def test_both_at_once_stay_longest_at_a_corner() -> None:
    cut = end(Face.RIGHT, (0.9, 0.3, -sqrt(0.1)))
    assert longest_words(slant_of(board(cut), cut)) == "longest at its top front corner"


def test_parallel_and_opposed_ends() -> None:
    slope = (0.8, 0.6, 0.0)
    assert ends_of(board(end(Face.RIGHT, slope), end(Face.LEFT, (-0.8, -0.6, 0.0)))) == "parallel"
    assert ends_of(board(end(Face.RIGHT, slope), end(Face.LEFT, (-0.8, 0.6, 0.0)))) == "opposed"
    assert ends_of(board(end(Face.RIGHT, slope))) == ""


def test_an_edge_sawn_along_the_board_at_a_tilt() -> None:
    cut = PlaneCut(
        "level end", Face.BACK, Point(mm(0), mm(100), mm(0)), (0.0, cos(radians(7)), -sin(radians(7))), None, HERE
    )
    one = slant_of(board(cut), cut)
    assert (one.sort, one.tilt, one.long_face) == ("edge", 7, Face.TOP)


@pytest.mark.parametrize(("slope", "mitre", "tilt"), [(45, "35.264", "30.000"), (75, "14.511", "43.080")])
def test_a_box_with_sloping_sides(slope: int, mitre: str, tilt: str) -> None:
    """Four sides that slope by so many degrees from level, mitred at the corners: tan(mitre) = cos(s) tan(45°), sin(tilt) = sin(s)
    sin(45°). Own derivation; agrees with a published crown table (spring 45: 35.264 and 30.000)."""
    side = replace(
        part("side", (0, 600, 0, 20, 0, 100)),
        thickness=Axis.Y,
        tilt=Tilt(ORIGIN, ((Face.BACK, Fraction(90 - slope)),)),
    )
    corner = (sqrt(0.5), sqrt(0.5), 0.0)
    cut = PlaneCut("trim", Face.RIGHT, Point(mm(600), mm(0), mm(0)), side.tilt.back_direction(corner), None, HERE)
    one = slant_of(side, cut)
    assert float(one.mitre) == pytest.approx(float(mitre), abs=0.05)
    assert float(one.tilt) == pytest.approx(float(tilt), abs=0.05)
    assert float(mitre) == pytest.approx(degrees(atan(cos(radians(slope)) * tan(radians(45)))), abs=0.001)
    assert float(tilt) == pytest.approx(degrees(asin(sin(radians(slope)) * sin(radians(45)))), abs=0.001)


@pytest.mark.parametrize(("side", "front"), [(8, 8), (9, 7), (12, 0)])
def test_a_leg_splayed_both_ways(side: int, front: int) -> None:
    """The leg stands at the resultant angle: tan(resultant)² = tan(a)² + tan(b)² (plane trigonometry). From the front it shows a, from the
    side b. Its level foot is cut at a mitre and a tilt that together make the resultant."""
    leg = replace(
        part("leg", (0, 40, 0, 40, 0, 300)),
        thickness=Axis.X,
        grain=Axis.Z,
        tilt=Tilt(ORIGIN, ((Face.RIGHT, Fraction(side)), (Face.BACK, Fraction(front)))),
    )
    x, y, z = leg.tilt.out_direction((0.0, 0.0, 1.0))
    assert degrees(atan(x / z)) == pytest.approx(side)
    assert degrees(atan(y / z)) == pytest.approx(front)
    resultant = atan(sqrt(tan(radians(side)) ** 2 + tan(radians(front)) ** 2))
    assert z == pytest.approx(cos(resultant))
    cut = PlaneCut("level end", Face.BOTTOM, ORIGIN, leg.tilt.back_direction((0.0, 0.0, -1.0)), None, HERE)
    one = slant_of(leg, cut)
    assert cos(radians(one.mitre)) * cos(radians(one.tilt)) == pytest.approx(cos(resultant), abs=1e-3)
    if (side, front) == (8, 8):
        assert degrees(resultant) == pytest.approx(11.24, abs=0.005)


def test_a_square_leg_is_tapered_on_a_side_of_its_thickness() -> None:
    """Its slope is a slope and no tilt, whichever of its two like sides is named; twins are marked on the inside, not both on the right."""
    from tests.shape_trials import words_in
    from tests.small_plans import derived_from

    text = """\
plan: {title: Legs, number: T-1, date: 2026-11-20, author: A. Maker, lengths: in}
stock:
  leg: {material: construction lumber, size: 4x4}
  rail: {material: construction lumber, size: 2x4}
assemblies:
  frame:
    parts:
      leg: {stock: leg, thickness: x, full_width: y, grain: z, left: 0, front: 0, bottom: 0, top: 11, mirror: {x: 15}}
      rail: {stock: rail, thickness: y, full_width: z, grain: x, left: leg.right, right: leg.mirrored.left, front: 1, top: 10}
    joints:
      - {butt: rail, to: leg, with: [glue, {dowels: {count: 2}}]}
    machining:
      - {in: leg, taper: {edge: right, toward: bottom, start: 3, narrow_by: 1/2}}
"""
    derived = derived_from(text)
    (operation,) = [op for step in derived.steps for op in step.operations if op.kind == "taper"]
    assert operation.settings.tilt == 0  # type: ignore[union-attr]
    assert 3 < operation.settings.mitre < 4  # type: ignore[union-attr]  # 1/2 in on 8 in is 3.6 degrees
    assert any(
        "along the inside edge. It starts 3\u00a0in from the top end" in line for line in words_in(derived, "taper-leg")
    )
