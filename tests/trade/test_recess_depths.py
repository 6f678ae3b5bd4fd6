"""A recess is as deep in the drawing of its part as in its step, however coarsely the plan rounds its other sizes."""

from __future__ import annotations

import pytest
from tests.shape_trials import words_in
from tests.small_plans import derived_from

from drawleaf.draw.part.drawing import drawn_part
from drawleaf.draw.part.marks.all_marks import marks
from drawleaf.draw.picture.lay import lay_out

PLAN = """
plan: {title: T, number: T-1, date: 2026-11-30, author: A. Maker, lengths: UNIT, round_to: STEP}
stock:
  board: {material: pine board, size: 1x4}
assemblies:
  rack:
    parts:
      side: {stock: board, thickness: x, full_width: y, grain: z, left: 0, front: 0, bottom: 0, high: HIGH}
    machining:
      - {in: side, recess: {face: left, at: AT, SHAPE, depth: DEPTH}}
"""


@pytest.mark.parametrize(
    ("unit", "step", "high", "at", "shape", "depth", "told"),
    [
        ("in", "1/16", "20", "{y: 1, z: 10}", "deep: 1, high: 2", "5/64", "5/64"),
        ("in", "1/16", "20", "{y: 1, z: 10}", "diameter: 1/2", "13/64", "13/64"),
        ("mm", "1 mm", "500", "{y: 30, z: 250}", "deep: 25, high: 50", "3", "3"),
    ],
)
def test_drawing_and_step_tell_the_same_depth(unit, step, high, at, shape, depth, told) -> None:
    """A leaf of 5/64 in is let in 5/64 in deep, where all else is rounded to 1/16 in."""
    text = PLAN.replace("UNIT", unit).replace("STEP", step).replace("HIGH", high).replace("AT", at)
    derived = derived_from(text.replace("SHAPE", shape).replace("DEPTH", depth))
    said = " ".join(line for one in derived.steps for line in words_in(derived, one.id)).replace("⁄", "/")
    assert f"{told}\u00a0{unit}" in said.replace(" ", "\u00a0")
    (item,) = derived.cut_list.items
    x, y, z = derived.overall
    lay = lay_out(drawn_part(derived, item), (x / 2, y / 2, z / 2))
    notes = ["".join(map(str, mark.note)) for mark in marks(derived, lay)]
    assert [note for note in notes if f"{told} deep" in note.replace("⁄", "/")], notes
