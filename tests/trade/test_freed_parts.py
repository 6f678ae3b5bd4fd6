"""What a cut of a layout sets free is told by the numbers that lie there, where two parts of one size have two numbers."""

from __future__ import annotations

import pytest
from tests.small_plans import derived_from
from tests.trade.rule import HEAD

CASE = """
stock:
  ply: {material: birch plywood, nominal: 18 mm, actual: 18 mm}
assemblies:
  case:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 300, bottom: 0, top: 700, mirror: {x: 300}}
      deck: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 300, bottom: 100}
      lid: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 300, top: 700}
    joints:
      - {butt: [deck, lid], to: side, with: [glue, {screws: {heads: filled}}]}
    machining:
      - {in: lid, bore: {face: top, at: {x: 300, y: 150}, diameter: 30}}
      - {in: side.original, bore: {face: left, at: {y: 150, z: 400}, diameter: 30}}
finish: [{sand: [120], to: all}]
"""


@pytest.mark.parametrize("wide", [300, 280])
def test_two_numbers_of_one_size_are_both_told(wide: int) -> None:
    derived = derived_from(HEAD + CASE.replace("300, bottom", f"{wide}, bottom"))
    (sheet,) = derived.layouts.sheets
    done = [cut.frees for cut in sheet.cuts if cut.frees.startswith("part ")]
    held = " ".join(cut.frees for cut in sheet.cuts)
    assert sorted(done) == [f"part {placed.number}" for placed in sorted(sheet.placed, key=lambda one: one.number)]
    assert "2 of part" not in held
    assert " and " in held
