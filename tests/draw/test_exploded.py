"""Balloons on parts that are pulled apart: each leader ends on its own part, crosses no other and covers no number."""

from __future__ import annotations

from itertools import combinations

import pytest
import shapely
from tests.conftest import PLANS, outcome_of, solids_of
from tests.draw.legibility import _crosses as crosses
from tests.small_plans import derived_from

from drawleaf.draw.paper.balloons import arrange
from drawleaf.draw.paper.placement import lines_cross
from drawleaf.draw.paper.style import BALLOON_RADIUS
from drawleaf.draw.picture.picture import Window
from drawleaf.draw.piece.exploded import (
    _falling_apart,
    _whole_units,
    draw_exploded,
    exploded_views,
    item_tags,
    on_paper,
)
from drawleaf.draw.piece.explosion import Moving, explode
from drawleaf.draw.sight.hidden_lines import project
from drawleaf.draw.sight.view import PICTORIAL, PICTORIAL_LEFT
from drawleaf.solids.build import build_solids

FACTOR = 0.1


def balloons(name: str, view):  # type: ignore[no-untyped-def]
    """For each assembly of the plan pulled apart: its number of parts, the projected work, and the balloons in their places."""
    derived = outcome_of(name).derived
    assert derived is not None
    solids = solids_of(name)
    for assembly in derived.plan.assemblies:
        units = [Moving(part, (part,)) for part in assembly.parts]
        if len(units) < 2:
            continue
        explosion = explode(solids, units)
        assert any(any(offset) for offset in explosion.offsets.values())
        work = project(solids, view, assembly.parts, explosion.offsets)
        window = Window(FACTOR, (0.0, 0.0))
        tags = item_tags(work, window, derived.cut_list, assembly.parts)
        yield derived, work, arrange(tags, on_paper(work, window))


@pytest.mark.parametrize("name", PLANS)
@pytest.mark.parametrize("view", [PICTORIAL, PICTORIAL_LEFT], ids=lambda view: view.name)
def test_leaders_end_on_their_own_part_pulled_apart(name, view):
    """The dot lies on what can be seen of a part of that number, and on nothing else's."""
    for derived, work, placed in balloons(name, view):
        assert placed
        for one in placed:
            place = shapely.Point(one.tag.dot[0] / FACTOR, -one.tag.dot[1] / FACTOR)
            under = [part for part in work.shown if work.outline(part).contains(place)]
            assert [str(derived.cut_list.item_of(part).number) for part in under] == [one.tag.text]


@pytest.mark.parametrize("name", PLANS)
@pytest.mark.parametrize("view", [PICTORIAL, PICTORIAL_LEFT], ids=lambda view: view.name)
def test_leaders_cross_nothing_pulled_apart(name, view):
    for _, _, placed in balloons(name, view):
        assert [(a.tag.text, b.tag.text) for a, b in combinations(placed, 2) if lines_cross(a.leader, b.leader)] == []
        for one in placed:
            for other in placed:
                x, y = other.center
                box = (x - BALLOON_RADIUS, y - BALLOON_RADIUS, x + BALLOON_RADIUS, y + BALLOON_RADIUS)
                assert other is one or not crosses(*one.leader, box), (one.tag.text, other.tag.text)


def test_two_trestles_come_off_their_stretcher_to_either_side():
    """They are one assembly in the source but stand in two pieces; moved as one they would leave the stretcher no way but down."""
    derived = outcome_of("trestle-table").derived
    assert derived is not None
    plan, solids = derived.plan, solids_of("trestle-table")
    falling = _falling_apart(plan)
    assert [len(pieces) for pieces in falling.values()] == [2, 2]
    tops = [assembly for assembly in plan.assemblies if assembly.parent is None]
    offsets = explode(solids, [unit for top in tops for unit in _whole_units(plan, top, falling)]).offsets
    ways = {name: offsets[falling["trestles"][place].parts[0]][0] for place, name in enumerate(("left", "right"))}
    stretcher = offsets["stretcher.stretcher"]
    assert ways["left"] < stretcher[0] < ways["right"]
    assert stretcher[2] == 0


RACK = """
plan: {title: T, number: T-1, date: 2026-12-01, author: A. Maker, lengths: mm}
stock:
  ply: {material: birch plywood, nominal: 18 mm, actual: 18 mm}
assemblies:
  rack:
    parts:
      floor: {stock: ply, thickness: z, grain: x, left: 18, right: 418, front: 0, back: 200, bottom: 0}
      end: {stock: ply, thickness: x, grain: y, left: 0, front: 0, back: 200, bottom: 0, top: 90, mirror: {x: 218}}
      lid: {stock: ply, thickness: z, grain: x, left: 0, right: 436, front: 0, back: 200, bottom: 90}
    joints:
      - {butt: floor, to: end, with: [glue]}
      - {butt: lid, to: end, with: [glue]}
checks: {waive: [{check: glue-alone, reason: It holds leaves.}]}
"""


def test_every_part_that_is_pulled_off_has_a_line_along_its_way() -> None:
    """A lid hides the middles of its joints: its line stands at a corner then."""
    small = derived_from(RACK)
    table = outcome_of("trestle-table").derived
    assert table is not None
    for derived, solids in ((small, build_solids(small.plan)), (table, solids_of("trestle-table"))):
        for subject in exploded_views(derived.plan):
            moved = len(explode(solids, subject.units).ways)
            svg = draw_exploded(derived, solids, subject).svg
            (path,) = (line for line in svg.splitlines() if 'class="explosion"' in line)
            assert moved == len(subject.units) - 1
            assert path.count("M") >= moved
