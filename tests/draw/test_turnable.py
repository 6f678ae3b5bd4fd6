"""The piece in three dimensions: closed bodies, each shape once, the scenes of the step drawings, and what opens along which axis."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from tests.conftest import ROOT, drawn, outcome_of, solids_of

from drawleaf.draw.paper.frame import Room
from drawleaf.draw.step.glue_up_drawing import draw_glue_up
from drawleaf.draw.turnable.meetings import meetings
from drawleaf.draw.turnable.openings import openings
from drawleaf.draw.turnable.shapes import Shapes
from drawleaf.draw.turnable.strips import strips_scene
from drawleaf.draw.turnable.turnable import turnable
from drawleaf.model.drawings import Drawings
from drawleaf.model.place import Axis, Face
from drawleaf.model.turnable import Shape, Turnable
from drawleaf.setting_out.hinging import is_hinge, way_home
from drawleaf.setting_out.placing import standing_plane
from drawleaf.solids.build import Solids, build_solids
from small_plans import derived_from, plan_from

NAME = "key-ledge"


@cache
def made() -> tuple[Turnable, Drawings, Solids]:
    derived, drawings = drawn(NAME)
    solids = solids_of(NAME)
    return turnable(derived, solids, drawings.steps), drawings, solids


def points_of(shape: Shape) -> np.ndarray:
    steps = np.frombuffer(shape.points, "<u2").reshape(-1, 3)
    return np.array(shape.low) + steps * np.array(shape.grain)


def corners_of(shape: Shape) -> np.ndarray:
    return np.frombuffer(shape.corners, "<u2").reshape(-1, 3).astype(int)


def test_every_shape_is_closed_and_as_large_as_its_solid() -> None:
    """Points in 16 bits: each edge of a triangle is met once from either side, and the wood is all there."""
    found, _, solids = made()
    for one in found.whole.standing:
        shape = found.shapes[one.shape]
        corners, points = corners_of(shape), points_of(shape)
        there = {(a, b) for row in corners.tolist() for a, b in zip(row, row[1:] + row[:1], strict=True)}
        assert len(there) == 3 * len(corners)
        assert there == {(b, a) for a, b in there}
        a, b, c = np.moveaxis(points[corners], 1, 0)
        body = solids.body(one.id)
        assert body is not None
        assert np.einsum("ij,ij->", a, np.cross(b, c)) / 6.0 == pytest.approx(body.volume, rel=1e-3)
        assert points.min(axis=0) + one.at == pytest.approx(body.bounds[0], abs=0.05)


def test_parts_that_are_alike_share_a_shape() -> None:
    solids = solids_of("boot-bench")
    derived = outcome_of("boot-bench").derived
    assert derived is not None
    whole = turnable(derived, solids, {}).whole
    shape = {one.id: one.shape for one in whole.standing}
    assert len(set(shape.values())) < len(shape)
    for item in derived.cut_list.items:
        assert len({shape[part.id] for part in item.parts}) == len(
            {solids.at_home(part.id).solid for part in item.parts}
        )


def test_each_surface_is_named() -> None:
    """A box has six faces with names; a hole's wall is the hole's. All triangles belong to a surface."""
    found, _, solids = made()
    for one in found.whole.standing:
        shape = found.shapes[one.shape]
        assert sum(surface.triangles for surface in shape.surfaces) == len(corners_of(shape))
        part = next((part for part in solids.plan.parts if part.id == one.id), None)
        if part is None:
            continue
        assert {surface.face for surface in shape.surfaces} >= set(Face), part.id
        cuts = {surface.cut for surface in shape.surfaces if surface.cut}
        assert cuts == {str(feature.kind) for feature in part.features}, part.id
        start, points = 0, points_of(shape)
        for surface in shape.surfaces:
            if surface.face is not None:
                rows = points[corners_of(shape)[start : start + surface.triangles]].reshape(-1, 3)
                at = float(part.body.face(surface.face).mm - one.at[surface.face.axis.index])
                assert rows[:, surface.face.axis.index] == pytest.approx(at, abs=0.01)
            start += surface.triangles


def test_a_step_begins_as_its_drawing_shows_it() -> None:
    """The same view, the same bodies, each as far from its place; what comes home does so along the proven direction."""
    found, drawings, _ = made()
    derived, _ = drawn(NAME)
    scenes = {step.number: step.scene for step in derived.steps}
    seen = moved = 0
    for turning in found.steps:
        assert turning.step is not None
        sight = drawings.steps[turning.step].panes[0].sight
        if turning.stocks:
            continue
        if sight is None:
            assert all(one.axes is not None for one in turning.standing)
            continue
        seen += 1
        assert (turning.axes, turning.factor) == (sight.axes, sight.factor)
        assert [one.id for one in turning.standing] == list(drawings.steps[turning.step].panes[0].shown)
        offsets, scene = dict(sight.offsets), scenes[turning.step]
        assert scene is not None
        ways = {move.part: np.array(move.direction) for move in scene.moves}
        for one in turning.standing:
            assert one.off == offsets.get(one.id, (0.0, 0.0, 0.0))
            if one.turn is not None:
                moved += 1
                far = np.linalg.norm(one.off)
                assert np.array(one.off) == pytest.approx(-far * ways[one.id], abs=1e-6)
        assert len(turning.driven) == len(scene.fasteners)
        joined = {(joint.insert, joint.face, joint.receiver) for joint in derived.plan.joints}
        mounted = {(one.id, None, part) for one in derived.plan.fittings for part in one.parts}
        fresh = {*scene.new, *scene.fittings}
        for one in turning.meetings:
            assert (one.part, one.face, one.other) in joined | mounted
            assert not fresh or {one.part, one.other} & fresh
    assert seen > 3
    assert sum(len(turning.meetings) for turning in found.steps) >= len(derived.plan.joints)
    assert moved > 1


@pytest.mark.parametrize("name", ["key-ledge", "step-stool", "boot-bench"])
def test_faces_that_meet_look_at_one_another(name: str) -> None:
    """As the piece stands, leaning parts too: the normal of the one face is against that of the other, and no part is at home between the two."""
    derived = outcome_of(name).derived
    assert derived is not None
    plan = derived.plan
    found = meetings(plan, [one.id for one in (*plan.parts, *plan.fittings)])
    parts = {part.id: part for part in plan.parts}
    both = [one for one in found if one.face is not None and one.onto is not None]
    assert len(both) >= 0.9 * len(plan.joints)
    for one in both:
        assert one.face is not None
        assert one.onto is not None
        (mine, off), (theirs, far) = (
            standing_plane(parts[part], face) for part, face in ((one.part, one.face), (one.other, one.onto))
        )
        assert np.dot(mine, theirs) < -0.98, one
        if not one.into:
            assert off + far == pytest.approx(0.0, abs=2.0), (
                one
            )  # the planes lie on one another; a slant is measured in its middle


def test_bought_hardware_meets_each_of_its_parts_at_a_face() -> None:
    """A slide lies at the outside of the drawer's side as at the inside of the case's."""
    derived = outcome_of("boot-bench").derived
    assert derived is not None
    plan = derived.plan
    found = meetings(plan, [one.id for one in (*plan.parts, *plan.fittings)])
    slides = [one for one in plan.fittings if one.moving]
    assert len(slides) == 2
    for slide in slides:
        one, other = (met for met in found if met.part == slide.id)
        assert one.onto is slide.face
        assert other.onto is slide.face.opposite
    assert all(one.onto is not None for one in found if one.face is None)


def test_what_the_step_cuts_is_told_apart_at_the_bench() -> None:
    """A step that bores or chamfers a part marks those surfaces and no outer face."""
    found, _, _ = made()
    benches = [one for one in found.steps if one.standing[0].axes is not None]
    fresh = [
        (surface.face, surface.cut)
        for turning in benches
        for one in turning.standing
        for surface in found.shapes[one.shape].surfaces
        if surface.fresh
    ]
    assert fresh
    assert all(face is None and cut for face, cut in fresh)


def test_a_drawer_comes_out_along_its_slides() -> None:
    (drawer,) = openings(solids_of("boot-bench"))
    assert drawer.axis == (0.0, -1.0, 0.0)
    assert drawer.about is None
    assert 200 < drawer.reach < 400
    assert "drawer.box_bottom" in drawer.bodies
    assert not any(one.startswith("case.") for one in drawer.bodies)


def test_shelves_go_out_as_they_came_in() -> None:
    """Behind a face frame no straight way is free: they go out along the way that the step's arrows show, shelf and edging together."""
    derived = outcome_of("boot-bench").derived
    assert derived is not None
    found = openings(solids_of("boot-bench"), derived.steps)
    assert [one.bodies[0] for one in found] == ["shelves.shelf.1", "shelves.shelf.2", "drawer.box_side"]
    moves = {move.part: move.direction for step in derived.steps if step.scene for move in step.scene.moves}
    for one in found:
        assert {moves[body] for body in one.bodies if body in moves} == {tuple(-step + 0.0 for step in one.axis)}


