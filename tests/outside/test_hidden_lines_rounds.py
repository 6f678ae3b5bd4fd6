"""Outlines of moulded and turned bodies from many sides, against OpenCASCADE: also where the eye looks along the very inflection of an ogee."""

from __future__ import annotations

from math import atan2, cos, pi, radians, sin

import numpy as np
import pytest

from drawleaf.draw.sight.hidden_lines import project
from drawleaf.draw.sight.view import View
from drawleaf.solids.build import build_solids
from drawleaf.solids.sweeps import Stretch
from outside.cabinet import OGEE
from outside.line_scenes import length_of, segments_of
from outside.make_hidden_line_golden import drawn_once
from outside.occt import volume_and_area
from outside.recipe import Recipe, Sweep, Turning
from outside.recipe_occ import shape_of, visible
from outside.recipe_own import solid_of
from outside.test_hidden_lines_occ import extra
from solids_scene import plan

MOULDING = Recipe("moulding", (Sweep((0, 0), OGEE, (0, 0, 0), (0, -1, 0), (0, 0, 1), 300),))
INFLECTION = atan2(12, 6) - radians(53.13010235415598 / 2)
"""The slope of the section where the one arc goes over into the other: no tangent of either is flatter."""


KNOB = Recipe(
    "knob",
    (
        Turning(
            0,
            (
                Stretch((14, 0)),
                Stretch((14, 4)),
                Stretch((8, 10), -90),
                Stretch((8, 20)),
                Stretch((11, 20)),
                Stretch((18, 27), 90),
                Stretch((11, 34), 90),
                Stretch((0, 34)),
            ),
            (5, 6, 7),
            (0, 0, 1),
            (1, 0, 0),
        ),
    ),
)
"""A foot with a hollow, a neck, and a rounded head that runs over into a flat top; along y."""


def anywhere(seed: int, count: int = 12) -> list[tuple[float, ...]]:
    return [tuple(map(float, row)) for row in np.random.default_rng(seed).normal(size=(count, 3))]


def along_the_inflection() -> list[tuple[float, ...]]:
    """Along the section's tangent there, and within half a facet of it either way."""
    found = []
    for off in (-3, -1.5, -0.5, -0.1, 0.1, 0.5, 1.5, 3):
        angle = INFLECTION + radians(off)
        found += [(0.4, -cos(angle + turn), sin(angle + turn)) for turn in (0, pi)]
    return found


def name(direction: tuple[float, ...]) -> str:
    return ",".join(f"{part:.3f}" for part in direction)


@pytest.mark.parametrize("direction", [*anywhere(4), *along_the_inflection()], ids=name)
def test_outlines_of_an_ogee(direction):
    compare(MOULDING, direction, 1e-3)


@pytest.mark.parametrize(
    "direction", [(1, 0, 0), (0, 1, 0), (0, -1, 0), (0, 0, 1), (0.3, -1, 0.2), *anywhere(3)], ids=name
)
def test_outlines_of_a_knob(direction):
    compare(KNOB, direction, 3e-3)


def compare(recipe: Recipe, direction: tuple[float, float, float], allowed: float) -> None:
    view = View("some", direction, (0.0, 0.0, 1.0) if abs(direction[2]) < 0.99 else (0.0, 1.0, 0.0))
    ours = segments_of(project(build_solids(plan()), view, (), None, {"one": solid_of(recipe)}).visible)
    theirs = drawn_once(*visible(shape_of(recipe), view))
    assert extra(ours, theirs) == 0
    assert extra(theirs, ours) == 0
    assert length_of(ours) == pytest.approx(length_of(theirs), rel=allowed)


def test_volumes():
    """A moulding's facets stay within 0.02 mm of its arcs; a 48-sided turning has 0.29 % less than the round."""
    for recipe, allowed in ((MOULDING, 1e-4), (KNOB, 4e-3)):
        volume, _ = volume_and_area(shape_of(recipe))
        assert solid_of(recipe).volume == pytest.approx(volume, rel=allowed)
