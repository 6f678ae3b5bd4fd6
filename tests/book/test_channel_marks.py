"""Where channels are marked: parts that are marked alike share one sentence."""

from __future__ import annotations

import pytest
from markupsafe import Markup
from tests.conftest import outcome_of

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text


def marked(name: str) -> list[str]:
    """The actions of the plan that mark grooves."""
    derived = outcome_of(name).derived
    assert derived is not None
    fmt = Formatter.of(derived.plan)
    actions = [Markup(action).striptags() for step in derived.steps for action in step_text(step, derived, fmt).actions]
    return [action for action in actions if action.startswith("Mark the groove")]


@pytest.mark.parametrize("name", ["record-cabinet", "boot-bench"])
def test_the_four_walls_of_a_drawer_are_marked_in_one_go(name: str) -> None:
    """The box front's back face and the back's front face are inside faces as those of the sides are."""
    (drawer,) = [action for action in marked(name) if "drawer" in action]
    assert drawer.count("Draw two lines") == 1
    assert "along the inside face" in drawer


def test_walls_whose_grooves_run_another_way_are_marked_by_themselves() -> None:
    """The ends of the tote stand upright: their groove runs across the grain."""
    assert {"along the inside face" in one for one in marked("tool-tote") if "ends" in one} == {False}
