"""A stop further from the blade than the saw's fence reaches needs something to be set on."""

from __future__ import annotations

import pytest
from tests.conftest import outcome_of
from tests.small_plans import derived_from

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.model.derived import Derived

STRIPS = """
plan: {{title: Strips, author: Fern Lane Workshop, date: 2026-11-20, number: FL-90, lengths: in}}
stock: {{wood: {{material: pine board, size: 1x4}}}}
assemblies:
  rack:
    parts:
      slat: {{stock: wood, full_width: y, left: 0, right: {long}, front: 0, bottom: 0, repeat: {{along: z, count: 2, spacing: 3/4}}}}
    joints: [{{butt: slat.1, to: slat.2, with: [glue]}}]
"""


def told(derived: Derived) -> list[bool]:
    """For each step that cuts boards to length with a stop: whether it says how a stop past the fence is set."""
    fmt = Formatter.of(derived.plan)
    steps = [step for step in derived.steps if step.operations[0].kind == "crosscut"]
    texts = [" ".join(step_text(step, derived, fmt).actions) for step in steps]
    return ["past the fence" in text for text in texts if "stop" in text]


@pytest.mark.parametrize(("long", "wanted"), [(30, [True]), (9, [False])])
def test_a_long_stop_is_set_on_a_board(long: int, wanted: list[bool]) -> None:
    assert told(derived_from(STRIPS.format(long=long))) == wanted


def test_the_cabinet_says_so_and_the_stool_has_short_parts() -> None:
    cabinet, stool = (outcome_of(name).derived for name in ("record-cabinet", "step-stool"))
    assert cabinet is not None
    assert stool is not None
    assert any(told(cabinet))
    assert not any(told(stool))
