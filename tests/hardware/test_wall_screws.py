"""A screw into the wall goes through a hole, which a step drills while the part lies flat on the bench."""

from __future__ import annotations

from tests.small_plans import derived_from

from drawleaf.model.derived import Derived
from drawleaf.model.plan import Bore

LEDGE = """
plan: {title: T, number: T-1, date: 2026-11-30, author: A. Maker, lengths: mm}
stock:
  board: {material: beech board, size: 20x90}
  thin: {material: birch plywood, nominal: 6 mm}
assemblies:
  ledge:
    parts:
      rail: {stock: board, thickness: y, full_width: z, grain: x, left: 0, wide: 600, front: 0, bottom: 0}
      back: {stock: thin, thickness: y, grain: x, left: 0, wide: 600, front: rail.back, bottom: 0, high: 90}
    joints:
      - {butt: back, to: rail, with: [glue]}
    machining: %s
    hardware:
      - {item: wall screw, on: rail, face: front, at: {x: 100, z: 45}, repeat: {along: x, at: [0, 400]}}
"""
BORED = "[{in: rail, bore: {face: front, at: {x: 100, z: 45}, repeat: {along: x, at: [0, 400]}, diameter: 3/16 in}}]"


def holes(derived: Derived, part: str) -> list[Bore]:
    return [one for one in derived.plan.part(part).features if isinstance(one, Bore)]


def test_the_holes_of_wall_screws_are_drilled_through_all_that_they_go_through() -> None:
    """The booklet marks the wall through them, so that they have to be there: in the rail, and in the panel behind it."""
    derived = derived_from(LEDGE % "[]")
    for part in ("ledge.rail", "ledge.back"):
        assert [(one.start.x.mm, one.depth) for one in holes(derived, part)] == [(100, None), (500, None)]
    drilled = {part for step in derived.steps for op in step.operations if op.kind == "bore" for part in op.parts}
    assert drilled == {"ledge.rail", "ledge.back"}


def test_a_hole_that_the_author_bores_there_is_the_one() -> None:
    """No second one is cut into it."""
    assert len(holes(derived_from(LEDGE % BORED), "ledge.rail")) == 2
