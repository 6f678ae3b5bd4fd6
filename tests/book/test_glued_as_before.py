"""How several joints are glued and clamped in one go is told once; later steps say where."""

from __future__ import annotations

import re

import pytest
from markupsafe import Markup
from tests.conftest import outcome_of

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text

GLUED = re.compile("(Work|Glue each) in one go")


def told(name: str) -> dict[int, str]:
    """The actions of each step that glues several joints under clamps, in one text."""
    derived = outcome_of(name).derived
    assert derived is not None
    fmt = Formatter.of(derived.plan)
    texts = {step.number: " ".join(step_text(step, derived, fmt).actions) for step in derived.steps}
    return {number: Markup(text).striptags() for number, text in texts.items() if GLUED.search(text)}


@pytest.mark.parametrize(("name", "first", "later"), [("step-stool", 16, [17, 19, 20]), ("tool-tote", 12, [14])])
def test_the_first_tells_how_and_the_others_where(name: str, first: int, later: list[int]) -> None:
    steps = told(name)
    assert list(steps) == [first, *later]
    assert "Spread wood glue joint by joint" in steps[first]
    for number in later:
        assert "Spread wood glue joint by joint" not in steps[number]
        assert f"as in step {first}." in steps[number]


@pytest.mark.parametrize("name", ["step-stool", "tool-tote"])
def test_what_differs_is_told_each_time(name: str) -> None:
    """The time that the glue leaves, how many clamps there are and how long they stay."""
    for text in told(name).values():
        assert "You have about" in text
        assert "clamp" in text
        assert "Leave" in text
