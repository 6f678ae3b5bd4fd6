"""A drawer that runs on wood: waxed and tried when the finish is dry, and judged as such; what is no box is set in as before."""

from __future__ import annotations

from tests.shape_trials import words_in
from tests.small_plans import derived_from

from drawleaf.model.boxes import is_box
from drawleaf.model.place import Axis

CHEST = """
plan: {title: Chest, number: X-1, date: 2026-11-20, author: Nobody, lengths: in}
stock:
  ply: {material: birch plywood, nominal: 1/2, actual: 1/2}
  thin: {material: birch plywood, nominal: 1/4, actual: 1/4}
assemblies:
  case:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, deep: 14, bottom: 0, high: 6, mirror: {x: 8}}
      deck: {stock: ply, thickness: z, grain: x, between: side, front: 0, deep: 14, bottom: 0}
      top: {like: deck, top: 6}
    joints:
      - {butt: [deck, top], to: side, with: [glue, {screws: 3}]}
  drawer:
    loose: yes
    component: drawer box
    with: {wide: 14-15/16, deep: 13, high: 4-15/16, box: ply, floor: thin}
    at: {x: 17/32, z: 1/2}
  tray:
    loose: yes
    parts:
      board: {stock: ply, thickness: z, grain: x, left: 1, wide: 6, front: 1, deep: 6, bottom: 6}
finish:
  - {apply: danish oil, coats: 1}
"""


def test_the_drawer_is_waxed_and_tried_after_the_finish() -> None:
    """One step for the box, and the plain one for the board that lies on top."""
    steps = derived_from(CHEST).steps
    kinds = [op.kind for step in steps for op in step.operations]
    assert kinds.index("set-drawer") > kinds.index("coat")
    assert "set-shelves" in kinds
    step = next(one for one in steps if one.operations[0].kind == "set-drawer")
    assert step.title == "Wax the drawer, and fit it"
    assert all(part.startswith("drawer.") for part in step.operations[0].parts)


def test_the_wax_lies_ready_and_is_on_the_list() -> None:
    derived = derived_from(CHEST)
    step = next(one for one in derived.steps if one.operations[0].kind == "set-drawer")
    assert "Candle wax" in [supply.name for supply in step.supplies]
    (row,) = [one for one in derived.consumables if one.item.name == "Candle wax"]
    assert (row.buy, row.why) == (1, f"for step {step.number}")


def test_a_floor_between_four_walls_is_a_box() -> None:
    """A lid on it, or a wall less, and it is none."""
    parts = [one for one in derived_from(CHEST).plan.parts if one.assembly == "drawer"]
    assert is_box(parts)
    assert not is_box([one for one in parts if one.thickness is not Axis.Y])
    assert not is_box([*parts, *(one for one in parts if one.thickness is Axis.Z)])


def test_finish_on_the_way_is_told_and_bare_wood_is_kept_bare() -> None:
    """Oil on everything lies on the deck and the sides too; a drawer and a deck left out of it stay bare."""
    bare = CHEST.replace("coats: 1}", "coats: 1, but: [drawer, case.deck]}")
    oiled, kept = (" ".join(words_in(derived_from(source), "set-drawer")) for source in (CHEST, bare))
    assert "Some finish lies where wood will slide on wood: on the deck" in oiled
    assert "Nothing else goes on there" not in oiled
    assert "Some finish" not in kept
    assert "Nothing else goes on there" in kept
