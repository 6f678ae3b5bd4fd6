"""What no room could place gets a place where the author should look."""

from __future__ import annotations

from pathlib import Path

from conftest import outcome_of
from drawleaf.codes.samples import CRATE
from drawleaf.compiler import Choice, check_plan
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.position import Position
from drawleaf.places import Headings, placed

HEADS = Headings(Position("plan.yaml", 1, 1), Position("plan.yaml", 5, 3))


def place(message: str, code: str = "audit") -> Position | None:
    derived = outcome_of("key-ledge").derived
    assert derived is not None
    return placed([Diagnostic(code, message, None)], HEADS, derived.plan, derived)[0].position


def test_words_that_name_a_part_or_a_step_point_at_its_line() -> None:
    derived = outcome_of("key-ledge").derived
    assert derived is not None
    part = derived.plan.parts[-1]
    assert place(f"No step makes {part.id}.") == part.position
    step = next(step for step in derived.steps if step.operations[0].joints)
    assert (
        place(f"Step {step.number} ({step.id}) uses a saw without a caution.") == step.operations[0].joints[0].position
    )


def test_what_names_nothing_points_at_the_heading_and_a_kit_at_its_line() -> None:
    assert place("Two sums do not agree.") == HEADS.plan
    assert place("The kit lacks a saw.", "tools-lacking") == HEADS.kit


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
