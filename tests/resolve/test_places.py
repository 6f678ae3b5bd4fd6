"""Frames, mirrors and repeats: where parts and their machining come to stand."""

from __future__ import annotations

from drawleaf.model.place import Face
from drawleaf.model.plan import Bore, BoxCut, EdgeProfile

NESTED = """\
dimensions: {off: 7}
stock: {ply: {material: birch plywood, nominal: 1/2, actual: 1/2}}
assemblies:
  outer:
    at: {x: off, z: 2}
    parts:
      post: {stock: ply, thickness: x, grain: z, left: 1, front: 0, deep: 4, bottom: 0, high: 10}
    assemblies:
      inner:
        at: {x: post.right + 1, y: 3}
        parts:
          leaf: {stock: ply, thickness: x, grain: z, left: 0, front: 0, deep: 4, bottom: post.bottom, top: outer.post.top - 1}
          twin: {stock: ply, thickness: z, grain: x, left: leaf.right, wide: 3, front: 0, deep: 2, bottom: 0, mirror: {y: 4}, repeat: {along: z, count: 2, spacing: 3}}
  free:
    parts:
      block: {stock: ply, thickness: y, grain: x, left: outer.inner.leaf.right, wide: outer.inner.twin.wide, front: outer.inner.twin.mirrored.front, bottom: outer.inner.twin.2.top, high: 1}
"""


def numbers(box):
    return [float(span.low.inches) for span in (box.x, box.y, box.z)]


def test_nested_frames(small):
    plan, diagnostics = small(NESTED)
    assert plan is not None, diagnostics
    # Outer stands at x 7, z 2; its post at 1 within it, so at 8. Its right: 8-1/2.
    assert numbers(plan.part("outer.post").seen) == [8, 0, 2]
    # Inner is at the post's right and 1 more, within outer: 7 + 1-1/2 + 1 = 9-1/2; y 3; z as outer.
    assert numbers(plan.part("outer.inner.leaf").seen) == [9.5, 3, 2]
    # Its top is an inch under the post's, which is 12 above the floor.
    assert plan.part("outer.inner.leaf").seen.z.high.inches == 11
    # Twin: y from 3 to 5, mirrored about 3 + 4 = 7: from 9 to 11. Copies 3 higher.
    assert numbers(plan.part("outer.inner.twin.2").seen) == [10, 3, 5]
    assert numbers(plan.part("outer.inner.twin.2.mirrored").seen) == [10, 9, 5]
    assert plan.part("outer.inner.twin.2").name == "Front twin"
    assert plan.part("outer.inner.twin.2.mirrored").name == "Back twin"
    # The block names faces across frames: 10, 9, 5-1/2.
    assert numbers(plan.part("free.block").seen) == [10, 9, 5.5]
    assert plan.part("free.block").seen.x.extent.inches == 3


MACHINED = """\
stock: {ply: {material: birch plywood, nominal: 3/4, actual: 3/4}}
assemblies:
  box:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, deep: 10, bottom: 0, high: 20, mirror: {x: 8}}
      step: {stock: ply, thickness: z, grain: x, left: 20, wide: 10, front: 0, deep: 6, bottom: 0, repeat: {along: x, count: 2, spacing: 12}}
    machining:
      - {in: side, notch: {corner: [front, bottom], deep: 2, high: 3}}
      - {in: side, bore: {face: right, at: {y: 5, z: 6}, diameter: 1/2, depth: 1/4}}
      - {in: side, round_over: {edges: [right-top], size: 1/8}}
      - {in: side.mirrored, bore: {face: left, at: {y: 5, z: 12}, diameter: 1/2, depth: 1/4}}
      - {in: side.original, shelf_pins: {face: right, rows: {front: 2, back: 2}, start: 6, spacing: 2, count: 3}}
      - {in: step, bore: {face: top, at: {x: 22, y: 3}, diameter: 1}}
"""


def test_machining_of_twins_and_copies(small):
    plan, diagnostics = small(MACHINED)
    assert plan is not None, diagnostics
    original, twin = plan.part("box.side").features, plan.part("box.side.mirrored").features
    notch, twin_notch = (next(one for one in features if isinstance(one, BoxCut)) for features in (original, twin))
    assert (notch.box.y, notch.box.z) == (twin_notch.box.y, twin_notch.box.z)
    assert set(notch.open) == {Face.FRONT, Face.BOTTOM, Face.LEFT, Face.RIGHT}
    # The hole in the right face of the left side is in the left face of the right one, at 16 - 3/4.
    hole, twin_hole, own = (
        one for features in (original, twin) for one in features if isinstance(one, Bore) and one.kind == "hole"
    )
    assert (hole.face, hole.start.x.inches, hole.direction) == (Face.RIGHT, 0.75, (-1.0, 0.0, 0.0))
    assert (twin_hole.face, twin_hole.start.x.inches, twin_hole.direction) == (Face.LEFT, 15.25, (1.0, 0.0, 0.0))
    assert (own.face, own.start.z.inches) == (Face.LEFT, 12)
    edges = [one.edge for features in (original, twin) for one in features if isinstance(one, EdgeProfile)]
    assert edges == [(Face.RIGHT, Face.TOP), (Face.LEFT, Face.TOP)]
    pins = [one for one in original if isinstance(one, Bore) and one.kind == "shelf pin"]
    assert [(pin.start.y.inches, pin.start.z.inches) for pin in pins] == [
        (2, 6),
        (2, 8),
        (2, 10),
        (8, 6),
        (8, 8),
        (8, 10),
    ]
    assert len({pin.row for pin in pins}) == 2
    assert not [one for one in twin if isinstance(one, Bore) and one.kind == "shelf pin"]
    steps = [plan.part(f"box.step.{number}").features[0] for number in (1, 2)]
    assert [step.start.x.inches for step in steps if isinstance(step, Bore)] == [22, 34]


SIDES = """\
stock: {ply: {material: birch plywood, nominal: 1/2, actual: 1/2}}
assemblies:
  box:
    parts:
      front: {stock: ply, thickness: y, grain: x, left: 0, wide: 9, front: 0, bottom: 0, high: 3, mirror: {y: 6}}
      left_post: {stock: ply, thickness: x, grain: z, left: 0, front: 2, deep: 2, bottom: 0, high: 3, mirror: {x: 4}}
"""


def test_a_part_that_is_named_after_its_side_has_a_twin_named_after_the_other(small):
    plan, diagnostics = small(SIDES)
    assert plan is not None, diagnostics
    assert [part.name for part in plan.parts] == ["Front", "Back", "Left post", "Right post"]
