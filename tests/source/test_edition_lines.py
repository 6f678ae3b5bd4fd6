"""Editions that add, change and leave out lines: joints, machining, hardware, finish, notes and dimensions."""

from __future__ import annotations

from pathlib import Path

import pytest
from typer.testing import CliRunner

from drawleaf.cli import app
from drawleaf.compiler import Choice, Outcome
from small_plans import outcome_from

BOX = """\
plan: {title: Box, number: B-1, date: 2026-11-30, author: A. Maker, lengths: in}
stock:
  ply: {material: birch plywood, nominal: 3/4, actual: 3/4}
assemblies:
  box:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 10, bottom: 0, top: 12, mirror: {x: 10}}
      floor: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 10, bottom: 0}
      top: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 10, top: 12}
    joints:
      - {name: floor_joint, rabbet: floor, in: side, depth: 1/4, with: [glue]}
      - {rabbet: top, in: side, depth: 1/4, with: [glue]}
    machining:
      - {name: edge, in: top, round_over: {edges: [front-top], size: 1/8}}
    hardware:
      - {name: grip, item: knob, on: top, face: top, at: {x: 10, y: 5}}
finish:
  - {sand: [120, 180]}
  - {name: coat, apply: danish oil, coats: 2}
notes:
  - {name: outdoors, step: apply-danish-oil, text: Do it outdoors.}
  - {part: box.top, text: Nice side up.}
editions:
  EDITION
"""
PLAIN = BOX.replace("EDITION", "plain: {units: mm}")


def made(edition: str, name: str | None = "it") -> Outcome:
    return outcome_from(BOX.replace("EDITION", f"it: {edition}"), Choice(edition=name))


def steps(outcome: Outcome) -> set[str]:
    assert outcome.derived is not None, outcome.diagnostics
    return {step.id for step in outcome.derived.steps}


def test_lines_are_left_out_by_their_names_and_a_note_on_their_step_goes_too() -> None:
    bare = made("{without: [coat, grip, edge]}")
    assert [one.message for one in bare.diagnostics] == []
    assert steps(outcome_from(PLAIN)) - steps(bare) == {"apply-danish-oil", "fit-pull", "round-over-top"}


def test_lines_are_changed_and_added() -> None:
    other = made(
        "{assemblies: {box: {joints: [{name: floor_joint, rabbet: floor, in: side, depth: 3/8, with: [glue]}], "
        "machining: [{in: side, bore: {face: left, at: {y: 5, z: 6}, diameter: 1}}]}}, "
        "finish: [{name: coat, apply: shellac, coats: 3}], notes: [{chapter: care, text: Dust it.}]}"
    )
    assert [one.message for one in other.diagnostics] == []
    plan = other.derived.plan if other.derived else None
    assert plan is not None
    assert [joint.depth.inches * 8 for joint in plan.joints] == [3, 3, 2, 2]
    assert [(coat.product.name, coat.coats) for coat in plan.finish if coat.product] == [("Dewaxed shellac", 3)]
    assert [note.text for note in plan.notes] == ["Do it outdoors.", "Nice side up.", "Dust it."]
    assert "bore-side" in steps(other)


def test_a_mistake_in_a_line_of_an_edition_is_told_where_the_edition_writes_it() -> None:
    wrong = made("{assemblies: {box: {machining: [{in: sid, bore: {face: left, at: {y: 5, z: 6}, diameter: 1}}]}}}")
    (one,) = wrong.diagnostics
    assert one.code == "unknown-part"
    assert one.position is not None
    assert one.position.line == BOX[: BOX.index("EDITION")].count("\n") + 1


def test_a_note_of_the_edition_itself_must_hang_on_a_step_that_is_there() -> None:
    wrong = made("{without: [coat], notes: [{step: apply-danish-oil, text: Outdoors.}]}")
    assert [one.code for one in wrong.diagnostics] == ["unknown-step"]


def test_a_dimension_that_the_edition_uses_is_new_and_another_is_a_slip() -> None:
    bore = "assemblies: {box: {machining: [{in: side, bore: {face: left, at: {y: 5, z: hole}, diameter: 1}}]}}"
    assert [one.message for one in made(f"{{dimensions: {{hole: 4}}, {bore}}}").diagnostics] == []
    (slip,) = made(f"{{dimensions: {{hole: 4, hool: 4}}, {bore}}}").diagnostics
    assert (slip.code, "hool" in slip.message) == ("unknown-name", True)


@pytest.mark.parametrize(
    ("edition", "code", "mend"),
    [
        ("{without: [cote]}", "unknown-assembly", "Did you mean “coat”?"),
        ("{assemblies: {bax: {}}}", "unknown-assembly", "Did you mean “box”?"),
        ("{another_way: [nailed]}", "unknown-way", "No line has “another_way”: write one first."),
    ],
)
def test_names_that_the_plan_does_not_have_are_told(edition: str, code: str, mend: str) -> None:
    assert [(one.code, one.mend) for one in made(edition, None).diagnostics] == [(code, mend)]


def test_two_lines_of_one_name_are_told() -> None:
    (one,) = outcome_from(PLAIN.replace("name: grip", "name: edge")).diagnostics
    assert (one.code, one.message) == ("name-taken", "Two lines are named “edge”")


def test_two_lines_of_one_name_in_an_edition_are_told() -> None:
    """The second would take the place of the plan's line, and the first would be lost."""
    wrong = made("{finish: [{name: coat, apply: shellac}, {name: coat, apply: danish oil}]}")
    assert [one.code for one in wrong.diagnostics] == ["name-taken"]


def test_check_tries_every_edition_unless_one_is_named(tmp_path: Path) -> None:
    """What is wrong with an edition alone is said once, under its name."""
    folder = tmp_path / "box"
    folder.mkdir()
    broken = "fine: {units: mm}\n  deep: {assemblies: {box: {joints: [{name: floor_joint, rabbet: floor, in: side, depth: 3/4}]}}}"
    (folder / "plan.yaml").write_text(BOX.replace("EDITION", broken), encoding="utf-8")
    run = CliRunner().invoke(app, ["check", str(folder)])
    assert run.exit_code == 1
    assert "box: good" in run.output
    assert "box, edition fine: good" in run.output
    assert "box, edition deep: 2 errors" in run.output  # one at each side
    assert run.output.count("(too-deep)") == 2
    assert CliRunner().invoke(app, ["check", str(folder), "--edition", "fine"]).exit_code == 0
