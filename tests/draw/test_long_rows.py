"""Long pieces of like units: what is worked out for all at once is what would come out one by one, and what stands far off is left out."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from tests.small_plans import FRAMES, plan_from

from drawleaf.draw.at_step import nearby as nearby_module
from drawleaf.draw.at_step.nearby import nearby
from drawleaf.draw.piece.exploded import exploded_views
from drawleaf.draw.sight import clipping, regions
from drawleaf.draw.sight.hidden_lines import project
from drawleaf.draw.sight.view import FRONT, RIGHT
from drawleaf.model.steps import Scene, Step
from drawleaf.solids.build import Solids, build_solids
from drawleaf.solids.travel import WAYS, blocking_table, free_directions, travel_distance, travel_table

ROW = """
plan: {title: T, number: T-1, date: 2026-11-30, author: A. Maker, lengths: mm}
stock:
  oak: {material: red oak board, size: 1x4}
assemblies:
  row:
    parts:
      post: {stock: oak, thickness: x, full_width: y, grain: z, left: 0, front: 0, bottom: 0, high: 300, repeat: {along: x, spacing: 500, count: 4}}
      rail: {stock: oak, thickness: z, full_width: y, grain: x, left: 0, wide: 1600, front: 0, bottom: 300}
    joints: [{butt: rail, to: post, with: [glue]}]
"""
POSTS = ("row.post.1", "row.post.2", "row.post.3", "row.post.4")
PARTS = (*POSTS, "row.rail")


@cache
def _solids() -> Solids:
    return build_solids(plan_from(ROW))


def test_the_table_of_travels_is_what_each_pair_travels() -> None:
    table = travel_table(_solids(), [(part,) for part in PARTS])
    each = [
        [[travel_distance(_solids(), [one], [other], way) if one != other else 0.0 for way in WAYS] for other in PARTS]
        for one in PARTS
    ]
    assert np.array_equal(table, np.array(each))
    assert table[0, 1].any()  # the first post, going right, must pass the second


def test_the_table_of_blockers_leaves_the_ways_that_are_free() -> None:
    stopped = blocking_table(_solids(), [(part,) for part in PARTS], pinned=True).any(axis=1)
    for place, part in enumerate(PARTS):
        free = tuple(way for way, no in zip(WAYS, stopped[place], strict=True) if not no)
        assert free == free_directions(_solids(), [part], [other for other in PARTS if other != part])


def test_of_a_row_seen_from_its_end_the_nearest_is_drawn() -> None:
    """From the right the fourth post hides the three behind it, which leave no line, seen or not."""
    seen = project(_solids(), RIGHT, POSTS)
    alone = project(_solids(), RIGHT, POSTS[-1:])
    assert {line.part for line in seen.visible} == {POSTS[-1]}
    assert len(seen.visible) == len(alone.visible)


def test_nothing_is_worked_out_of_a_post_that_stands_behind_its_like() -> None:
    """Its faces are not compared with those of the others, of whose areas none shows."""
    solids = build_solids(plan_from(ROW))
    seen = project(solids, RIGHT, PARTS)
    assert {face.part for face in seen.shaded_faces} == {POSTS[-1], "row.rail"}
    assert [part for part in POSTS if not seen.outline(part).is_empty] == [POSTS[-1]]
    assert not regions._COVERS.all(solids.memos)  # the rail lies on top, and is seen over no post


def test_lines_hidden_are_the_same_looked_up_a_few_at_a_time(monkeypatch: pytest.MonkeyPatch) -> None:
    whole = project(build_solids(plan_from(ROW)), FRONT, PARTS)
    wanted = [line.points.tolist() for line in (*whole.visible, *whole.hidden)]
    monkeypatch.setattr(clipping, "BATCH", 3)
    few = project(build_solids(plan_from(ROW)), FRONT, PARTS)
    assert [line.points.tolist() for line in (*few.visible, *few.hidden)] == wanted


def _step() -> Step:
    return Step(1, "s", "", "", None, (), (), (), (), (), None)


def test_what_stands_far_from_the_work_is_left_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """A post 300 high is set in: what begins within 150 of it is shown, the others of the row are not."""
    scene = Scene(POSTS[1:], POSTS[:1], (), (), ())
    assert nearby(_solids(), _step(), scene) is scene  # a short row is shown whole
    monkeypatch.setattr(nearby_module, "MANY", 2)
    assert nearby(_solids(), _step(), scene).standing == ()
    among = Scene((*POSTS[1:], "row.rail"), POSTS[:1], (), (), ())
    assert nearby(_solids(), _step(), among).standing == ("row.rail",)
    whole = Scene(PARTS, (), (), (), ())
    assert nearby(_solids(), _step(), whole) is whole  # work on all that stands


@pytest.mark.parametrize(("without", "told"), [("bay_2", "; the bay 3 likewise"), (None, ", 3 alike")])
def test_like_assemblies_share_an_exploded_view(without: str | None, told: str) -> None:
    """Of two the second is named, three are counted."""
    source = "".join(line for line in FRAMES.splitlines(keepends=True) if not without or without not in line)
    titles = [view.title for view in exploded_views(plan_from(source))]
    assert titles == ["Exploded view of the whole", f"Exploded view: First{told}", "Exploded view: Tall"]
