"""Where the words of a step measure from: a face of the parts that are joined, within reach of a rule; level where it was sawn level."""

from __future__ import annotations

from functools import cache

import pytest
from tests.small_plans import derived_from, plan_from

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.derive.cut_list.cut_list import make_cut_list
from drawleaf.model.derived import Derived
from drawleaf.model.place import Axis, Face
from drawleaf.setting_out.overhang import overhangs_of
from drawleaf.setting_out.placing import are_level, placing

HEAD = "plan: {title: T, number: T-1, date: 2026-11-30, author: A. Maker, lengths: mm}\n"
STOOL = (
    HEAD
    + """
stock:
  pine: {material: pine board, size: 1x6}
  leg: {material: construction lumber, size: 2x2}
assemblies:
  frame:
    parts:
      leg: {stock: leg, thickness: x, full_width: y, grain: z, left: 30, front: 40, bottom: 0, top: 300, lean: {right: 9 deg}, pivot: top, level_ends: {bottom: 0, top: 300}, mirror: {x: 200}}
      rail: {stock: pine, thickness: y, full_width: z, grain: x, left: leg.right, right: leg.mirrored.left, front: 50, top: 300}
    joints:
      - {butt: rail, to: leg, with: [glue, {dowels: {count: 3}}]}
checks: {waive: [{check: tip-over, reason: It is an example.}]}
"""
)
CASE = (
    HEAD
    + """
stock:
  ply: {material: birch plywood, nominal: 18 mm, actual: 18 mm}
  oak: {material: red oak board, size: 1x3}
assemblies:
  case:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 300, bottom: 0, top: 400, mirror: {x: 250}}
      plinth: {stock: oak, thickness: y, full_width: z, grain: x, left: 0, right: 500, back: side.front, bottom: 0}
      rail: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, deep: 80, top: 400, mirror: {y: 150}}
    joints:
      - {butt: plinth, to: side, with: [glue]}
      - {butt: rail.original, to: side, with: [glue, {screws: {count: 2, heads: filled}}]}
      - {butt: rail.mirrored, to: side, with: [glue, {screws: {count: 2, heads: filled}}]}
  lid:
    parts:
      top: {name: Lid, stock: ply, thickness: z, grain: x, left: -20, right: 520, front: -40, back: 300, bottom: 400}
    joints:
      - {butt: top, to: case.rail.original, with: [{screws: {count: 2, through: case.rail.original}}]}
      - {butt: top, to: case.rail.mirrored, with: [{screws: {count: %d, through: case.rail.mirrored}}]}
checks: {waive: [{check: tip-over, reason: It is an example.}]}
"""
)


@cache
def case() -> Derived:
    return derived_from(CASE % 3)


def words_of(derived: Derived, step_id: str) -> str:
    formatter = Formatter.of(derived.plan)
    (step,) = [step for step in derived.steps if step.id == step_id]
    return " ".join(step_text(step, derived, formatter).actions)


def test_a_rail_between_splayed_legs_is_level_with_their_tops() -> None:
    """The boxes of rail and leg are written in two frames, 9 degrees apart; both are sawn off level at 300 mm."""
    plan = plan_from(STOOL)
    joints = [joint for joint in plan.joints if joint.insert.endswith("rail")]
    assert len(joints) == 2
    for joint in joints:
        up = [offset for offset in placing(plan, joint) if offset.face.axis is Axis.Z]
        assert [(offset.face, offset.flush) for offset in up] == [(Face.TOP, True)]


def test_a_face_is_level_only_with_one_in_its_own_plane() -> None:
    plan = plan_from(STOOL)
    leg, rail = plan.part("frame.leg"), plan.part("frame.rail")
    assert are_level(leg, rail, Face.TOP)
    assert not are_level(leg, rail, Face.FRONT)
    assert not are_level(leg, plan.part("frame.leg.mirrored"), Face.LEFT)


def test_a_top_is_told_from_what_it_lies_on_and_not_from_the_plinth() -> None:
    """The plinth stands out 19.05 mm at the front, far below: 40 mm over the sides, and not 20.95 mm over the outline of the whole."""
    plan = case().plan
    top = plan.part("lid.top")
    found = {one.face: one for one in overhangs_of(top, [part for part in plan.parts if part is not top], Axis.Z)}
    assert found[Face.FRONT].room.mm == 40
    assert {part.id for part in found[Face.FRONT].past} == {"case.side", "case.side.mirrored", "case.rail"}
    assert found[Face.LEFT].room.mm == 20
    assert [part.id for part in found[Face.LEFT].past] == ["case.side"]
    assert not found[Face.BACK].room


def test_the_words_name_what_a_top_stands_over() -> None:
    words = words_of(
        case(),
        next(
            step.id
            for step in case().steps
            if "lid" in step.id and step.scene is not None and step.stage != "Cut the parts"
        ),
    )
    assert "stands over by" in words
    assert "sides" in words.split("Measure from ")[1].split(".")[0]


@pytest.mark.parametrize(("count", "rows"), [(2, ["Front and back rail"]), (3, ["Front rail", "Back rail"])])
def test_parts_that_are_bored_unlike_have_numbers_of_their_own(count: int, rows: list[str]) -> None:
    """Two rails of one size, one with a screw hole more than the other."""
    items = make_cut_list(plan_from(CASE % count)).items
    assert [item.name for item in items if "ail" in item.name] == rows
    assert sum(item.quantity for item in items if "ail" in item.name) == 2
