"""Outlines as an author writes them."""

from __future__ import annotations

from math import asin, pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drawleaf.model.place import Axis
from drawleaf.model.shapes import Outline
from drawleaf.resolve.parts.outlines import OutlineError, Written, closed_outline, crosses_itself
from drawleaf.solids.outlines import run_along
from drawleaf.units import Length


def mm(value: int) -> Length:
    return Length.of_mm(value)


def square(*, axis: Axis = Axis.Y, **corner) -> Outline:
    """100 by 50, with something done to its corner at (100, 0)."""
    return closed_outline(
        axis,
        [Written(mm(0), mm(0)), Written(mm(100), mm(0), **corner), Written(mm(100), mm(50)), Written(mm(0), mm(50))],
    )


def area(outline: Outline) -> float:
    return run_along(outline, 0.0, 10.0)[0].volume() / 10.0


@pytest.mark.parametrize("axis", list(Axis))
def test_a_rounded_corner_takes_its_quarter_away(axis: Axis) -> None:
    """Square of the radius less a quarter circle; the facets lie on the arc, so a hair more is taken."""
    assert area(square(axis=axis, round=mm(20))) == pytest.approx(5000 - (400 - pi * 100), abs=0.5)


def test_a_rise_bulges_out_or_in() -> None:
    radius = (25**2 + 10**2) / 20
    half = asin(25 / radius)
    segment = radius**2 * half - 25 * (radius - 10)
    assert area(square(rise=mm(10))) == pytest.approx(5000 + segment, rel=1e-3)
    assert area(square(rise=mm(-10))) == pytest.approx(5000 - segment, rel=1e-3)


def test_the_way_round_does_not_matter() -> None:
    there = [Written(mm(0), mm(0)), Written(mm(60), mm(0), rise=mm(5)), Written(mm(60), mm(40)), Written(mm(0), mm(40))]
    back = [Written(mm(0), mm(0)), Written(mm(0), mm(40)), Written(mm(60), mm(40), rise=mm(5)), Written(mm(60), mm(0))]
    assert area(closed_outline(Axis.Z, there)) == pytest.approx(area(closed_outline(Axis.Z, back)))


def test_what_cannot_be_rounded_is_told() -> None:
    with pytest.raises(OutlineError) as told:
        square(round=mm(60))
    assert told.value.corner == 1
    with pytest.raises(OutlineError):
        square(radius=mm(20))


@given(st.integers(10, 200), st.integers(10, 200), st.integers(-20, 20), st.integers(0, 4), st.sampled_from(list(Axis)))
def test_a_mirror_image_encloses_as_much(wide: int, high: int, rise: int, which: int, axis: Axis) -> None:
    corners = [(0, 0), (wide, 0), (wide, high), (0, high)]
    limit = max(-2, min(2, rise)) if min(wide, high) < 60 else rise
    written = [
        Written(mm(u), mm(v), rise=mm(limit) if number == which else None) for number, (u, v) in enumerate(corners)
    ]
    outline = closed_outline(axis, written)
    for flip in axis.others():
        image = outline.mirrored(flip, mm(7))
        assert area(image) == pytest.approx(area(outline), rel=1e-9)
        assert image.mirrored(flip, mm(7)).bounds == outline.bounds


@pytest.mark.parametrize(
    ("corners", "crosses"),
    [
        (((0, 0), (10, 0), (10, 10), (0, 10)), False),
        (((0, 0), (10, 10), (10, 0), (0, 7)), True),
        (((0, 0), (10, 0), (10, 10), (5, 0), (0, 10)), True),  # touches its own side: two triangles
    ],
)
def test_an_outline_that_crosses_or_touches_itself(corners: tuple[tuple[int, int], ...], crosses: bool) -> None:
    assert crosses_itself(closed_outline(Axis.Z, [Written(mm(u), mm(v)) for u, v in corners])) is crosses
