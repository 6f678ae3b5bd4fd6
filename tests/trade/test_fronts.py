"""A drawer front goes on when its drawer runs: between spacers in its opening, or before the edges of the case."""

from __future__ import annotations

import pytest
from tests.shape_trials import words_in
from tests.small_plans import derived_from
from tests.trade.rule import HEAD

CHEST = """
stock:
  ply: {material: birch plywood, nominal: 18 mm, actual: 18 mm}
  box: {material: birch plywood, nominal: 12 mm, actual: 12 mm}
  thin: {material: birch plywood, nominal: 6 mm, actual: 6 mm}
assemblies:
  case:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, deep: 350, bottom: 0, high: 160, mirror: {x: 200}}
      deck: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, deep: 350, bottom: 0}
      lid: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, deep: 350, top: 160}
    joints:
      - {butt: [deck, lid], to: side, with: [glue, {screws: {heads: filled}}]}
  drawer:
    loose: yes
    component: drawer box
    with: {wide: 400 - 36 - 25.4, deep: 305, high: 90, box: box, floor: thin}
    at: {x: 18 + 12.7, y: %s, z: 30}
    parts:
      face: {stock: ply, thickness: y, grain: x, left: case.side.left + %s, right: case.side.mirrored.right - %s, back: case.side.front + %s, bottom: case.deck.bottom + %s, top: case.lid.top - %s}
    joints: [{butt: face, to: box_front, with: [{screws: {count: 4, through: box_front}}]}]
    hardware: [{item: side-mount slides 12 in, on: [case.side, case.side.mirrored], carries: drawer, at: {y: case.side.front + %s, z: 75}}]
"""
OVERLAY = (0, 2, 2, 0, 3, 3, 2)
INSET = (18, 20, 20, 18, 20, 20, 20)


@pytest.mark.parametrize("front", [OVERLAY, INSET])
def test_the_front_is_set_by_what_is_there(front: tuple[int, ...]) -> None:
    derived = derived_from(HEAD + CHEST % front)
    step = next(step for step in derived.steps if any(op.kind == "join-front" for op in step.operations))
    said = " ".join(words_in(derived, step.id)).replace("\u00a0", " ")
    assert "from inside the drawer" in said
    if front is OVERLAY:
        assert "16 mm at the left and the right and 15 mm at the bottom and the top" in said
        assert "strip across them for its lower edge" in said
        assert "gap of" not in said
    else:
        assert "gap of 2 mm all round. Playing cards" in said
        assert "cover the edges" not in said
