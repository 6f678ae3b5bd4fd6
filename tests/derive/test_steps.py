"""Steps of the example plans: buildable, safe, named so that notes find them; and what happens when they are not."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from tests.conftest import KITS, PLANS, outcome_of, solids_of, with_kit

from drawleaf.compiler import Choice, check_plan
from drawleaf.derive.assembly.order import Unit
from drawleaf.derive.assembly.stuck import stuck_diagnostic
from drawleaf.derive.shop.methods import owned_by
from drawleaf.derive.steps import bare_power_steps
from drawleaf.joinery import family_called
from drawleaf.model.derived import Derived
from drawleaf.model.diagnostic import has_errors
from drawleaf.model.place import Face
from drawleaf.model.plan import BoxCut, Joint
from drawleaf.model.settings import ShelfSettings
from drawleaf.model.steps import Step
from drawleaf.solids.build import build_solids
from drawleaf.solids.travel import free_directions
from drawleaf.units import Length
from solids_scene import box, part, plan

CASES = [(name, kit) for name in PLANS for kit in KITS]
EDITIONS = [("key-ledge", "metric"), ("key-ledge", "long"), ("boot-bench", "open"), ("boot-bench", "wide")]
EDITIONS += [("boot-bench", "metric_stock")]


def made_with(name: str, kit: str) -> Derived:
    derived, diagnostics = with_kit(name, kit)
    assert not has_errors(diagnostics), diagnostics
    return derived


def steps_by_id(derived: Derived) -> dict[str, Step]:
    return {step.id: step for step in derived.steps}


@pytest.mark.parametrize(("name", "kit"), CASES)
class TestEveryKit:
    """What holds for each example plan in each kit."""

    def test_numbers_and_names(self, name: str, kit: str) -> None:
        steps = made_with(name, kit).steps
        assert [step.number for step in steps] == list(range(1, len(steps) + 1))
        assert len({step.id for step in steps}) == len(steps)

    def test_headings_do_not_come_back(self, name: str, kit: str) -> None:
        headings = [step.stage for step in made_with(name, kit).steps]
        runs = [one for place, one in enumerate(headings) if place == 0 or headings[place - 1] != one]
        assert len(runs) == len(set(runs))

    def test_every_power_tool_carries_its_caution(self, name: str, kit: str) -> None:
        for step in made_with(name, kit).steps:
            carried = {name for caution in step.cautions for name in (caution.id, caution.covers)}
            for tool in step.tools:
                assert not tool.power or carried.issuperset(tool.cautions), (step.id, tool.id)

    def test_the_gravest_caution_comes_first(self, name: str, kit: str) -> None:
        order = ["DANGER", "WARNING", "CAUTION", "NOTICE"]
        for step in made_with(name, kit).steps:
            words = [order.index(caution.signal) for caution in step.cautions]
            assert words == sorted(words), step.id

    def test_what_to_wear_is_on_the_tool_list(self, name: str, kit: str) -> None:
        derived = made_with(name, kit)
        listed = {row.tool.id for row in derived.tools}
        assert {"safety glasses", "dust mask", "hearing protection"} <= listed

    def test_the_kit_owns_what_the_steps_use(self, name: str, kit: str) -> None:
        derived = made_with(name, kit)
        catalogue = derived.plan.catalogue
        used = {tool.id for step in derived.steps for op in step.operations for tool in op.method.tools}
        assert used <= owned_by(catalogue.kits[kit], catalogue)

    def test_parts_stand_where_the_steps_left_them(self, name: str, kit: str) -> None:
        """No drawing shows as standing what no earlier step has put there, but for the part that the first one lays down."""
        derived = made_with(name, kit)
        seen: set[str] = set()
        for step in derived.steps:
            if step.scene is None or not step.scene.new or not step.scene.standing:
                continue
            assert not seen.intersection(step.scene.new) or step.assembly is not None
            seen.update(step.scene.new)
            there = set(step.scene.standing)
            for op in step.operations:
                new = set(op.parts)
                if op.kind in ("join", "join-body", "join-front"):
                    for joint in op.joints:
                        assert (joint.insert in new) != (joint.receiver in new), step.id
                        assert {joint.insert, joint.receiver} <= there | new, step.id
                there |= new


@pytest.mark.parametrize("name", PLANS)
def test_each_move_is_free_when_it_is_made(name: str) -> None:
    """The proof, told again from the steps alone: the new part can leave the way it came, all that stands in its place."""
    derived = outcome_of(name).derived
    assert derived is not None
    solids = solids_of(name)
    moves = 0
    for step in derived.steps:
        if step.scene is None or any(op.kind == "set-shelves" for op in step.operations):
            continue
        standing = list(step.scene.standing)
        ways = {move.part: move.direction for move in step.scene.moves}
        for op in step.operations:
            if op.kind not in ("join", "join-body", "join-front", "hang-drawer"):
                continue
            together = op.parts if op.kind in ("join-body", "hang-drawer") else None
            for part_id in op.parts:
                back = tuple(0.0 - one for one in ways[part_id])
                assert back in free_directions(solids, together or [part_id], standing), (step.id, part_id)
                moves += 1
            standing += [part for part in op.parts if part not in standing]
    assert moves >= 4


@pytest.mark.parametrize(("name", "edition"), EDITIONS)
def test_editions_can_be_built(name: str, edition: str) -> None:
    outcome = outcome_of(name, edition)
    assert not outcome.failed, outcome.diagnostics
    assert outcome.derived is not None
    assert outcome.derived.audit.passed


def place(derived: Derived, name: str) -> int:
    return next(step.number for step in derived.steps if name in (step.id, *step.also))


def operation(derived: Derived, name: str) -> int:
    names = [op.id for step in derived.steps for op in step.operations]
    return names.index(name)


def test_the_bench_is_built_as_a_woodworker_would() -> None:
    bench = outcome_of("boot-bench").derived
    assert bench is not None
    assert place(bench, "drill-shelf-pins") < place(bench, "assemble-case-bottom")
    assert place(bench, "sand-parts") < place(bench, "assemble-case-bottom")
    assert place(bench, "square-case") <= place(bench, "assemble-case-back")
    assert operation(bench, "assemble-drawer-box-bottom") < operation(bench, "assemble-drawer-box-back")
    assert place(bench, "join-frame") < place(bench, "apply-oil-stain-walnut")
    assert place(bench, "apply-oil-stain-walnut") < place(bench, "apply-water-based-polyurethane-satin")
    assert place(bench, "apply-water-based-polyurethane-satin") < place(bench, "fit-slides") < place(bench, "join-seat")
    assert place(bench, "hang-drawer") < place(bench, "join-drawer-face") < place(bench, "fit-pull")
    assert bench.steps[-1].id == "anchor-to-wall"


def test_the_shelves_go_in_at_a_slant() -> None:
    """The frame's opening is narrower than they are; the plain version has the same frame."""
    bench = outcome_of("boot-bench").derived
    assert bench is not None
    operation = steps_by_id(bench)["set-shelves"].operations[0]
    assert isinstance(operation.settings, ShelfSettings)
    assert operation.settings.tilted


