"""Rows, lengths and clearances of fasteners, by hand-worked figures."""

from __future__ import annotations

import math
from fractions import Fraction
from pathlib import Path

import pytest

from drawleaf.joinery.clearing import keep_apart, segment_distance
from drawleaf.joinery.planned import Planned, point_of
from drawleaf.joinery.rows import row, rows_across
from drawleaf.joinery.screws import Hold, choose, gauge_for
from drawleaf.model.place import Axis, Point, Span
from drawleaf.model.plan import Bore, Fastener
from drawleaf.model.position import Position
from drawleaf.source.library import load_library
from drawleaf.units import ZERO, Length

ROOT = Path(__file__).parents[2]
HERE = Position("plan.yaml", 1, 1)


def inch(value) -> Length:
    return Length.of_inches(Fraction(value))


def span(low, high) -> Span:
    return Span(inch(low), inch(high))


@pytest.fixture(scope="module")
def hardware():
    return load_library([ROOT / "shared"])[0].catalogue.hardware


ROWS = [
    # Ends of 1-1/2, steps of at most 6: 24 - 3 = 21 in four steps of 5-1/4.
    (("0", "24", None, None, None), ["3/2", "27/4", "12", "69/4", "45/2"]),
    # A quarter of a short joint is its end distance.
    (("0", "4", None, None, None), ["1", "3"]),
    # Under 1-1/2 one will do, in the middle; but a count is a count.
    (("0", "1", None, None, None), ["1/2"]),
    (("0", "1", 2, None, None), ["1/4", "3/4"]),
    (("2", "14", 3, None, "2"), ["4", "8", "12"]),
    (("0", "12", None, "3", None), ["3/2", "9/2", "15/2", "21/2"]),
    # Ends that leave no room: evenly.
    (("0", "4", 2, None, "2"), ["1", "3"]),
]


@pytest.mark.parametrize(("given", "places"), ROWS)
def test_rows(given, places):
    low, high, count, every, ends = given
    found = row(span(low, high), count, inch(every) if every else None, inch(ends) if ends else None)
    assert [place.inches for place in found] == [Fraction(place) for place in places]


def test_broad_meetings_get_two_rows():
    assert [count for _, count in rows_across(span("0", "4"), 4)] == [2, 2]
    assert [count for _, count in rows_across(span("0", "4"), 5)] == [3, 2]
    assert [place.inches for place, _ in rows_across(span("0", "4"), 4)] == [1, 3]
    assert len(rows_across(span("0", "7/2"), 4)) == 1
    assert len(rows_across(span("0", "8"), 3)) == 1


HOLDS = [
    # Through 3/4 into deep wood: three times 3/4 is 2-1/4, and 2 is the longest under it.
    ("wood screw", 8, "3/4", "3/4", "20", "wood screw 8 x 2"),
    # Two boards of 3/4 face to face: 1-1/2 less 1/8 is 1-3/8: 1-1/4.
    ("wood screw", 8, "3/4", "3/4", "3/4", "wood screw 8 x 1-1/4"),
    # Out of the bottom of a 1/4 dado: the point may go as far, but no longer than three times the whole thickness.
    ("wood screw", 8, "23/32", "15/32", "20", "wood screw 8 x 2"),
    # A thin back: 1/4 and 3/4 in the ledge.
    ("brad", 18, "1/4", "1/4", "10", "brad 18 x 1"),
    # Two thin boards: none fits.
    ("wood screw", 8, "1/4", "1/4", "1/4", None),
]


@pytest.mark.parametrize(("kind", "gauge", "through", "skin", "room", "expected"), HOLDS)
def test_lengths(hardware, kind, gauge, through, skin, room, expected):
    items = [item for item in hardware.values() if item.kind == kind and item.gauge == gauge]
    chosen = choose(items, Hold(inch(through), inch(skin), inch(room)))
    assert (chosen.id if chosen else None) == expected


def test_gauges():
    assert gauge_for(Hold(inch("1/2"), inch("1/2"), inch(3))) == 8
    assert gauge_for(Hold(inch("15/32"), inch("15/32"), inch(3))) == 6


def planned(hardware, joint: str, x: str, y: str, along: Axis, limits: Span) -> Planned:
    item = hardware["wood screw 8 x 2"]
    direction = (0.0, 0.0, -1.0) if along is Axis.X else (0.0, -1.0, 0.0)
    at = Point(inch(x), inch(y), ZERO)
    return Planned(Fastener(item, at, direction, "a", "b", joint), along, limits)


