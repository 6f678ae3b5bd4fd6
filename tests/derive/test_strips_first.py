"""What runs the whole length of short parts is cut on the board, before they are cut off it."""

from __future__ import annotations

import pytest
from tests.book.test_wording import transcript
from tests.small_plans import derived_from, outcome_from

from drawleaf.compiler import Choice
from drawleaf.model.derived import Derived

HEAD = "plan: {title: T, number: T-1, date: 2026-11-30, author: A. Maker, lengths: mm}\n"
BOX = """
stock:
  oak: {{material: red oak board, size: 1x3}}
  ply: {{material: birch plywood, nominal: 6 mm, actual: 6 mm}}
assemblies:
  box:
    parts:
      side: {{stock: oak, thickness: y, full_width: z, grain: x, left: 0, right: {long}, front: 0, bottom: 0, mirror: {{y: 50}}}}
      end: {{stock: oak, thickness: x, full_width: z, grain: y, left: 0, front: side.back, back: side.mirrored.front, bottom: 0, mirror: {{x: {long} / 2}}}}
      floor: {{stock: ply, thickness: z, grain: x, left: end.right, right: end.mirrored.left, front: side.back, back: side.mirrored.front, bottom: 8}}
    joints:
      - {{rabbet: end, in: side, depth: 9, with: [glue]}}
      - {{groove: floor, in: [side, end], depth: 6}}
    machining:
      - {{in: side, round_over: {{edges: [{side}], size: 3}}}}
      - {{in: end, round_over: {{edges: [left-top], size: 3}}}}
"""


def box(*, long: int = 180, side: str = "front-top") -> str:
    return HEAD + BOX.format(long=long, side=side)


def kinds(derived: Derived) -> list[str]:
    """The kinds of work on the boards, in their order."""
    wanted = ("channel", "round-over", "crosscut")
    return [op.kind for step in derived.steps for op in step.operations if op.kind in wanted]


def test_groove_and_edge_come_before_the_crosscut() -> None:
    """The ends of a small box are 80 mm long: too short for a router. Groove and round-over are run along the whole board first."""
    derived = derived_from(box())
    assert kinds(derived)[:3] == ["channel", "round-over", "crosscut"]
    words = transcript(derived)
    assert "whole until this is done: a part only 80 mm long cannot be held safely by itself." in words
    assert "two lines on what will be the inside face, 8 mm and 14 mm from one edge." in words
    assert "one edge of the board, the one farther from the groove and on the other face, with a pencil" in words
    assert not [one for one in outcome_from(box()).diagnostics if one.code == "small-parts"]


def test_what_does_not_lie_alike_is_not_run_on_one_strip() -> None:
    """Sides rounded on their inner edge, ends on their outer one: one strip cannot have both, so that is left to the parts."""
    found = kinds(derived_from(box(side="back-top")))
    assert found.index("channel") < found.index("crosscut") < found.index("round-over")


def test_long_parts_are_cut_first() -> None:
    """A box whose shortest part is long enough for the router keeps its order: crosscut, then groove."""
    text = box(long=400).replace("{y: 50}", "{y: 150}")
    found = kinds(derived_from(text))
    assert found.index("crosscut") < found.index("channel")


@pytest.mark.parametrize("kit", ["hand tools"])
def test_a_plane_holds_short_parts(kit: str) -> None:
    """A plough plane works what a vise holds: nothing is run along the board for its sake."""
    found = kinds(derived_from(box(), Choice(kit=kit)))
    assert found.index("crosscut") < found.index("channel")


RAIL = """
stock:
  pine: {material: pine board, size: 1x2}
  wide: {material: pine board, size: 1x4}
assemblies:
  stand:
    parts:
      post: {stock: pine, thickness: y, full_width: x, grain: z, left: 0, front: 0, bottom: 0, top: 120, repeat: {along: x, at: [0, 80, 160]}}
      foot: {stock: wide, thickness: z, full_width: y, grain: x, left: 0, right: 220, front: 0, top: 0}
    joints:
      - {butt: post, to: foot, with: [glue, {dowels: {count: 2}}]}
    machining:
      - {in: post, chamfer: {edges: [front-left], size: 4}}
"""


def test_chamfered_posts() -> None:
    """Three posts of 120 mm: their chamfer is run along the board, told with its number, and not again on the posts."""
    derived = derived_from(HEAD + RAIL)
    chamfers = [op for step in derived.steps for op in step.operations if op.kind == "chamfer"]
    assert len(chamfers) == 1
    assert len(chamfers[0].features) == 3
    assert dict(chamfers[0].settings.named())["boards"] == "1"
    order = [op.kind for step in derived.steps for op in step.operations]
    assert order.index("chamfer") < order.index("crosscut")
