"""Pieces that a step puts together alike are drawn once."""

from __future__ import annotations

import re

from tests.conftest import outcome_of, solids_of

from drawleaf.draw.at_step.alike import one_of_alike
from drawleaf.draw.step.drawing import TALL, draw_step
from drawleaf.model.derived import Derived
from drawleaf.model.steps import Step


def trestle_step(an_id: str) -> tuple[Derived, Step]:
    derived = outcome_of("trestle-table").derived
    assert derived is not None
    return derived, next(step for step in derived.steps if step.title == an_id)


def test_one_of_two_trestles_shows_the_work_on_both():
    derived, step = trestle_step("Glue the trestles together")
    assert step.scene is not None
    one, count = one_of_alike(derived, step.scene)
    assert count == 2
    assert 2 * len(one.new) == len(step.scene.new)
    assert 2 * len(one.moves) == len(step.scene.moves)
    (drawing,) = draw_step(derived, solids_of("trestle-table"), step, (TALL,))
    assert ">1 of 2, both alike.<" in drawing.svg
    assert "1 of 2, both alike." in drawing.alt
    assert set(drawing.panes[0].shown) == {*one.standing, *one.new}


def test_two_ends_of_one_top_are_no_pieces_of_their_own():
    derived, step = trestle_step("Join the breadboard ends to the top panel")
    assert step.scene is not None
    assert one_of_alike(derived, step.scene) == (step.scene, 1)


def test_a_button_below_a_table_top_is_enlarged():
    derived, step = trestle_step("Fasten the top")
    (drawing,) = draw_step(derived, solids_of("trestle-table"), step, (TALL,))
    assert re.search(r'class="inset"', drawing.svg)
