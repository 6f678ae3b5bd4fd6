"""The renderer behind the pictures, where its extra is installed: small pictures, held by tolerance."""

from __future__ import annotations

import importlib.util

import numpy as np
import pytest
from manifold3d import Manifold

from drawleaf.looks.atlas import groups_of
from drawleaf.looks.boards import Board
from drawleaf.looks.camera import Camera
from drawleaf.looks.charts import Grain
from drawleaf.looks.coats import Coats
from drawleaf.looks.scene import STILL, Light, Plain, Scene, Wood, body_of
from drawleaf.model.catalogue import Catalogue
from drawleaf.solids.solid import Solid

pytestmark = pytest.mark.skipif(
    importlib.util.find_spec("mitsuba") is None,
    reason="pictures need the extra drawleaf[pictures], which is not installed",
)
LIGHT = Light((-900.0, -2000.0, 1800.0), (0.0, 0.0, 0.0), 900.0, (14.0, 13.0, 12.0))


def quiet(_what: str, _share: float) -> None:
    pass


def test_the_camera_sees_where_it_says(catalogue: Catalogue) -> None:
    """A lens moved to the side and down: the block of wood lies in the picture where ``on_film`` puts its corners, lit from the left."""
    from drawleaf.looks.mitsuba import Settings, render

    solid = Solid(Manifold.cube((300.0, 120.0, 200.0)).translate((-150.0, 0.0, 0.0)))
    wood = Wood(
        Board(catalogue.looks["beech"], (300.0, 200.0, 120.0), 5), Grain((0.0, 60.0, 100.0), (0, 2, 1)), Coats()
    )
    block = body_of(solid, wood)
    camera = Camera((-260.0, -1500.0, 500.0), -12.0, (0.09, -0.31), (80, 60))
    scene = Scene((block,), (), LIGHT, (0.0, 0.0, 0.0), camera)
    groups = groups_of(scene.piece, 6.0)
    made = render(scene, groups, Settings(8, fast=False), quiet)
    there = np.argwhere(made.light.sum(axis=2) > 0.05)
    film = camera.on_film(block.in_scene()[0].reshape(-1, 3))
    low, high = film[:, :2].min(axis=0), film[:, :2].max(axis=0)
    assert np.abs(there.min(axis=0)[::-1] - low).max() < 2.0
    assert np.abs(there.max(axis=0)[::-1] - high).max() < 2.0
    again = render(scene, groups, Settings(8, fast=False), quiet)
    assert np.array_equal(made.light, again.light)
    beech = made.light[28:34, 38:44].mean(axis=(0, 1))
    assert beech[0] > 1.15 * beech[1] > 1.15 * beech[2]


def test_metal_and_paint_are_drawn(catalogue: Catalogue) -> None:
    """Plain bodies come through as they are: a white one is brighter than a black one."""
    from drawleaf.looks.mitsuba import Settings, render

    cube = Manifold.cube((100.0, 100.0, 100.0))
    white = body_of(Solid(cube.translate((-120.0, 0.0, 0.0))), Plain((0.8, 0.8, 0.8)))
    black = body_of(Solid(cube.translate((20.0, 0.0, 0.0))), Plain((0.02, 0.02, 0.02)), STILL)
    camera = Camera((0.0, -700.0, 50.0), 0.0, (0.0, 0.0), (64, 48))
    scene = Scene((white, black), (), LIGHT, (0.3, 0.3, 0.3), camera)
    light = render(scene, groups_of(scene.piece, 5.0), Settings(4, fast=False), quiet).light
    assert light[20:28, 18:24].mean() > 5.0 * light[20:28, 40:46].mean()
