"""What a message says to type is typed, and the plan is good."""

from __future__ import annotations

from pathlib import Path

import pytest

from drawleaf.compiler import Choice, check_plan
from drawleaf.model.diagnostic import Diagnostic

BOX = """\
plan: {title: Box, number: B-1, date: 2026-11-30, author: A. Maker, lengths: in}
stock:
  ply: {material: birch plywood, nominal: 3/4, actual: 3/4}
assemblies:
  box:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 10, bottom: 0, top: 12, mirror: {x: 10}}
      floor: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 10, bottom: 0}
      shelf: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 10, bottom: 6}
    joints:
      - {JOINT: floor, in: side, depth: 1/4, with: [glue, {screws: {count: 2}}]}
      - {dado: shelf, in: side, depth: 1/4, with: [glue]}
"""


def told(folder: Path, source: str) -> list[Diagnostic]:
    """The errors of a plan."""
    folder.mkdir(exist_ok=True)
    (folder / "plan.yaml").write_text(source, encoding="utf-8")
    return [one for one in check_plan(folder, Choice(), tidy=False).diagnostics if one.is_error]


def test_a_dado_at_the_very_end_becomes_a_rabbet(tmp_path: Path) -> None:
    """It touches all it can: no gap is named, but the side that is missing."""
    found = told(tmp_path / "box", BOX.replace("JOINT", "dado"))
    assert {one.code for one in found} == {"open-joint"}
    for one in found:
        assert "wood on one side only" in one.message
        assert " in at the" not in one.cause
        assert "write “rabbet” in place of “dado”" in one.mend
    assert told(tmp_path / "box", BOX.replace("JOINT", "rabbet")) == []


def test_of_two_joints_of_the_same_parts_one_is_taken_out(tmp_path: Path) -> None:
    twice = BOX.replace("JOINT", "rabbet").replace(
        "    joints:\n", "    joints:\n      - {butt: floor, to: side, with: [glue]}\n"
    )
    found = told(tmp_path / "box", twice)
    assert {one.code for one in found} == {"uneven-depth"}
    assert all("Two joints let “box.floor” into “box.side" in one.message for one in found)
    assert found[0].position is not None
    lines = twice.splitlines(keepends=True)
    del lines[found[0].position.line - 1]
    assert [one for one in told(tmp_path / "box", "".join(lines)) if one.code == "uneven-depth"] == []


@pytest.mark.parametrize(("sink", "good"), [("3/64", True), ("1/32", False), ("25/32", True), ("1", False)])
def test_the_depth_of_a_head_is_told_with_its_limits(tmp_path: Path, sink: str, good: bool) -> None:
    source = BOX.replace("JOINT", "rabbet").replace("{count: 2}", f"{{count: 2, heads: plugged, counterbore: {sink}}}")
    found = [one for one in told(tmp_path / "box", source) if one.code == "counterbore-depth"]
    assert bool(found) is not good
    assert all("from 3/64 in (1 mm) to 25/32 in (20 mm)" in one.cause for one in found)
