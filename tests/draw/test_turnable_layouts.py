"""A step at the saw that turns: pieces lie where the layout has them, the stock has room for them, and each goes to its own place in the piece."""

from __future__ import annotations

import numpy as np
import pytest

from drawleaf.draw.paper.frame import Room
from drawleaf.draw.step.cutting_drawing import draw_cutting
from drawleaf.draw.turnable.laid_out import laid_scene
from drawleaf.draw.turnable.shapes import Shapes
from drawleaf.model.derived import Derived
from drawleaf.model.lists import BoardLayout, SheetLayout
from drawleaf.model.steps import Step
from drawleaf.model.turnable import Shape, Turning
from drawleaf.solids.build import build_solids
from small_plans import derived_from

PLAN = """
plan: {title: T, number: T-1, date: 2026-11-24, author: A, lengths: mm}
stock:
  ply: {material: birch plywood, nominal: 18 mm, actual: 18 mm}
  board: {material: pine board, size: 1x6}
assemblies:
  box:
    parts:
      side: {name: Side, stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 300, bottom: 0, top: 700}
      leaning: {name: Rest, stock: ply, thickness: y, grain: z, left: 100, right: 400, front: 350, bottom: 0, top: 500, lean: {back: 10}}
      panel: {name: Top, stock: board, thickness: z, grain: x, left: 0, right: 900, front: 0, back: 240, bottom: 800, glue_up: {widest_strip: 90}}
"""


def points_of(shape: Shape) -> np.ndarray:
    return np.array(shape.low) + np.frombuffer(shape.points, "<u2").reshape(-1, 3) * np.array(shape.grain)


def volume_of(shape: Shape) -> float:
    points, corners = points_of(shape), np.frombuffer(shape.corners, "<u2").reshape(-1, 3).astype(int)
    a, b, c = np.moveaxis(points[corners], 1, 0)
    return float(np.einsum("ij,ij->", a, np.cross(b, c)) / 6.0)


@pytest.fixture(scope="module")
def scenes() -> tuple[Derived, list[tuple[Step, Turning, tuple[Shape, ...]]]]:
    derived = derived_from(PLAN)
    solids = build_solids(derived.plan)
    found = []
    for step in derived.steps:
        if step.scene is None or step.scene.layout is None:
            continue
        shapes = Shapes()
        drawing = draw_cutting(derived, step, (Room(160, 90),))[0]
        scene = laid_scene(derived, solids, step, drawing, shapes)
        assert scene is not None
        found.append((step, scene, shapes.all()))
    return derived, found


def layout_of(derived: Derived, name: str) -> SheetLayout | BoardLayout:
    kind, _, number = name.partition(" ")
    layouts = derived.layouts.sheets if kind == "sheet" else derived.layouts.boards
    return next(one for one in layouts if one.number == int(number))


def test_pieces_lie_as_the_layout_has_them(scenes) -> None:
    """The blank of each piece, turned as it lies, covers its rectangle of the sheet or board, and its upper face is level with the stock's."""
    derived, found = scenes
    assert {stock.kind for _, scene, _ in found for stock in scene.stocks} == {"Sheet", "Board"}
    for _, scene, shapes in found:
        standing = {one.id: one for one in scene.standing}
        for stock in scene.stocks:
            lying = [one for one in scene.standing if one.lying and one.lying.stock == stock.id]
            placed = layout_of(derived, stock.id).placed
            assert len(lying) == len(placed) > 0
            bare = standing[stock.id]
            top = points_of(shapes[bare.shape])[:, 2].max()
            for one, piece in zip(lying, placed, strict=True):
                assert one.lying is not None
                seen = points_of(shapes[one.lying.shape]) @ np.array(one.lying.axes).T + one.lying.middle - bare.at
                assert np.linalg.det(np.array(one.lying.axes)) == pytest.approx(1.0)  # turned, never mirrored
                want = [piece.x.mm, piece.y.mm], [(piece.x + piece.length).mm, (piece.y + piece.width).mm]
                assert seen.min(axis=0)[:2] == pytest.approx(want[0], abs=0.1)
                assert seen.max(axis=0) == pytest.approx([*want[1], top], abs=0.1)


def test_the_stock_is_less_its_pieces_and_the_cuts_around_them(scenes) -> None:
    derived, found = scenes
    for _, scene, shapes in found:
        for one in scene.standing:
            if one.id not in {stock.id for stock in scene.stocks}:
                continue
            layout, size = layout_of(derived, one.id), np.ptp(points_of(shapes[one.shape]), axis=0)
            sheet = isinstance(layout, SheetLayout)
            long, wide = (layout.sheet.length, layout.sheet.width) if sheet else (layout.length, layout.board.width)
            area = volume_of(shapes[one.shape]) / size[2]
            pieces = sum(piece.length.mm * piece.width.mm for piece in layout.placed)
            round_them = sum(2 * (piece.length.mm + piece.width.mm) for piece in layout.placed)
            left = long.mm * wide.mm - pieces
            assert left - round_them * derived.plan.making.kerf.mm <= area < left


def test_each_piece_goes_to_its_own_place(scenes) -> None:
    """A part, upright or leaning, ends with its middle where the piece has it; strips end side by side over the whole panel."""
    derived, found = scenes
    solids = build_solids(derived.plan)
    arrived = set()
    for step, scene, shapes in found:
        strips = []
        for one in scene.standing:
            if one.lying is None or one.turn is None:
                continue
            assert one.id in step.parts
            arrived.add(one.id)
            part, points = derived.plan.part(one.id), points_of(shapes[one.shape]) + one.at
            if part.glue_up:
                strips.append(points)
                continue
            body = solids.body(one.id)
            assert body is not None
            assert np.array([points.min(axis=0), points.max(axis=0)]) == pytest.approx(body.bounds, abs=0.05)
            assert np.array(one.at) + one.lying.about == pytest.approx(body.bounds.mean(axis=0), abs=0.05)
        if strips:
            panel = derived.plan.part("box.panel")
            assert len(strips) == panel.glue_up.strips > 1  # type: ignore[union-attr]
            lows = sorted(float(one[:, 1].min()) for one in strips)
            highs = sorted(float(one[:, 1].max()) for one in strips)
            assert (lows[0], highs[-1]) == pytest.approx((0.0, 240.0), abs=0.1 + panel.glue_up.extra.mm)  # type: ignore[union-attr]
            assert np.array(highs[:-1]) - lows[1:] == pytest.approx(np.zeros(len(strips) - 1), abs=2.0)
    assert arrived == {part.id for part in derived.plan.parts}