def test_one_stop_for_one_length() -> None:
    """The ledge's back, shelf and lip are alike in length and are cut at one setting."""
    ledge = outcome_of("key-ledge").derived
    assert ledge is not None
    first = steps_by_id(ledge)["cut-boards"].operations[0]
    assert first.parts == ("ledge.back", "ledge.shelf", "ledge.lip")


def test_a_changed_joint_changes_the_steps(edited_plan) -> None:
    """Dado to butt: no dado is cut, no test piece made, and the bottom is screwed on flat."""
    folder = edited_plan("boot-bench", ("{dado: bottom, in: side, depth: dado,", "{butt: bottom, to: side,"))
    derived = check_plan(folder, Choice()).derived
    assert derived is not None
    assert "dado-side" not in steps_by_id(derived)
    assert "dado-side" in steps_by_id(outcome_of("boot-bench").derived)  # type: ignore[arg-type]


def test_a_note_on_a_step_that_is_not_there(edited_plan) -> None:
    folder = edited_plan("key-ledge", ("step: hang-on-wall", "step: hang-on-the-wall"))
    found = [one for one in check_plan(folder, Choice()).diagnostics if one.code == "unknown-step"]
    assert len(found) == 1
    assert "hang-on-wall" in found[0].mend
    assert found[0].position is not None
    assert "step: hang-on-the-wall" in Path(folder / "plan.yaml").read_text().splitlines()[found[0].position.line - 1]


