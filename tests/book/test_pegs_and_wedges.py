"""How joints are drawn home: pegs after the diagonals, wedges through their slots, each channel counted."""

from __future__ import annotations

from tests.book.test_wording import transcript
from tests.small_plans import derived_from

HEAD = "plan: {title: T, number: T-1, date: 2026-11-30, author: A. Maker, lengths: mm}\n"
FRAME = """
stock:
  oak: {material: red oak board, size: 1x3}
assemblies:
  frame:
    parts:
      stile: {stock: oak, thickness: y, full_width: x, grain: z, left: 0, front: 0, bottom: 0, top: 600, mirror: {x: 250}}
      rail: {stock: oak, thickness: y, full_width: z, grain: x, left: stile.right, right: stile.mirrored.left, front: 0, top: 600, repeat: {along: z, at: [0, -400]}}
    joints:
      - {mortise_and_tenon: rail, in: stile, with: [glue, {pegs: {drawbore: 1}}]}
"""


def test_a_frame_is_squared_before_its_pegs() -> None:
    """Two rails in two stiles: all is glued, then squared, then pegged; no step waits for a later one."""
    derived = derived_from(HEAD + FRAME)
    square = next(step for step in derived.steps if step.id == "square-frame")
    assert square.title == "Square the frame, and drive the pegs"
    assert next(op.kind for op in square.operations) == "square"
    assert [len(op.fasteners) for op in square.operations] == [0, 8]
    numbers = {op.id: step.number for step in derived.steps for op in step.operations}
    assert all(numbers[one] <= step.number for step in derived.steps for op in step.operations for one in op.after)
    words = transcript(derived)
    assert "Drive the eight 6 x 100 mm hardwood pegs" in words
    assert "into the mortises in the left stile" in words
    assert "over the ends of the" in words


TUSK = """
dimensions: {long: 500, out: 60}
stock:
  end: {material: beech board, size: 45x95}
  bar: {material: beech board, size: 45x70}
  wedge: {material: beech board, size: 20x40}
assemblies:
  ends:
    parts:
      end: {stock: end, thickness: x, full_width: y, grain: z, left: out, front: 0, bottom: 0, top: 300, mirror: {x: long / 2}}
  bar:
    parts:
      bar: {stock: bar, thickness: y, full_width: z, grain: x, left: ends.end.right, right: ends.end.mirrored.left, front: 25, bottom: 100}
    joints:
      - {mortise_and_tenon: bar, in: ends.end, through: yes, thickness: 20, depth: 45 mm + out, shoulder: 8}
    machining:
      - {in: bar, cutout: {face: front, at: {x: out - 15, z: bar.bottom + 35}, wide: 36, high: 20}}
      - {in: bar, cutout: {face: front, at: {x: long - out + 15, z: bar.bottom + 35}, wide: 36, high: 20}}
  wedges:
    parts:
      wedge: {stock: wedge, thickness: z, grain: y, wide: 36, right: ends.end.left, front: -20, deep: 140, bottom: bar.bar.bottom + 25, mirror: {x: long / 2}}
    joints:
      - {butt: wedge, to: ends.end}
    machining:
      - {in: wedge, taper: {edge: left, toward: back, start: 0, narrow_by: 8}}
"""


def test_a_wedge_is_driven_through_its_slot() -> None:
    """Two ends, a bar with tusk tenons, two wedges: each goes through the opening, thin end first, until the shoulders are tight."""
    words = transcript(derived_from(HEAD + TUSK))
    assert "through the openings in the bar" in words
    assert "thin end first. Keep the straight edge against the outside face of the ends" in words
    assert "until the shoulders of the bar" in words
