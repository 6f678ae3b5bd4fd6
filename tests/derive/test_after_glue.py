"""What waits for glue, and what is finished: nothing is waited for twice, nothing counted twice."""

from __future__ import annotations

from tests.small_plans import derived_from

CASE = """
plan: {title: Tiny, number: F-1, date: 2026-11-20, author: A. Maker, lengths: in}
dimensions: {width: 14, depth: 8}
stock:
  ply: {material: birch plywood, nominal: 3/4, actual: 3/4}
  thin: {material: birch plywood, nominal: 1/4, actual: 1/4}
assemblies:
  case:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: depth, bottom: 0, high: 12, mirror: {x: width / 2}}
      shelf: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: depth, bottom: 1}
      back: {stock: thin, thickness: y, grain: x, left: side.right, right: side.mirrored.left, back: depth, bottom: shelf.top, top: side.top}
    joints:
      - {dado: shelf, in: side, depth: 1/4, with: [glue, {screws: {count: 2}}]}
      - {rabbet: back, in: side, depth: 1/4, with: []}
"""


def test_what_is_fitted_when_the_glue_has_set_comes_after_squaring_up() -> None:
    """The back is marked from the case, so the case stands glued by then: it is pulled square while the glue is wet, and waited for once."""
    steps = derived_from(CASE).steps
    square = next(step for step in steps if any(one.kind == "square" for one in step.operations))
    fit = next(step for step in steps if any(one.id == "fit-back" for one in step.operations))
    assert square.number < fit.number
    assert [step.number for step in steps if any(one.wait_hours for one in step.operations)] == [square.number]


def test_two_lines_of_one_finish_are_two_coats_on_one_surface() -> None:
    (once,) = derived_from(CASE + "finish:\n  - {apply: danish oil, coats: 2, to: all}\n").finishes
    twice = CASE + "finish:\n  - {apply: danish oil, coats: 1, to: all}\n  - {apply: danish oil, coats: 1, to: all}\n"
    (both,) = derived_from(twice).finishes
    assert (both.coats, both.area, both.litres) == (once.coats, once.area, once.litres) == (2, once.area, once.litres)