BOX = """
plan: {title: Tray, number: TU-1, date: 2026-11-20, author: Your name, lengths: in}
stock: {board: {material: pine board, size: 1x4}}
assemblies:
  frame:
    name: Frame
    parts:
      left: {name: Left, stock: board, thickness: x, grain: y, full_width: z, left: 0, front: 0, back: 20, bottom: 0}
      right: {name: Right, stock: board, thickness: x, grain: y, full_width: z, right: 30, front: 0, back: 20, bottom: 0}
      tie: {name: Tie, stock: board, thickness: z, grain: x, full_width: y, left: left.right, right: right.left, front: 16, bottom: 0}
    joints:
      - {butt: tie, to: left, with: [glue]}
      - {butt: tie, to: right, with: [glue]}
  shelf:
    name: Shelf
    loose: true
    parts:
      shelf: {name: Shelf, stock: board, thickness: z, grain: x, full_width: y, left: frame.left.right, right: frame.right.left, front: 2, bottom: frame.tie.top}
"""


def test_a_loose_shelf_is_lifted_the_way_that_is_free() -> None:
    """It lies between two sides, nothing before it: out to the front."""
    (shelf,) = openings(build_solids(plan_from(BOX)))
    assert shelf.bodies == ("shelf.shelf",)
    assert shelf.axis == (0.0, -1.0, 0.0)
    assert shelf.about is None


