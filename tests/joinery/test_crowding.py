"""Fasteners of one joint: heads that overlap are refused, a spacing below the usual is advised, and the largest count is told."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.conftest import outcome_of

from drawleaf.compiler import Choice, check_plan
from drawleaf.model.diagnostic import Diagnostic

SLAT = """plan: {{title: T, number: T-1, date: 2026-11-20, author: A, lengths: in}}
stock:
  pine: {{material: {wood}}}
assemblies:
  frame:
    parts:
      post: {{stock: pine, thickness: x, grain: z, left: 0, front: 0, full_width: y, bottom: 0, top: 12}}
      slat: {{stock: pine, thickness: {thick}, full_width: {wide}, grain: x, left: post.right, right: 12, front: 0, bottom: 3}}
    joints:
      - {{butt: slat, to: post, with: [{screws}]}}
"""


def told(tmp_path: Path, screws: str, thick: str = "y", wood: str = "pine board, size: 1x2") -> list[Diagnostic]:
    """What a slat of 1x2 on a post is told of its fasteners' room."""
    (tmp_path / "plan.yaml").write_text(
        SLAT.format(screws=screws, thick=thick, wide="z" if thick == "y" else "y", wood=wood), encoding="utf-8"
    )
    found = check_plan(tmp_path, Choice()).diagnostics
    return [one for one in found if one.code in ("fasteners-crowded", "fasteners-close")]


@pytest.mark.parametrize(
    ("count", "code"),
    [(2, None), (3, "fasteners-close"), (4, "fasteners-crowded"), (20, "fasteners-crowded"), (99, "fasteners-crowded")],
)
def test_screws_in_the_end_of_a_slat(tmp_path: Path, count: int, code: str | None) -> None:
    """1-1/2 in less 3/8 in at each end leaves 3/4 in. A #8 is 0.164 in thick: 4 diameters are 0.656 in along the post's grain, its head
    takes 0.328 in. So two stand well (0.75), three are close (0.375), and the heads of four (0.25) overlap."""
    found = told(tmp_path, f"{{screws: {{count: {count}, item: wood screw 8 x 2}}}}")
    assert [one.code for one in found] == ([code] if code else [])
    for one in found:
        assert "“count: 2”" in one.mend
        assert one.position is not None
        assert one.position.line == 10


def test_the_mend_works_when_typed(tmp_path: Path) -> None:
    assert not told(tmp_path, "{screws: {count: 2, item: wood screw 8 x 2}}")


def test_across_the_grain_they_may_stand_closer(tmp_path: Path) -> None:
    """A slat laid flat: its row runs across the post's grain, where 3 diameters do. Three stand 0.375 in apart of 0.492, two 0.75."""
    assert [one.code for one in told(tmp_path, "{screws: {count: 3, item: wood screw 8 x 2}}", "z")] == [
        "fasteners-close"
    ]
    assert not told(tmp_path, "{screws: {count: 2, item: wood screw 8 x 2}}", "z")


def test_two_entries_of_one_joint_on_one_spot(tmp_path: Path) -> None:
    """Two screws each from the same row: the second pair sits in the first pair's holes."""
    one = "{screws: {count: 2, item: wood screw 8 x 2}}"
    assert [found.code for found in told(tmp_path, f"{one}, {one}")] == ["fasteners-crowded"]


def test_dowels_of_two_lengths_on_one_spot(tmp_path: Path) -> None:
    """Their holes run into each other, though the longer dowel begins deeper in the slat. One dowel between two has room."""
    two, other = "{dowels: {count: 2, item: dowel 3/8 x 2}}", "{dowels: {count: COUNT, item: dowel 5/16 x 1-1/2}}"
    found = told(tmp_path, f"{two}, {other.replace('COUNT', '2')}", wood="construction lumber, size: 2x4")
    assert [one.code for one in found] == ["fasteners-crowded"]
    assert not told(tmp_path, f"{two}, {other.replace('COUNT', '1')}", wood="construction lumber, size: 2x4")


def test_the_example_plans_keep_the_usual_room() -> None:
    for name in ("record-cabinet", "boot-bench", "tool-tote", "trestle-table"):
        found = outcome_of(name).diagnostics
        assert not [one for one in found if one.code in ("fasteners-crowded", "fasteners-close")], name
