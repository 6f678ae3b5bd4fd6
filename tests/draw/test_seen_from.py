"""A step's picture says when it looks from where a reader does not stand; what it enlarges is small, and not merely hidden."""

from __future__ import annotations

import pytest
from tests.conftest import outcome_of, solids_of
from tests.small_plans import derived_from

from drawleaf.draw.sight.view import CORNERS, ELEVATIONS, View
from drawleaf.draw.step.drawing import LOW, TALL, draw_step
from drawleaf.draw.step.legend import unusual_side
from drawleaf.solids.build import build_solids

STRIP = """
plan: {{title: T, number: T-1, date: 2026-12-01, author: A. Maker, lengths: mm}}
stock:
  ply: {{material: birch plywood, nominal: 18 mm, actual: 18 mm}}
assemblies:
  panel:
    parts:
      board: {{stock: ply, thickness: y, grain: x, left: 0, right: 500, front: 100, bottom: 0, top: 400}}
      foot: {{stock: ply, thickness: z, grain: x, left: 0, right: 500, front: {front}, back: {back}, top: 0}}
    joints:
      - {{butt: board, to: foot, with: [glue]}}
  rest:
    parts:
      strip: {{stock: ply, thickness: y, grain: x, left: 50, right: 450, front: {strip}, bottom: 150, top: 200}}
    joints:
      - {{butt: strip, to: panel.board, with: [glue]}}
"""


@pytest.mark.parametrize(
    ("view", "side"),
    [
        *zip(CORNERS, ["", "", "the back", "the back", "below", "below"], strict=True),
        *((view, "") for view in ELEVATIONS),
        (View("low behind", (0.3, 0.8, -0.5)), "the back and below"),
    ],
    ids=lambda one: one.name if isinstance(one, View) else None,
)
def test_the_unusual_sides_are_named(view: View, side: str):
    assert unusual_side(view) == side


@pytest.mark.parametrize("side", ["front", "back"])
def test_a_picture_from_behind_says_so(side):
    """A strip is glued on in front of a board, or behind it: the picture looks at the strip, and says where that is not in front."""
    places = {"front": {"front": 50, "back": 150, "strip": 82}, "back": {"front": 50, "back": 150, "strip": 118}}
    derived = derived_from(STRIP.format(**places[side]))
    step = next(
        step for step in derived.steps if step.scene and step.scene.new == ("rest.strip",) and step.scene.standing
    )
    solids = build_solids(derived.plan)
    (picture,) = draw_step(derived, solids, step, (TALL,))
    assert ("seen from the back" in picture.alt) == (side == "back")
    assert (">Seen from the back.<" in picture.svg) == (side == "back")


@pytest.mark.parametrize("room", [TALL, LOW])
def test_the_corner_of_a_large_part_that_others_hide_is_not_enlarged(room):
    """Of the stool's far apron a few millimeters show between the legs when its base is glued together."""
    derived = outcome_of("step-stool").derived
    assert derived is not None
    step = next(step for step in derived.steps if step.title == "Glue the base together")
    (picture,) = draw_step(derived, solids_of("step-stool"), step, (room,))
    assert 'class="inset"' not in picture.svg
