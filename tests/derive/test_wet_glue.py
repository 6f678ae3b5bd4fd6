"""What is done while the glue is wet comes before the wait, and what takes glue asks for it."""

from __future__ import annotations

from tests.conftest import outcome_of


def derived_of(name: str):
    derived = outcome_of(name).derived
    assert derived is not None
    return derived


def _step(derived, name):
    return next(step for step in derived.steps if name in (step.id, *step.also))


def test_a_body_is_pulled_square_before_its_glue_has_set() -> None:
    """The trestles are too much for one step with their squaring; nobody waits in between, and the clamps stay on after it."""
    derived = derived_of("trestle-table")
    glued, square = _step(derived, "assemble-trestles-rail"), _step(derived, "square-trestles")
    assert glued.number + 1 == square.number
    assert glued.wait_hours == 0
    assert square.wait_hours >= 1


def test_every_squaring_that_stands_alone_follows_wet_glue() -> None:
    for name in ("trestle-table", "boot-bench", "record-cabinet"):
        steps = {step.number: step for step in derived_of(name).steps}
        squares = [step for step in steps.values() if step.operations[0].kind == "square"]
        for step in squares:
            assert steps[step.number - 1].wait_hours == 0, (name, step.number)


def test_breadboard_ends_ask_for_glue_and_time() -> None:
    """Their middle tenon alone is glued: there is glue to have at hand, and a night before the top is sanded."""
    step = _step(derived_of("trestle-table"), "assemble-top-end")
    assert "wood glue" in {item.id for item in step.supplies}
    assert step.wait_hours >= 1