def test_a_screw_in_the_way_slides_along_its_joint(hardware):
    first = planned(hardware, "one", "4", "0", Axis.X, span(0, 8))
    second = planned(hardware, "two", "4", "1/8", Axis.X, span(0, 8))
    (kept, moved), found = keep_apart([(first, HERE), (second, HERE)])
    assert kept == first
    assert not found
    # 1/8 aside already: 3/8 along is the first step of 1/8 at which they are 3/8 apart.
    assert moved.fastener.at.x.inches == Fraction(35, 8)


def test_crossing_screws_are_seen(hardware):
    """One goes down from z 0 at y 0; the other comes along y towards it at the same x, and would cross it an inch down."""
    down = planned(hardware, "one", "4", "0", Axis.X, span(0, 8))
    across = planned(hardware, "two", "4", "1", Axis.Z, span(-2, 0))
    across = Planned(
        Fastener(across.fastener.item, Point(inch(4), inch(1), inch(-1)), (0.0, -1.0, 0.0), "c", "b", "two"),
        Axis.X,
        span(0, 8),
    )
    (_, moved), _ = keep_apart([(down, HERE), (across, HERE)])
    assert abs(moved.fastener.at.x.inches - 4) == Fraction(3, 8)


def test_no_room_is_told(hardware):
    tight = span("15/4", "17/4")
    first = planned(hardware, "one", "4", "0", Axis.X, tight)
    second = planned(hardware, "two", "4", "0", Axis.X, tight)
    settled, found = keep_apart([(first, HERE), (second, HERE)])
    assert len(settled) == 2
    assert [one.code for one in found] == ["fasteners-meet"]


def test_pocket_geometry():
    """A 3/4 rail between stiles: the screw leaves the end at half the thickness, at 15 degrees, half of it in the stile."""
    from drawleaf.resolve.resolver import resolve
    from drawleaf.source.reader import read_plan

    plan, _ = resolve(read_plan(ROOT / "plans" / "boot-bench", load_library([ROOT / "shared"])[0]))
    assert plan is not None
    rail, stile = plan.part("frame.rail_top"), plan.part("frame.stile")
    joint = next(one for one in plan.joints if (one.insert, one.receiver) == (rail.id, stile.id))
    pockets = [one for one in rail.features if isinstance(one, Bore) and one.row == f"{joint.id}-pockets"]
    assert len(pockets) == len(joint.fasteners) == 2
    end = rail.body.x.low.mm
    for bore, screw in zip(pockets, joint.fasteners, strict=True):
        assert bore.face.value == "back"
        assert bore.direction == screw.direction
        assert math.degrees(math.asin(-screw.direction[1])) == pytest.approx(15)
        assert screw.direction[0] == pytest.approx(-math.cos(math.radians(15)))
        # The head seats 5/8 in before the end, along the screw.
        assert (screw.at.x.mm - end) / math.cos(math.radians(15)) == pytest.approx(15.875, abs=0.002)
        tip = point_of(screw)
        assert end - tip[0] == pytest.approx(15.875 * math.cos(math.radians(15)), abs=0.002)
        # Where the axis crosses the end, it is in the middle of the rail.
        middle = screw.at.y.mm + (screw.at.x.mm - end) * math.tan(math.radians(15)) * -1
        assert middle == pytest.approx(rail.seen.y.middle.mm, abs=0.002)
        # The bore starts on the back face, 3/8 / tan 15 from the end, and ends where the head seats.
        assert bore.start.y == rail.seen.y.high
        assert bore.start.x.mm - end == pytest.approx(9.525 / math.tan(math.radians(15)), abs=0.002)
        assert bore.depth is not None
        assert bore.depth.mm == pytest.approx(9.525 / math.sin(math.radians(15)) - 15.875, abs=0.002)


@pytest.mark.parametrize(
    ("first", "second", "apart"),
    [
        (((0, 0, 0), (0, 0, 0)), ((3, 4, 0), (3, 4, 0)), 5.0),
        (((0, 0, 0), (0, 0, 0)), ((-9, 3, 4), (9, 3, 4)), 5.0),
        (((-9, 3, 4), (9, 3, 4)), ((0, 0, 0), (0, 0, 0)), 5.0),
        (((-9, 0, 0), (-3, 0, 0)), ((0, 4, 0), (0, 4, 0)), 5.0),
        (((0, 4, 0), (0, 4, 0)), ((-9, 0, 0), (-3, 0, 0)), 5.0),
        (((0, 0, 0), (8, 0, 0)), ((4, 5, -3), (4, 5, 3)), 5.0),
    ],
)
def test_how_near_two_fasteners_come_also_where_one_is_a_point(first, second, apart) -> None:
    """A pythagorean triangle each."""
    assert segment_distance(*first, *second) == pytest.approx(apart)
