"""Parts found by where they stand: never fewer than the exact boxes say, and none that stands well aside."""

from __future__ import annotations

from random import Random

import pytest
from tests.small_plans import FRAMES, plan_from
from tests.solids_scene import mm, part

from drawleaf.model.near import Near
from drawleaf.model.openings import opening_of
from drawleaf.model.place import Axis


def test_near_gives_what_touches_or_overlaps_in_order() -> None:
    rows = [part(f"p{n}", (100 * n, 100 * n + 100, 0, 10, 0, 10)) for n in range(9)]
    near = Near(rows)
    assert [one.id for one in near.within({Axis.X: (250.0, 300.0)})] == ["p2", "p3"]  # the second it touches
    assert [one.id for one in near.within({Axis.X: (250.0, 299.0), Axis.Y: (5.0, 5.0)})] == ["p2"]
    assert near.within({Axis.X: (250.0, 300.0), Axis.Z: (11.0, 12.0)}) == []
    assert Near(()).within({Axis.X: (0.0, 1.0)}) == []


@pytest.mark.parametrize("seed", range(20))
def test_an_opening_is_that_of_all_parts_asked_one_by_one(seed: int) -> None:
    """Among forty boxes thrown about, the nearest on either side that share some of what lies across."""
    thrown = Random(seed)
    boxes = []
    for number in range(40):
        low = [thrown.randrange(0, 400, 20) for _ in range(3)]
        high = [one + thrown.randrange(20, 120, 20) for one in low]
        boxes.append(part(f"b{number}", (low[0], high[0], low[1], high[1], low[2], high[2])))
    own, standing = boxes[0], boxes[1:]
    found = opening_of(own, [own], Near(standing), Axis.X)
    body = own.body
    abreast = [one for one in standing if one.body.y.overlap(body.y) and one.body.z.overlap(body.z)]
    left = [one for one in abreast if one.body.x.high <= body.x.low]
    right = [one for one in abreast if one.body.x.low >= body.x.high]
    if not left or not right:
        assert found is None
        return
    assert found is not None
    size = min(one.body.x.low for one in right) - max(one.body.x.high for one in left)
    assert (found.size, found.beside) == (size, mm(0))


def test_a_plan_gives_the_joints_of_some_parts_in_source_order() -> None:
    plan = plan_from(FRAMES)
    ids = [one.id for one in plan.parts]
    for some in (ids[:1], ids[2:5], ids[::-1], [], ["no part"]):
        wanted = tuple(one for one in plan.joints if {one.insert, one.receiver} & set(some))
        assert plan.joints_of(some) == wanted