def test_doors_and_a_lid_swing_about_their_pins() -> None:
    """Each goes the way it opens: a door's far edge to the front, a lid's front edge upwards; its hinged edge stays where it is."""
    plan = plan_from((ROOT / "tests" / "hardware" / "cupboard.yaml").read_text(encoding="utf-8"))
    swung = {one.id: one for one in openings(build_solids(plan)) if one.about is not None}
    assert set(swung) == {one.moving for one in plan.fittings if one.moving and is_hinge(one)}
    for one in swung.values():
        parts = [part.body for part in plan.parts if part.id in one.bodies]
        low, high = (np.array(ends).mean(axis=0) for ends in ([b.low.mm for b in parts], [b.high.mm for b in parts]))
        axis, about = np.array(one.axis), np.array(one.about)
        arm = (low + high) / 2 - about
        arm -= (arm @ axis) * axis
        way = np.cross(axis, arm)
        home = way_home(plan, one.id)
        assert home is not None
        assert way @ -np.array(home) > 0.9 * np.linalg.norm(way)
        wide = np.linalg.norm((high - low) * (1 - np.abs(axis)))
        assert np.linalg.norm(arm) == pytest.approx(wide / 2, rel=0.1)


def test_the_strips_of_a_panel_come_together_between_its_clamps() -> None:
    """A panel 300 mm long and 240 mm wide: two strips or more, side by side along y, their grain along x; seen from above, the first at the back."""
    derived = derived_from("""
      plan: {title: T, number: T-1, date: 2026-11-24, author: A, lengths: mm}
      stock: {board: {material: pine board, size: 1x6}}
      assemblies:
        top:
          parts:
            panel: {stock: board, thickness: z, grain: x, left: 0, right: 300, front: 0, back: 240, bottom: 0, glue_up: {widest_strip: 90}}
    """)
    step = next(one for one in derived.steps if one.operations[0].kind == "glue-up")
    drawing = draw_glue_up(derived, step, (Room(160, 90),))[0]
    shapes = Shapes()
    part = derived.plan.part("top.panel")
    scene = strips_scene(step, part, drawing, shapes)
    assert part.glue_up is not None
    count, wide, extra = part.glue_up.strips, part.glue_up.strip_width.mm, part.glue_up.extra.mm
    assert [one.strip for one in scene.standing] == list(range(1, count + 1))
    assert count >= 3
    assert scene.axes == ((1, 0, 0), (0, 1, 0), (0, 0, 1))
    (shape,) = shapes.all()
    corners, points = corners_of(shape), points_of(shape)
    a, b, c = np.moveaxis(points[corners], 1, 0)
    assert np.einsum("ij,ij->", a, np.cross(b, c)) / 6.0 == pytest.approx(
        (300 + 2 * extra) * wide * part.body.extent(Axis.Z).mm, rel=1e-4
    )
    assert sum(one.triangles for one in shape.surfaces) == len(corners) == 12
    lows = [one.at[1] for one in scene.standing]
    assert np.diff(lows) == pytest.approx([-wide] * (count - 1), abs=0.01)  # side by side, none over another
    assert lows[0] + wide - 120 == pytest.approx(count * wide / 2, abs=0.01)
    apart = [one.at[1] + one.off[1] for one in scene.standing]
    assert (-np.diff(apart) > wide + 5).all()
    assert len(scene.pressing) == 2 * sum(use.count for use in step.clamps) > 0
    for jaw in scene.pressing:
        out = jaw.at[1] - 120
        assert abs(out) == pytest.approx(count * wide / 2, abs=0.01)
        assert jaw.toward == (0, -np.sign(out), 0)
        assert jaw.off[1] == pytest.approx(np.sign(out) * abs(scene.standing[0].off[1]), abs=0.01)
