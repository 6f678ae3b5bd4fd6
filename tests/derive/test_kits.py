"""Kits: the best way that each can do, what none can, and the least to borrow; clamps at once; supplies of a step."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from tests.conftest import KITS, PLANS, outcome_of, with_kit, with_tools

from drawleaf.compiler import Choice, check_plan
from drawleaf.derive.shop.methods import least_to_borrow, owned_by, ways_for
from drawleaf.model.catalogue import Catalogue
from drawleaf.model.derived import Derived
from drawleaf.model.diagnostic import Severity
from drawleaf.model.tool_sets import Kit, KitClamps
from drawleaf.units import Length


def catalogue() -> Catalogue:
    found = outcome_of("key-ledge").derived
    assert found is not None
    return found.plan.catalogue


def kit(name: str) -> Kit:
    return catalogue().kits[name]


@pytest.mark.parametrize("name", PLANS)
@pytest.mark.parametrize("choice", KITS)
def test_example_plans_compile_for_three_kits(name: str, choice: str) -> None:
    """As ``tests/test_example_plans.py`` shows with all that is checked; here, that nothing is lacking."""
    derived, found = with_kit(name, choice)
    assert derived.plan.making.kit == choice
    assert derived.audit.passed
    assert not [one for one in found if one.is_error or one.code in ("tools-lacking", "clamps-lacking")]


def tools_of(derived: Derived, step_id: str) -> set[str]:
    step = next(step for step in derived.steps if step_id in (step.id, *step.also))
    return {tool.id for op in step.operations for tool in op.method.tools}


def test_each_kit_has_its_own_best_way() -> None:
    full, _ = with_kit("boot-bench", "full shop")
    hand, _ = with_kit("boot-bench", "hand-held only")
    assert "table saw" in tools_of(full, "rip-boards")
    assert "circular saw" in tools_of(hand, "rip-boards")
    assert "brad nailer" in tools_of(full, "assemble-case-back")
    assert "hammer" in tools_of(hand, "assemble-case-back")
    assert "mitre saw" not in {row.tool.id for row in hand.tools}


def test_other_ways_are_kept_for_who_owns_more() -> None:
    hand, _ = with_kit("boot-bench", "hand-held only")
    step = next(step for step in hand.steps if step.id == "rip-boards")
    assert "table saw" in {method.name for op in step.operations for method in op.others}


def test_what_a_kit_cannot_do_is_told_with_the_least_to_borrow() -> None:
    derived, found = with_kit("boot-bench", "hand tools")
    (problem,) = [one for one in found if one.code == "tools-lacking"]
    assert problem.severity is Severity.ADVICE
    assert "pocket-holes-case" in problem.message
    borrowed = {row.tool.id for row in derived.tools if row.borrow}
    assert borrowed == {"drill", "pocket-hole jig"}
    assert all(derived.plan.catalogue.tools[one].name.lower() in problem.mend for one in borrowed)


def test_nothing_is_borrowed_where_another_way_will_do() -> None:
    own = kit("hand-held only")
    derived, found = with_tools(
        "boot-bench", replace(own, id="no router", tools=own.tools - {"router", "straight bit"})
    )
    assert "router" not in {row.tool.id for row in derived.tools}
    # Dadoes and rabbets can be sawn and pared; a groove needs a plough plane or a table saw, and no more than one of them.
    assert {row.tool.id for row in derived.tools if row.borrow} in ({"plough plane"}, {"table saw"})
    assert [one.code for one in found if one.severity is Severity.ADVICE and one.code.endswith("-lacking")] == [
        "tools-lacking"
    ]


def test_the_least_to_borrow_is_shared_between_kinds_of_work() -> None:
    """A router serves all three; apart, three tools would be borrowed."""
    everything = catalogue()
    owned = owned_by(kit("full shop"), everything) - {"router", "table saw", "hand saw"}
    borrowed = least_to_borrow(["dado", "groove", "rabbet"], everything, owned)
    assert borrowed in ({"router"}, {"table saw"})


def test_the_best_way_is_the_first_that_lacks_nothing() -> None:
    everything = catalogue()
    best, others = ways_for("rip", everything, owned_by(kit("common power tools"), everything))
    assert best.tools[0] == "circular saw"
    assert len(others) == len(everything.methods["rip"].ways) - 1


def test_too_few_clamps_are_told() -> None:
    few = (KitClamps(2, Length.of_inches(12)), KitClamps(3, Length.of_inches(50)))
    _, found = with_tools("boot-bench", replace(kit("full shop"), id="few clamps", clamps=few))
    told = [one for one in found if one.code == "clamps-lacking"]
    assert any("glue-up-seat" in one.message or "edging" in one.message for one in told)
    assert all(one.mend.startswith("Borrow ") for one in told)


def test_a_kit_of_ones_own(tmp_path: Path) -> None:
    file = tmp_path / "my-tools.yaml"
    file.write_text("my tools:\n  name: my tools\n  like: hand-held only\n  without: [jigsaw]\n", encoding="utf-8")
    choice = Choice(kit_file=file)
    outcome = check_plan(Path("plans") / "boot-bench", choice)
    assert not outcome.failed, outcome.diagnostics
    assert outcome.derived is not None
    assert outcome.derived.plan.making.kit == "my tools"
    assert "jigsaw" not in {row.tool.id for row in outcome.derived.tools}
    assert choice.folder_name("boot-bench") == "boot-bench-my-tools"


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("mine: {name: mine, tools: [hand sow]}", "unknown-item"),
        ("mine: {name: mine, like: no such kit}", "wrong-value"),
        ("a: {name: a}\nb: {name: b}", "wrong-shape"),
        ("mine: {name: mine, toolz: []}", "unknown-key"),
    ],
)
def test_mistakes_in_a_kit_file_are_told(tmp_path: Path, text: str, code: str) -> None:
    file = tmp_path / "kit.yaml"
    file.write_text(text + "\n", encoding="utf-8")
    outcome = check_plan(Path("plans") / "key-ledge", Choice(kit_file=file))
    assert code in {one.code for one in outcome.diagnostics}, outcome.diagnostics


def test_a_kit_that_is_not_there_is_told() -> None:
    outcome = check_plan(Path("plans") / "key-ledge", Choice(kit="full shap"))
    (problem,) = [one for one in outcome.diagnostics if one.code == "unknown-tool-set"]
    assert problem.is_error
    assert "full shop" in problem.mend


def test_what_a_step_uses_up_lies_ready() -> None:
    bench = outcome_of("boot-bench").derived
    assert bench is not None
    by_name = {name: step for step in bench.steps for name in (step.id, *step.also)}

    def supplies(name: str) -> set[str]:
        return {one.id for one in by_name[name].supplies}

    assert {"wood glue", "clean rags"} <= supplies("assemble-case-bottom")
    assert {"wood filler", "clean rags"} <= supplies("fill-and-sand")
    assert {"oil stain walnut", "lint-free rags", "masking tape"} <= supplies("apply-oil-stain-walnut")
    assert "masking tape" in supplies("fit-pull")
    assert "wood glue" not in supplies("join-seat")


def test_only_a_back_can_have_its_rabbet_after_assembly() -> None:
    """The case stands without its back; the drawer's sides stand by nothing but what lies in their rabbets."""
    derived = outcome_of("boot-bench").derived
    assert derived is not None
    late = {
        step.id: [way for op in step.operations for way in op.others if "after assembly" in way.name]
        for step in derived.steps
        if step.id.startswith("rabbet-")
    }
    assert {name: bool(ways) for name, ways in late.items()} == {"rabbet-side": True, "rabbet-box-side": False}
    way = late["rabbet-side"][0]
    assert "chisel" in {tool.id for tool in way.tools}
    assert "round corners" in way.note


