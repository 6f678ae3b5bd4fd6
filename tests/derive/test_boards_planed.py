"""Boards as a yard sells them: rough, with knots, planed there or here; each layout sawn again by the checker, with figures worked by hand."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from types import SimpleNamespace

import pytest

from drawleaf.compiler import Choice, check_plan
from drawleaf.derive.buying.shopping import make_shopping_list
from drawleaf.derive.cut_list.cut_list import make_cut_list
from drawleaf.derive.layout.layouts import make_layouts
from drawleaf.model.catalogue import BoardSize, Stock
from drawleaf.model.tool_sets import Kit
from drawleaf.units import Length, LengthFormat, Units

MILLED = frozenset({"thickness planer", "bandsaw", "table saw"})


@pytest.fixture
def s(shop) -> SimpleNamespace:
    return SimpleNamespace(**shop)


def mm(value: int) -> Length:
    return Length.of_mm(value)


def rough_stock(s, thickness: int, **more: object) -> Stock:
    """27 mm rough in boards of 160 x 2000 mm at 40 the square metre; 5 mm go in planing."""
    board = BoardSize(
        "27 mm", mm(27), mm(160), (mm(2000),), (Fraction(64, 5),), mm(100), Fraction(40), Fraction(35, 100), mm(5)
    )
    return Stock("ash", "Ash lumber", s.ONE_BY_FOUR.material, "27 mm", mm(thickness), None, (), (board,), **more)  # type: ignore[arg-type]


def rough_plan(s, thickness: int, *, tools: frozenset[str] = frozenset(), count: int = 1, **more: object):
    stock = rough_stock(s, thickness, **more)
    parts = [s.part(f"rail_{at}", (40, 4), stock=stock) for at in range(count)]
    plan = s.plan_of(*parts, lengths=LengthFormat(Units.MM))
    catalogue = replace(plan.catalogue, kits={"own": Kit("own", "own", "", tools)})
    return replace(plan, catalogue=catalogue, making=replace(plan.making, kit="own"))


def laid(plan):
    cut_list = make_cut_list(plan)
    layouts, problems = make_layouts(plan, cut_list)
    return cut_list, layouts, problems


def test_twenty_from_twenty_seven_is_planed_where_the_kit_can(s, check) -> None:
    """One rail of 1016 x 101.6 mm with 35 % for waste is 0.139 m2; the one board of 2 m x 160 mm is 0.32 m2, so 0.4 m2 in tenths, at 40: 16."""
    plan = rough_plan(s, 20, tools=MILLED)
    cut_list, layouts, problems = laid(plan)
    assert not problems
    check(plan, cut_list, layouts)
    assert layouts.needs[0].square_metres == Fraction(32, 100)
    assert layouts.needs[0].board_feet is None
    (row,) = make_shopping_list(plan, layouts, (), (), ()).rows
    assert (row.quantity, row.unit, row.cost) == (1, "board", 16)
    assert row.detail.startswith("0.4 m² in all; 27 mm, rough; boards 160 mm wide or more")
    assert row.detail.endswith("to be planed to 20 mm")
    assert cut_list.items[0].note.startswith("Plane the board to 20 mm first.")


def test_without_a_planer_the_error_names_the_yard(s) -> None:
    _, _, (problem,) = laid(rough_plan(s, 20))
    assert (problem.code, problem.position) == ("needs-planing", s.HERE)
    assert "`planed: at the yard`" in problem.mend
    assert "27 mm thick" not in problem.mend  # a rough board is no part


def test_the_yard_planes_for_any_kit(s, check) -> None:
    plan = rough_plan(s, 20, at_yard=True)
    cut_list, layouts, problems = laid(plan)
    assert not problems
    check(plan, cut_list, layouts)
    assert "planed to 20 mm at the yard" in make_shopping_list(plan, layouts, (), (), ()).rows[0].detail
    assert cut_list.items[0].note.startswith("Planed to 20 mm at the yard.")


def test_rough_lumber_gives_no_more_than_is_left_of_it(s) -> None:
    """27 mm less 5 mm is 22 mm: 23 mm is an error that says so, whatever the kit."""
    assert not laid(rough_plan(s, 22, tools=MILLED))[2]
    _, _, (problem,) = laid(rough_plan(s, 23, tools=MILLED))
    assert (problem.code, problem.position) == ("thicker-than-board", s.HERE)
    assert "gives 22 mm once planed" in problem.message
    assert "`actual: 22 mm`" in problem.mend


@pytest.mark.parametrize(("defects", "boards"), [(0, 1), (10, 2), (20, 2)])
def test_defects_are_counted_off_each_board(s, check, defects: int, boards: int) -> None:
    """Two pieces of 47 in and a kerf take 94-1/8 of the 95 in that an 8 ft board gives; with 10 % counted off it gives 85.4 in."""
    stock = replace(s.board_stock("1x4", "7/2", ((96, 8),)), defects=Fraction(defects, 100))
    plan = s.plan_of(*(s.part(f"p{at}", (47, "7/2"), stock=stock) for at in range(2)))
    cut_list, layouts, problems = laid(plan)
    assert not problems
    check(plan, cut_list, layouts)
    assert len(layouts.boards) == boards
    detail = make_shopping_list(plan, layouts, (), (), ()).rows[0].detail
    assert (f"{defects}% of each counted off" in detail) == bool(defects)


def test_a_part_that_only_a_board_without_knots_would_give_is_told_so(s) -> None:
    """96 in less 20 % less an inch of trims gives 75.8 in."""
    stock = replace(s.board_stock("1x4", "7/2", ((96, 8),)), defects=Fraction(1, 5))
    assert not laid(s.plan_of(s.part("p", (75, "7/2"), stock=stock)))[2]
    _, _, (problem,) = laid(s.plan_of(s.part("p", (77, "7/2"), stock=stock)))
    assert (problem.code, problem.position) == ("longer-than-board", s.HERE)
    assert "20%" in problem.cause
    assert "75-13/16 in" in problem.mend


SOURCE = """
plan: {title: Slats, number: S-1, date: 2026-11-20, author: A. Maker, lengths: mm}
shop: {tools: KIT}
stock:
  ash: {material: ash lumber, size: 27 mm, actual: ACTUAL}
