"""How a body is tried dry is told once; later bodies are tried at the beginning of the step that puts them together."""

from __future__ import annotations

from tests.conftest import outcome_of

from drawleaf.derive.operations.dry_fits import DRY_FIT


def test_later_dry_fits_open_the_step_that_follows() -> None:
    """The bench tries its case in a step of its own, and its drawer in the step that glues it."""
    derived = outcome_of("boot-bench").derived
    assert derived is not None
    trying = [step for step in derived.steps if any(op.kind == DRY_FIT for op in step.operations)]
    assert [len(step.operations) > 1 for step in trying] == [False, True]
    assert trying[0].title == "Put the case together dry"
    assert trying[1].title == "Glue and nail the drawer together, and square the corners"
    assert trying[1].operations[0].kind == DRY_FIT


def test_what_is_tried_dry_is_put_together_right_afterwards() -> None:
    derived = outcome_of("boot-bench").derived
    assert derived is not None
    for step in derived.steps:
        for dry in (op for op in step.operations if op.kind == DRY_FIT):
            used = {part for op in step.operations if op is not dry for part in op.parts}
            assert used <= set(dry.parts)
