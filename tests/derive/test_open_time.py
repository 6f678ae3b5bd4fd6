"""Glue that is spread in one go must be closed while it is open: where that is too much, the step works in several."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.conftest import outcome_of

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.derive.shop.open_time import EACH_PIECE, EACH_PLACE, gluing_minutes, joint_goes, panel_goes, too_long
from drawleaf.model.catalogue import GLUE
from drawleaf.model.derived import Derived
from drawleaf.model.plan import Plan


def derived_of(name: str) -> Derived:
    found = outcome_of(name).derived
    assert found is not None
    return found


def with_open_time(plan: Plan, minutes: float) -> Plan:
    """The plan with a glue that stays open so long."""
    glue = replace(plan.catalogue.consumables[GLUE], open_minutes=minutes)
    return replace(plan, catalogue=replace(plan.catalogue, consumables={**plan.catalogue.consumables, GLUE: glue}))


def test_minutes_grow_with_places_area_and_pieces() -> None:
    """One square foot is 0.09290304 square metres (0.3048 m, squared)."""
    assert gluing_minutes(0.09290304, 0, 0) == pytest.approx(1.0, rel=1e-4)
    assert gluing_minutes(0.0, 4, 2) == pytest.approx(4 * EACH_PLACE + 2 * EACH_PIECE)


@pytest.mark.parametrize(("minutes", "goes"), [(10, (6,)), (5, (6,)), (3, (3, 3)), (1.5, (2, 2, 2))])
def test_a_panel_is_glued_in_as_many_goes_as_the_glue_asks_for(minutes: float, goes: tuple[int, ...]) -> None:
    """The bench's seat: six strips, five seams of 44-1/2 in by 3/4 in, 0.23 square feet each: 5 x (0.25 + 0.23) and 6 x 0.25 are 3.9 minutes;
    three strips are 1.7, two are 1.0."""
    plan = with_open_time(derived_of("boot-bench").plan, minutes)
    assert panel_goes(plan, plan.part("seat.top")) == goes


def test_parts_that_come_one_by_one_are_set_in_goes_and_a_frame_is_not() -> None:
    derived = derived_of("boot-bench")
    steps = {op.id: op for step in derived.steps for op in step.operations}
    rails, frame = steps["assemble-case-front-rail"], steps["join-frame"]
    short = with_open_time(derived.plan, 1.5)
    assert joint_goes(derived.plan, rails) == (rails.parts,)
    assert joint_goes(short, rails) == tuple((part,) for part in rails.parts)
    assert joint_goes(short, frame) == (frame.parts,), "it hangs together already"
    assert too_long(short, frame, frame.parts)
    assert not too_long(derived.plan, frame, frame.parts)


def said(derived: Derived, step_id: str) -> str:
    (step,) = (step for step in derived.steps if step.id == step_id)
    return " ".join(map(str, step_text(step, derived, Formatter.of(derived.plan)).actions))


def test_the_step_says_so() -> None:
    derived = derived_of("boot-bench")
    short = replace(derived, plan=with_open_time(derived.plan, 1.5))
    assert "too few" not in said(derived, "glue-up-seat")
    assert "strips 1 to 2, strips 3 to 4 and strips 5 to 6 into three pieces" in said(short, "glue-up-seat")
    assert "first, then" in said(short, "assemble-case-front-rail")
    assert "Let someone spread it with you" in said(short, "join-frame")


def test_a_long_table_top_is_glued_in_two_halves_and_waits_longer() -> None:
    derived = derived_of("trestle-table")
    (step,) = (step for step in derived.steps if step.id == "glue-up-panel")
    assert panel_goes(derived.plan, derived.plan.part(step.parts[0])) == (4, 3)
    assert "two pieces" in said(derived, "glue-up-panel")
    assert step.wait_hours == 25
