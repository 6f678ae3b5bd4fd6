"""Silhouettes of a moulded section from many sides, against OpenCASCADE: also where the eye looks along the very inflection of an ogee."""

from __future__ import annotations

from math import atan2, cos, pi, radians, sin

import numpy as np
import pytest

from drawleaf.draw.hidden_lines import project
from drawleaf.draw.view import View
from drawleaf.solids.build import build_solids
from outside.cabinet import OGEE
from outside.line_scenes import length_of, segments_of
from outside.make_hidden_line_golden import drawn_once
from outside.recipe import Recipe, Sweep
from outside.recipe_occ import shape_of, visible
from outside.recipe_own import solid_of
from outside.test_hidden_lines_occ import extra
from solids_scene import plan

MOULDING = Recipe("moulding", (Sweep((0, 0), OGEE, (0, 0, 0), (0, -1, 0), (0, 0, 1), 300),))
INFLECTION = atan2(12, 6) - radians(53.13010235415598 / 2)
"""The slope of the section where the one arc goes over into the other: no tangent of either is flatter."""


def directions() -> list[tuple[float, float, float]]:
    random = np.random.default_rng(4)
    found = [tuple(map(float, row)) for row in random.normal(size=(12, 3))]
    # Along the section's tangent at the inflection, and within half a facet of it either way.
    for off in (-3, -1.5, -0.5, -0.1, 0.1, 0.5, 1.5, 3):
        angle = INFLECTION + radians(off)
        found += [(0.4, -cos(angle + turn), sin(angle + turn)) for turn in (0, pi)]
    return found


@pytest.mark.parametrize("direction", directions(), ids=lambda d: "{:.3f},{:.3f},{:.3f}".format(*d))
def test_silhouettes(direction):
    view = View("some", direction)
    ours = segments_of(project(build_solids(plan()), view, (), None, {"moulding": solid_of(MOULDING)}).visible)
    theirs = drawn_once(*visible(shape_of(MOULDING), view))
    assert extra(ours, theirs) == 0
    assert extra(theirs, ours) == 0
    assert length_of(ours) == pytest.approx(length_of(theirs), rel=1e-3)
