"""Screw heads in sight: bare ones on the front, the sides and the top are advised against; plugs, filler and what stands before them hide."""

from __future__ import annotations

import pytest
from tests.checks.conftest import found
from tests.conftest import outcome_of

from drawleaf.model.checks import Verdict

RACK = """
stock:
  ply: {{material: birch plywood, nominal: 18 mm, actual: 18 mm}}
assemblies:
  rack:
    parts:
      side: {{stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 250 mm, bottom: 0, top: 400 mm, mirror: {{x: 318 mm}}}}
      shelf: {{stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 250 mm, bottom: 200 mm}}
{more}
    joints:
      - {{{joint}, with: [glue, {{screws: {{count: 3{heads}}}}}]}}
"""
COVER = """\
      cover: {{stock: ply, thickness: x, grain: z, right: 0, front: 0, back: 250 mm, bottom: 100 mm, top: 300 mm, mirror: {{x: 318 mm}}}}
"""
BUTT = "butt: shelf, to: side"


@pytest.mark.parametrize(
    ("heads", "more", "verdict"),
    [
        ("", "", Verdict.ADVICE),
        (", heads: filled", "", Verdict.PASS),
        (", heads: plugged", "", Verdict.PASS),
        ("", COVER.format(), Verdict.PASS),
    ],
)
def test_a_shelf_screwed_through_its_sides(checked, heads: str, more: str, verdict: Verdict) -> None:
    joints = RACK if not more else RACK + "      - {{butt: cover, to: side, with: [glue]}}\n"
    outcome = checked(joints.format(joint=BUTT, heads=heads, more=more.rstrip()))
    one = found(outcome, "screw-heads")
    assert one.verdict is verdict, one
    if verdict is Verdict.ADVICE:
        assert dict(one.words.values)["sides"] == "the left and the right"
    else:
        told = {each.name: each.value for each in one.figures}
        assert told == {"asked": 6, "filled": 6 * ("filled" in heads), "plugged": 6 * ("plugged" in heads)}


def test_heads_on_the_back_and_beneath_are_not_asked(checked) -> None:
    """A rail screwed through the back, from behind."""
    plan = """
stock:
  ply: {material: birch plywood, nominal: 18 mm, actual: 18 mm}
assemblies:
  rack:
    parts:
      back: {stock: ply, thickness: y, grain: x, left: 0, right: 400 mm, back: 0, bottom: 0, top: 200 mm}
      shelf: {stock: ply, thickness: z, grain: x, left: 0, right: 400 mm, back: back.front, deep: 200 mm, top: 200 mm}
    joints:
      - {butt: shelf, to: back, with: [glue, {screws: {count: 3, through: back}}]}
"""
    assert found(checked(plan), "screw-heads").verdict is Verdict.PASS


@pytest.mark.parametrize(
    "name", ["key-ledge", "boot-bench", "record-cabinet", "step-stool", "tool-tote", "trestle-table"]
)
def test_no_example_shows_a_bare_head(name: str) -> None:
    derived = outcome_of(name).derived
    assert derived is not None
    assert all(one.verdict is Verdict.PASS for one in derived.checks if one.check == "screw-heads")
