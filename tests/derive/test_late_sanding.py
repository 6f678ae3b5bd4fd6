"""Parts that are cut to the standing piece are sanded at the end of the step before, not in a step of their own each time."""

from __future__ import annotations

from tests.conftest import outcome_of

from drawleaf.derive.operations.late_sanding import SANDING


def test_late_parts_are_sanded_in_the_step_before() -> None:
    """The bench sands once before it is built; its back panel, seat and drawer come later, each at the end of a step on them."""
    derived = outcome_of("boot-bench").derived
    assert derived is not None
    sanding = [step for step in derived.steps if any(op.kind == SANDING for op in step.operations)]
    alone = [step.title for step in sanding if all(op.kind == SANDING for op in step.operations)]
    assert alone == ["Sand the parts"]
    assert [step.title for step in sanding[1:]] == [
        "Drill the holes in the back panel, and sand it",
        "Round over the edges of the seat top, and sand it",
        "Round over the edges of the drawer front, and sand the parts",
    ]
    assert all(step.operations[-1].kind == SANDING for step in sanding)


def test_every_part_is_sanded_once() -> None:
    derived = outcome_of("boot-bench").derived
    assert derived is not None
    sanded = [part for step in derived.steps for op in step.operations if op.kind == SANDING for part in op.parts]
    assert sorted(sanded) == sorted(set(sanded))
    assert set(sanded) == {part.id for part in derived.plan.parts}