assemblies:
  rack:
    parts:
      post: {stock: ash, thickness: y, grain: z, left: 0, wide: 60, front: 0, bottom: 0, top: 500}
      rail: {stock: ash, thickness: y, grain: x, left: post.right, wide: 400, front: 0, bottom: 200, high: 60}
    joints:
      - {butt: rail, to: post, with: [glue]}
"""


def steps_with(tmp_path, kit: str, actual: str):
    (tmp_path / "plan.yaml").write_text(SOURCE.replace("KIT", kit).replace("ACTUAL", actual))
    return check_plan(tmp_path, Choice())


def test_the_step_comes_before_any_cut(tmp_path) -> None:
    from drawleaf.book.words.format import Formatter
    from drawleaf.book.words.wording import step_text

    outcome = steps_with(tmp_path, "full shop", "20")
    assert not outcome.failed, [(one.code, one.message) for one in outcome.diagnostics]
    first = outcome.derived.steps[0]
    assert first.id == "plane-boards"
    assert [operation.kind for operation in first.operations] == ["plane-to-thickness"]
    assert "thickness planer" in {row.tool.id for row in outcome.derived.tools}
    assert "planer" in {caution.id for caution in first.cautions}
    words = step_text(first, outcome.derived, Formatter.of(outcome.derived.plan))
    assert "20 mm" in str(words.check).replace("\u00a0", " ").replace("\u2009", " ")
    assert outcome.derived.audit.passed


def test_what_is_much_thinner_is_resawn_first(tmp_path) -> None:
    """From 27 mm to 10 mm 17 mm come off. On boards of 160 mm the bandsaw's guide is too low (6 in, 152 mm); a measured width of 140 passes."""
    tall = steps_with(tmp_path, "full shop", "10")
    assert [one.kind for one in tall.derived.steps[0].operations] == ["plane-to-thickness"]
    low = steps_with(tmp_path, "full shop", "10, width: 140 mm")
    assert [one.kind for one in low.derived.steps[0].operations] == ["resaw", "plane-to-thickness"]
    assert {"bandsaw", "planer"} <= {caution.id for caution in low.derived.steps[0].cautions}


@pytest.mark.parametrize("kit", ["common power tools", "hand tools"])
def test_other_kits_are_told_of_the_yard_at_the_part(tmp_path, kit: str) -> None:
    outcome = steps_with(tmp_path, kit, "20")
    (problem,) = [one for one in outcome.diagnostics if one.is_error]
    assert problem.code == "needs-planing"
    line = SOURCE.splitlines()[problem.position.line - 1]
    assert line.lstrip().startswith("post:")
    mended = steps_with(tmp_path, kit, "20, planed: at the yard")
    assert not mended.failed, [(one.code, one.message) for one in mended.diagnostics]
    assert "plane-boards" not in {step.id for step in mended.derived.steps}


def test_boards_that_are_sold_thinner_are_planed_by_nobody(tmp_path) -> None:
    """A store's 27 mm ash that measures 20 mm: no planer, no yard, no step; the list says what to look for."""
    refused = steps_with(tmp_path, "common power tools", "20")
    (problem,) = [one for one in refused.diagnostics if one.is_error]
    assert "`planed: as bought`" in problem.mend
    outcome = steps_with(tmp_path, "common power tools", "20, planed: as bought")
    assert not outcome.failed, [(one.code, one.message) for one in outcome.diagnostics]
    assert "plane-boards" not in {step.id for step in outcome.derived.steps}
    assert {item.note for item in outcome.derived.cut_list.items} == {""}
    (row,) = [row for row in outcome.derived.shopping.rows if row.name.startswith("Ash")]
    assert "20 mm thick as sold: measure before you buy" in row.detail