def test_a_kit_that_nobody_knows_is_told(edited_plan) -> None:
    folder = edited_plan("key-ledge", ("shop: {kerf: 1/8,", "shop: {tools: full workshop, kerf: 1/8,"))
    found = [one for one in check_plan(folder, Choice()).diagnostics if one.code == "unknown-tool-set"]
    assert [one.mend for one in found] == ["Did you mean 'full shop'?"]


def test_a_power_tool_without_a_caution_stops_the_plan() -> None:
    ledge = outcome_of("key-ledge").derived
    assert ledge is not None
    assert bare_power_steps(ledge.steps) == ()
    step = steps_by_id(ledge)["cut-boards"]
    (problem,) = bare_power_steps([replace(step, cautions=())])
    assert problem.code == "no-caution"
    assert problem.is_error
    assert "miter saw" in problem.message


def test_parts_that_hold_each_other_are_named_with_their_joint() -> None:
    void = BoxCut(
        "dado",
        box(10, 20, 10, 20, 10, 20),
        Face.TOP,
        (),
        None,
        plan().making and part("x", (0, 1, 0, 1, 0, 1)).position,
    )
    shell, core = part("shell", (0, 30, 0, 30, 0, 30), void), part("core", (10, 20, 10, 20, 10, 20))
    joint = Joint(
        "j", "l", family_called("groove").facts, "core", "shell", Face.TOP, box(10, 20, 10, 20, 20, 20),
        Length.of_mm(3), Length.of_mm(10), True, (), core.position,
    )  # fmt: skip
    closed = plan(shell, core, joints=(joint,))
    solids = build_solids(closed)
    units = (Unit("shell", ("shell",), (0,)), Unit("core", ("core",), (1,)))
    problem = stuck_diagnostic(closed, units, lambda moving, standing: free_directions(solids, moving, standing))
    assert problem.code == "cannot-assemble"
    assert "core" in problem.message.lower()
    assert "shell" in problem.message.lower()
    assert "groove of core in shell" in problem.mend


def test_the_last_sanding_shows_what_stands_by_then() -> None:
    """The seat is screwed on after the finish, the drawer and the shelves are loose: none of them is in its place yet."""
    derived = outcome_of("boot-bench").derived
    assert derived is not None
    (step,) = (step for step in derived.steps if step.id == "fill-and-sand")
    assert step.scene is not None
    assert {part.partition(".")[0] for part in step.scene.standing} == {"case", "frame"}
    assert {part.id for part in derived.plan.parts} == set(step.parts), "all of it is sanded nonetheless"


@pytest.mark.parametrize("name", ["boot-bench", "record-cabinet"])
def test_a_top_that_is_trimmed_to_the_piece_is_shown_on_all_of_it(name: str) -> None:
    """Not only on the sides that it is measured from: without its frame the case would look like a table."""
    derived = outcome_of(name).derived
    assert derived is not None
    (scene,) = (
        step.scene
        for step in derived.steps
        if step.operations[0].kind == "trim-panel" and step.scene is not None and step.scene.standing
    )
    assert {part.partition(".")[0] for part in scene.standing} >= {"case", "frame"}
    assert not set(scene.standing) & set(scene.new)


@pytest.mark.parametrize("name", ["boot-bench", "record-cabinet", "trestle-table"])
def test_nothing_stands_in_a_picture_before_it_comes(name: str) -> None:
    """Hardware that goes on before the top is screwed down is shown on a piece without its top."""
    derived = outcome_of(name).derived
    assert derived is not None
    steps = derived.steps
    comes = {move.part: step.number for step in steps if step.scene is not None for move in step.scene.moves}
    early = {
        (step.id, part)
        for step in steps
        if step.scene is not None and step.scene.fittings
        for part in step.scene.standing
        if comes.get(part, 0) > step.number
    }
    assert early == set()
