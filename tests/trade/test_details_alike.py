"""What is drawn, counted and told as one at an enlarged joint is made as one at the bench."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.conftest import drawn_source
from tests.small_plans import plan_from
from tests.trade.rule import HEAD

from drawleaf.book.chapters import elevations
from drawleaf.book.chapters.context import Book
from drawleaf.draw.joint.kinds import joint_kinds
from drawleaf.draw.joint.words import detail_lines

FRAMES = """
stock:
  oak: {material: red oak board, size: 1x3}
assemblies:
  glued:
    parts:
      rail: {stock: oak, thickness: y, full_width: z, grain: x, left: 0, right: 300, front: 0, bottom: 0}
      end: {stock: oak, thickness: x, full_width: z, grain: y, right: rail.right, front: rail.front, back: 150, bottom: 0}
    joints: [{mitre: rail, to: end, with: [glue]}]
  apart:
    loose: yes
    parts:
      rail: {stock: oak, thickness: y, full_width: z, grain: x, left: 400, right: 700, front: 0, bottom: 0}
      end: {stock: oak, thickness: x, full_width: z, grain: y, right: rail.right, front: rail.front, back: 150, bottom: 0}
    joints: [{mitre: rail, to: end%s}]
"""
TOP = """
stock:
  oak: {material: red oak board, size: 1x6}
  rail: {material: red oak board, size: 1x4}
assemblies:
  base:
    parts:
      front: {stock: rail, thickness: z, full_width: y, grain: x, left: 0, right: 600, front: 0, bottom: 0}
      middle: {stock: rail, thickness: z, full_width: x, grain: y, left: 250, front: front.back, back: back.front, bottom: 0}
      back: {stock: rail, thickness: z, full_width: y, grain: x, left: 0, right: 600, back: 400, bottom: 0}
    joints: [{butt: middle, to: [front, back], with: [glue, {pocket_screws: {count: 2, on: bottom}}]}]
  top:
    parts:
      top: {stock: oak, thickness: z, grain: x, left: 0, right: 600, front: 0, back: 400, bottom: base.front.top, glue_up: {strips: 4}}
    joints:
      - {butt: top, to: base.front, with: [{screws: {spacing: 150, through: base}}]}
      - {butt: top, to: base.middle, with: [{screws: {spacing: 150, through: base}}]}
      - {butt: top, to: base.back, with: [{screws: {item: pan-head screw 8 x 1-1/4, count: 3, through: base, slots: yes}}]}
"""


@pytest.mark.parametrize(("held", "drawings"), [(", with: [glue]", 1), ("", 2)])
def test_a_corner_that_comes_apart_is_not_drawn_with_one_that_is_glued(held: str, drawings: int) -> None:
    plan = plan_from(HEAD + FRAMES % held)
    assert len(joint_kinds(plan)) == drawings
    assert all(len({joint.glued for joint in kind.joints}) == 1 for kind in joint_kinds(plan))


@pytest.fixture(scope="module")
def table(tmp_path_factory: pytest.TempPathFactory):
    """A top on three rails: two are screwed fast, the back one through slots."""
    folder: Path = tmp_path_factory.mktemp("table")
    (folder / "plan.yaml").write_text((HEAD + TOP).replace("lengths: mm", "lengths: mm, units: in"), encoding="utf-8")
    return drawn_source(folder)


def test_a_row_tells_how_many_screws_each_joint_has_and_the_bits_of_its_steps(table) -> None:
    """The long rail has more screws than the short one. 11/64 and 7/64 are no 3/16 and 1/8."""
    derived, drawings = table
    found = elevations.gather(Book.of(derived, drawings, for_print=True))
    assert found is not None
    (row,) = [one for one in found["plain"] if "Top" in one.meets]
    counts = [len(joint.fasteners) for joint in derived.plan.joints if drawings.detail_of[joint.id] == row.detail.id]
    assert len(set(counts)) == 2
    assert all(f"(× {count})" in row.meets for count in counts)
    assert not row.held[:1].isdigit()
    assert "11" in row.clearance
    assert "64" in row.clearance


def test_the_detail_of_screws_that_slide_tells_their_slots_and_washers(table) -> None:
    derived, _ = table
    (kind,) = [one for one in joint_kinds(derived.plan) if any(screw.slotted for screw in one.joint.fasteners)]
    said = " ".join("".join(str(piece) for piece in line) for line in detail_lines(derived, kind))
    assert "In slots" in said
    assert "washers" in said
    fast = [one for one in joint_kinds(derived.plan) if not any(screw.slotted for screw in one.joint.fasteners)]
    assert fast
    assert not any("slots" in str(piece) for one in fast for line in detail_lines(derived, one) for piece in line)
