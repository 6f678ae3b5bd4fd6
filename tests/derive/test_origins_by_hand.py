"""From which sides of a part places are measured, on a board 100 wide, 20 thick and 300 high, from 10, 0 and 50 mm."""

from __future__ import annotations

from types import SimpleNamespace
from typing import cast

import pytest

from drawleaf.model.place import Axis, Box, Face, Point, Span
from drawleaf.model.plan import Bore, Fitting, Part
from drawleaf.setting_out.origins import (
    distance,
    fitting_origins,
    hole_origins,
    nearest,
    pin_origins,
    run_and_across,
)
from drawleaf.units import Length


def mm(value: float) -> Length:
    return Length.of_mm(int(value))


def span(low: int, high: int) -> Span:
    return Span(mm(low), mm(high))


def part(wide: int = 100, high: int = 300) -> Part:
    body = Box(span(10, 10 + wide), span(0, 20), span(50, 50 + high))
    return cast("Part", SimpleNamespace(body=body, thickness=Axis.Y))


def at(x: int, z: int) -> Point:
    return Point(mm(x), mm(0), mm(z))


def holes(*points: Point) -> list[Bore]:
    return [cast("Bore", SimpleNamespace(face=Face.FRONT, start=point)) for point in points]


def fittings(*points: Point) -> list[Fitting]:
    return [cast("Fitting", SimpleNamespace(face=Face.FRONT, at=point)) for point in points]


@pytest.mark.parametrize(("x", "face"), [(10, Face.LEFT), (60, Face.LEFT), (61, Face.RIGHT), (110, Face.RIGHT)])
def test_the_nearer_side_and_the_left_one_in_the_middle(x: int, face: Face) -> None:
    assert nearest(part(), Axis.X, mm(x)) is face


def test_a_place_is_so_far_from_its_side_whichever_it_is() -> None:
    assert [distance(part(), face, mm(40)).mm for face in (Face.LEFT, Face.RIGHT)] == [30.0, 70.0]
    assert distance(part(), Face.TOP, mm(300)) == mm(50)


def test_pins_are_measured_from_the_front_and_the_bottom() -> None:
    assert pin_origins(part()) == {Axis.X: Face.LEFT, Axis.Z: Face.BOTTOM}


def test_holes_run_along_the_longer_way() -> None:
    assert run_and_across(part(), Face.FRONT) == (Axis.Z, Axis.X)
    assert run_and_across(part(high=99), Face.FRONT) == (Axis.X, Axis.Z)
    assert run_and_across(part(high=100), Face.FRONT) == (Axis.X, Axis.Z)


def test_one_hole_is_measured_from_the_nearer_end_a_line_of_them_from_the_low_one() -> None:
    assert hole_origins(part(), holes(at(90, 340))) == {Axis.Z: Face.TOP, Axis.X: Face.RIGHT}
    assert hole_origins(part(), holes(at(90, 340), at(90, 330))) == {Axis.Z: Face.BOTTOM, Axis.X: Face.RIGHT}
    # Across, the hole that is farthest to the left decides.
    assert hole_origins(part(), holes(at(90, 340), at(30, 330))) == {Axis.Z: Face.BOTTOM, Axis.X: Face.LEFT}


def test_fittings_are_measured_along_the_way_that_they_are_spread() -> None:
    """Two hooks beside one another on the high board; one alone along the board, from its bottom."""
    assert fitting_origins(part(), fittings(at(20, 340), at(100, 340))) == {Axis.X: Face.LEFT, Axis.Z: Face.TOP}
    assert fitting_origins(part(), fittings(at(100, 60), at(100, 340))) == {Axis.Z: Face.BOTTOM, Axis.X: Face.RIGHT}
    assert fitting_origins(part(), fittings(at(100, 340))) == {Axis.Z: Face.BOTTOM, Axis.X: Face.RIGHT}
    assert fitting_origins(part(high=90), fittings(at(100, 130))) == {Axis.X: Face.LEFT, Axis.Z: Face.TOP}
