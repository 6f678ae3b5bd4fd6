"""What no room could place gets a place where the author should look."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from conftest import outcome_of
from drawleaf.codes.samples import CRATE
from drawleaf.compiler import Choice, check_plan
from drawleaf.derive.audit import make_audit
from drawleaf.model.diagnostic import About, Diagnostic, Subject
from drawleaf.model.position import Position
from drawleaf.places import Headings, placed

HEADS = Headings(Position("plan.yaml", 1, 1), Position("plan.yaml", 5, 3))


def place(subject: Subject | None) -> Position | None:
    derived = outcome_of("key-ledge").derived
    assert derived is not None
    said = Diagnostic("audit", "Two sums do not agree.", None, subject=subject)
    return placed([said], HEADS, derived.plan, derived)[0].position


def test_what_is_about_a_part_a_joint_or_a_step_points_at_its_line() -> None:
    derived = outcome_of("key-ledge").derived
    assert derived is not None
    part, joint = derived.plan.parts[-1], derived.plan.joints[-1]
    assert place(Subject(About.PART, part.id)) == part.position
    assert place(Subject(About.JOINT, joint.id)) == joint.position
    step = next(step for step in derived.steps if step.operations[0].joints)
    assert place(Subject(About.STEP, step.id)) == step.operations[0].joints[0].position


def test_what_is_about_nothing_points_at_the_heading_and_a_kit_at_its_line() -> None:
    assert place(None) == HEADS.plan
    assert place(Subject(About.KIT)) == HEADS.kit


def test_books_that_do_not_balance_are_about_the_first_part_that_differs() -> None:
    derived = outcome_of("key-ledge").derived
    assert derived is not None
    first, *others = derived.cut_list.items
    lost = replace(derived.cut_list, items=tuple(others))
    _, found = make_audit(
        derived.plan,
        lost,
        derived.layouts,
        derived.hardware,
        derived.tools,
        derived.steps,
        derived.schedule,
        derived.consumables,
    )
    assert [one.subject for one in found] == [Subject(About.PART, min(part.id for part in first.parts))]


def test_what_has_a_place_keeps_it() -> None:
    derived = outcome_of("key-ledge").derived
    assert derived is not None
    one = Diagnostic("x", "Said.", Position("other.yaml", 3, 4))
    assert placed([one], HEADS, derived.plan, derived) == (one,)


def test_a_kit_that_is_not_there_is_told_at_its_line(tmp_path: Path) -> None:
    folder = tmp_path / "crate"
    folder.mkdir()
    (folder / "plan.yaml").write_text(f"{CRATE}shop: {{tools: no such kit}}\n", encoding="utf-8")
    (one,) = [one for one in check_plan(folder, Choice()).diagnostics if one.code == "unknown-tool-set"]
    assert one.position is not None
    assert one.position.line == len(CRATE.splitlines()) + 1
