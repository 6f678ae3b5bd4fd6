"""Two assemblies that are twins go through each set-up together; what is marked alike is told once, with how many there are."""

from __future__ import annotations

from tests.book.test_wording import transcript
from tests.small_plans import derived_from

DOORS = """
plan: {title: T, number: T-1, date: 2026-11-30, author: A. Maker, lengths: mm}
stock:
  oak: {material: red oak board, size: 1x3}
  thin: {material: birch plywood, nominal: 6 mm, actual: 6 mm}
assemblies:
  left_door:
    component: frame and panel door
    with: {wide: 300, high: 500, frame: oak, panel: thin}
  right_door: {like: left_door, mirrored: {x: 310}}
checks: {waive: [{check: tip-over, reason: They hang in a case.}]}
"""


def test_two_doors_share_their_set_ups() -> None:
    """Eight stiles and rails: their grooves are one step, the tongues of the four rails two at most, each with all its parts."""
    derived = derived_from(DOORS)
    work = [op for step in derived.steps for op in step.operations if op.kind in ("channel", "tongue")]
    grooves = [op for op in work if op.kind == "channel"]
    tongues = [op for op in work if op.kind == "tongue"]
    assert sorted(len(op.parts) for op in grooves) == [8]
    assert len(tongues) <= 2
    assert sum(len(op.parts) for op in tongues) == 4
    words = transcript(derived)
    marks = next(line for line in words.splitlines() if "Mark the groove on" in line)
    assert "door stiles [1]. Draw two lines along the inner edge" in marks
    assert "Mark it on both door top rails [2]. Draw two lines along the bottom edge" in marks
    assert marks.count("two lines along the inner edge") == 1
    assert "Cut the door top rails off the board" in words


STRIPS = """
plan: {title: T, number: T-1, date: 2026-11-30, author: A. Maker, lengths: mm}
stock:
  oak: {material: red oak board, size: 1x8}
assemblies:
  board:
    parts:
      board: {stock: oak, thickness: z, grain: x, left: 0, right: 18 in, front: 0, back: 18 in, bottom: 0, glue_up: {widest_strip: 4-1/2 in}}
"""


def test_strips_of_a_panel_are_counted_as_they_are_cut_off() -> None:
    """They are 19 in long: long enough to hold, so that nobody is told that they are short."""
    words = transcript(derived_from(STRIPS))
    assert "Cut the strips for the board off the board" in words
    assert "five strips for the board [1]" in words
    assert "A part this short" not in words
