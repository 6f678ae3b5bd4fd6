"""Screws at round figures: both ends alike, even spacing, never far from where an even row would have them."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from drawleaf.joinery.friendly import INCHES, MILLIMETRES, friendly, friendly_between
from drawleaf.joinery.rows import row
from drawleaf.model.place import Span
from drawleaf.units import Length


def inch(value: str | int | Fraction) -> Length:
    return Length.of_inches(Fraction(value))


def span(low, high) -> Span:
    return Span(inch(low), inch(high))


CASES = [
    # A 15-5/16 in joint: every 4 in instead of 4-7/64.
    (("0", "245/16", 4), ["13/8", "45/8", "77/8", "109/8"]),
    # The rail under the seat: every 12-1/2 in instead of 12-17/32.
    (("0", "649/16", 4), ["3/2", "14", "53/2", "39"]),
    # Two stay as far from each end.
    (("0", "107/8", 2), ["3/2", "95/8"]),
    (("0", "12", 3), ["3/2", "6", "21/2"]),
]


@pytest.mark.parametrize(("given_row", "places"), CASES)
def test_round_figures(given_row, places) -> None:
    low, high, count = given_row
    found = friendly(row(span(low, high), count, None, None), span(low, high), INCHES)
    assert [place.inches for place in found] == [Fraction(place) for place in places]


def test_millimetres_are_round_too() -> None:
    body = Span(Length.of_mm(0), Length.of_mm(394))
    found = friendly(row(body, 4, None, None), body, MILLIMETRES)
    assert [place.mm for place in found] == [45, 145, 245, 345]


def test_a_joint_in_the_middle_of_a_part_is_measured_from_the_parts_end() -> None:
    found = friendly(row(span("3", "33"), 4, None, None), span("0", "96"), INCHES)
    assert all((place.inches * 8).denominator == 1 for place in found)


@settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    st.integers(128, 3000),
    st.integers(0, 200),
    st.integers(0, 200),
    st.integers(2, 9),
    st.sampled_from([INCHES, MILLIMETRES]),
)
def test_rows_stay_on_their_joint(extent: int, before: int, behind: int, count: int, ruler) -> None:
    joint = span(Fraction(before, 32), Fraction(before + extent, 32))
    body = span(0, Fraction(before + extent + behind, 32))
    even = row(joint, count, None, None)
    found = friendly(even, body, ruler)
    assert len(found) == count
    assert list(found) == sorted(found)
    gaps = {after - one for one, after in pairwise(found)}
    assert len(gaps) == 1 or count == 2
    # Half a step of rounding and one of sharing, at both ends.
    most = ruler.first * 3
    assert joint.low < found[0] < joint.high
    assert joint.low < found[-1] < joint.high
    spread = even[-1] - even[0]
    assert found[-1] - found[0] <= spread + most
    if count > 2 and spread.inches > count:
        assert abs((found[0] - joint.low) - (joint.high - found[-1])) <= most + abs(
            (even[0] - joint.low) - (joint.high - even[-1])
        )


def test_between_ends_that_the_author_sets_the_others_stand_at_round_figures() -> None:
    """The rail under the seat, 40-9/16 in long with 4 in at each end: 14-27/32 and 25-23/32 in would be hard to find on a tape."""
    body = span("0", "649/16")
    found = friendly_between(row(body, 4, None, inch("4")), body, INCHES)
    assert [place.inches for place in found] == [4, 15, Fraction(51, 2), Fraction(649, 16) - 4]
    assert friendly_between(found[:2], body, INCHES) == found[:2]
