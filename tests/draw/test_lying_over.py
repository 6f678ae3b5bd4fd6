"""A step that turns the piece over, or lays it on its back, is drawn so, and its words say so."""

from __future__ import annotations

import numpy as np
import pytest
from tests.small_plans import derived_from
from tests.trade.plans import TABLE, table
from tests.trade.rule import HEAD

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.draw.sight.view import CORNERS, PICTORIAL, posed
from drawleaf.draw.step.drawing import TALL, draw_step
from drawleaf.model.derived import Derived
from drawleaf.model.steps import Pose, Step
from drawleaf.solids.build import build_solids

LIGHT = HEAD + TABLE.format(**table())
"""A small table of oak: its top is screwed on from below."""
HEAVY = LIGHT.replace("right: 800", "right: 2400").replace("x: 400", "x: 1200").replace("280", "520")
"""The same, three times as long and twice as deep: more than one person turns over."""


def top_step(derived: Derived) -> Step:
    return next(step for step in derived.steps if any(op.kind == "join-body" for op in step.operations))


def said(derived: Derived, step: Step) -> str:
    return " ".join(map(str, step_text(step, derived, Formatter.of(derived.plan)).actions))


def test_a_light_piece_is_turned_over_to_screw_its_top_on() -> None:
    derived = derived_from(LIGHT)
    step = top_step(derived)
    assert step.scene is not None
    assert step.scene.pose is Pose.OVER
    words = said(derived, step)
    assert "face down on a blanket" in words
    assert "back onto its feet" in words
    assert "from below" not in words
    drawing = draw_step(derived, build_solids(derived.plan), step, (TALL,))[0]
    sight = drawing.panes[0].sight
    assert sight is not None
    (_, up, toward) = sight.axes
    assert up[2] < 0, "what is low in the piece is high on the paper"
    assert toward[2] < 0, "one looks at its underside"
    assert "drawn upside down" in drawing.alt
    assert "upside down here" in drawing.svg


def test_a_heavy_one_stays_on_its_feet() -> None:
    derived = derived_from(HEAVY)
    step = top_step(derived)
    assert step.scene is not None
    assert step.scene.pose is Pose.UPRIGHT
    assert "upside down" not in said(derived, step)
    assert "from below" in said(derived, step)


@pytest.mark.parametrize("view", CORNERS)
@pytest.mark.parametrize("pose", Pose)
def test_a_posed_view_is_a_view_of_the_piece_turned(view, pose) -> None:
    """Its three directions stay square to one another and right-handed: nothing is mirrored."""
    right, up, toward = posed(view, pose).axes
    assert float(right @ up) == pytest.approx(0)
    assert float(up @ toward) == pytest.approx(0)
    assert np.cross(right, up) == pytest.approx(toward)


def test_on_its_back_its_front_is_up_and_its_feet_are_near() -> None:
    view = posed(PICTORIAL, Pose.ON_BACK)
    assert view.from_room((0.0, 0.0, 1.0)) == (0.0, -1.0, 0.0)
    assert view.from_room((0.0, -1.0, 0.0)) == (0.0, 0.0, -1.0)