@pytest.mark.parametrize(
    ("without", "saw", "guides"),
    [("table saw", "circular saw", {"straightedge"}), ("circular saw", "table saw", {"fence", "straightedge"})],
)
def test_the_layout_of_a_sheet_names_no_saw_that_its_step_does_not(without: str, saw: str, guides: set[str]) -> None:
    full = kit("full shop")
    owned = replace(full, tools=full.tools - {without})
    derived, _ = with_tools("boot-bench", owned)
    step = next(step for step in derived.steps if any(op.kind == "break-down" for op in step.operations))
    tools = {tool.id for op in step.operations for tool in op.method.tools}
    assert saw in tools
    assert without not in tools
    assert {cut.guide for sheet in derived.layouts.sheets for cut in sheet.cuts} <= guides
    assert ("fence" in guides) == any(cut.guide == "fence" for sheet in derived.layouts.sheets for cut in sheet.cuts)


def test_a_full_shop_rough_cuts_sheets_on_the_rail_and_takes_the_pieces_to_the_table_saw() -> None:
    """Heavy pieces are cut where they lie; what one person holds is cut at the fence, all of a width at one setting."""
    derived, _ = with_kit("boot-bench", "full shop")
    assert {"circular saw", "saw guide rail", "table saw"} <= tools_of(derived, "break-down-case")
    cuts = [cut for sheet in derived.layouts.sheets for cut in sheet.cuts]
    assert {cut.guide for cut in cuts} == {"straightedge", "fence"}
    assert all(cut.guide == "straightedge" for cut in cuts if cut.heavy)


@pytest.mark.parametrize("kit", ["full shop", "common power tools", "hand-held only", "hand tools"])
def test_a_layout_names_the_guide_that_the_step_cuts_along(kit: str) -> None:
    """Short brackets are cut off in a mitre box where no mitre saw is at hand: against a stop, and the list of cuts says so."""
    derived, _ = with_kit("key-ledge", kit)
    (cut_off,) = (op for step in derived.steps for op in step.operations if op.kind == "cut-off")
    (long,) = (op for step in derived.steps for op in step.operations if op.kind == "crosscut")
    (board,) = (
        board for board in derived.layouts.boards if any(one.part.startswith("ledge.bracket") for one in board.placed)
    )
    short = {cut.guide for cut in board.cuts if cut.kind == "crosscut" and cut.setting == Length.of_inches(3)}
    first = {cut.guide for cut in board.cuts if cut.kind == "crosscut" and cut.setting == Length.of_inches(24)}
    for guides, operation in ((short, cut_off), (first, long)):
        stopped = "stop block" in {tool.id for tool in operation.method.tools}
        assert guides == {"stop" if stopped else "square"}, operation.id


def test_driving_screws_has_a_caution_of_its_own() -> None:
    """A reader who meets the drill's caution at every screw stops reading it."""
    derived, _ = with_kit("key-ledge", "common power tools")
    told = {step.id: {caution.id for caution in step.cautions} for step in derived.steps}
    assert "drill" in told["screw-holes-ledge"]
    assert told["assemble-ledge-shelf"] == {"drive"}
