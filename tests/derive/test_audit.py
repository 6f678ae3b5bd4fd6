"""The audit finds what was spoilt: each line fails when its own figure is changed, and only then."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.conftest import outcome_of

from drawleaf.derive.audit import make_audit
from drawleaf.model.derived import Derived


@pytest.fixture(params=["key-ledge", "boot-bench"])
def derived(request: pytest.FixtureRequest) -> Derived:
    found = outcome_of(request.param).derived
    assert found is not None
    return found


def audit_of(derived: Derived):
    return make_audit(
        derived.plan,
        derived.cut_list,
        derived.layouts,
        derived.hardware,
        derived.tools,
        derived.steps,
        derived.schedule,
        derived.consumables,
    )


def failing(derived: Derived) -> list[str]:
    audit, diagnostics = audit_of(derived)
    failed = [line.name for line in audit.lines if not line.agrees]
    assert [diagnostic.code for diagnostic in diagnostics] == ["audit"] * len(failed)
    return failed


def without_step(derived: Derived, kinds: tuple[str, ...]) -> Derived:
    steps = tuple(step for step in derived.steps if not any(op.kind in kinds for op in step.operations))
    assert len(steps) < len(derived.steps)
    return replace(derived, steps=steps)


def test_the_books_balance(derived: Derived) -> None:
    assert failing(derived) == []
    assert derived.audit.passed


def test_a_part_left_off_the_cut_list(derived: Derived) -> None:
    short = replace(derived.cut_list, items=derived.cut_list.items[1:])
    assert failing(replace(derived, cut_list=short)) == ["Parts of the plan, and parts on the cut list"]


def test_a_part_left_off_its_board(derived: Derived) -> None:
    board = next(one for one in derived.layouts.boards if one.placed[0].strip is None)
    boards = tuple(replace(one, placed=one.placed[1:]) if one is board else one for one in derived.layouts.boards)
    spoilt = replace(derived, layouts=replace(derived.layouts, boards=boards))
    assert failing(spoilt) == ["Parts, and parts laid out on sheets and boards"]


def test_a_screw_never_driven(derived: Derived) -> None:
    steps = list(derived.steps)
    place, step = next((p, s) for p, s in enumerate(steps) if any(op.fasteners for op in s.operations))
    operations = tuple(replace(op, fasteners=op.fasteners[1:]) for op in step.operations)
    steps[place] = replace(step, operations=operations)
    assert failing(replace(derived, steps=tuple(steps))) == ["Fasteners of the joints, and fasteners driven in a step"]


def test_a_screw_bought_for_nothing(derived: Derived) -> None:
    row = derived.hardware[0]
    rows = (replace(row, count=row.count + 1), *derived.hardware[1:])
    assert failing(replace(derived, hardware=rows)) == ["Hardware on the list, and hardware used in the steps"]


def test_a_joint_never_closed_and_its_parts_never_used(derived: Derived) -> None:
    failed = failing(without_step(derived, ("join", "join-body", "join-front")))
    assert "Joints, and joints closed in a step" in failed
    assert "Parts with joints, and parts put together in a step" in failed


def test_a_part_never_cut(derived: Derived) -> None:
    assert "Parts, and parts cut to size in a step" in failing(without_step(derived, ("crosscut",)))


def test_a_hole_never_drilled(derived: Derived) -> None:
    failed = failing(without_step(derived, ("bore",)))
    assert "Cuts, holes and edges of the parts, and those made in a step" in failed


def test_a_tool_that_is_on_no_list(derived: Derived) -> None:
    assert failing(replace(derived, tools=derived.tools[1:])) == ["Tools on the list by step, and tools the steps use"]


def test_a_step_before_what_it_waits_for(derived: Derived) -> None:
    count = len(derived.steps)
    steps = tuple(replace(step, number=count + 1 - step.number) for step in derived.steps)
    assert "Operations that wait for others, and those that come after them" in failing(replace(derived, steps=steps))


def test_hours_that_do_not_add_up(derived: Derived) -> None:
    schedule = replace(derived.schedule, active_hours=derived.schedule.active_hours + 1)
    assert failing(replace(derived, schedule=schedule)) == ["Hours of work in the steps, and hours in the schedule"]


def test_a_coat_forgotten(derived: Derived) -> None:
    assert "Coats asked for, and coats given in a step, part by part" in failing(without_step(derived, ("coat",)))


def test_a_wait_left_out_of_the_schedule(derived: Derived) -> None:
    schedule = replace(derived.schedule, dryings=derived.schedule.dryings[1:])
    assert failing(replace(derived, schedule=schedule)) == ["Waits of the steps, and waits in the schedule"]


def test_a_supply_that_is_on_no_list(derived: Derived) -> None:
    rows = tuple(row for row in derived.consumables if row.item.id != "wood glue")
    assert failing(replace(derived, consumables=rows)) == [
        "Supplies that the steps use up, and those of them that are listed"
    ]


def test_a_part_put_on_twice(derived: Derived) -> None:
    """The same arrival told again in a later step: its parts would be used twice."""
    joining = next(step for step in derived.steps if any(op.kind == "join" for op in step.operations))
    again = replace(joining, number=len(derived.steps) + 1, id="once-more")
    assert "Every part used in assembly exactly once" in failing(replace(derived, steps=(*derived.steps, again)))


def test_a_part_that_never_arrives(derived: Derived) -> None:
    assert "Every part used in assembly exactly once" in failing(without_step(derived, ("join",)))
