"""Sizes that change where a buyer's sheet is not as thick as the plan has it, below the cut list."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from functools import cache

import pytest
from tests.small_plans import derived_from, plan_from

from drawleaf.book.chapters.context import Book
from drawleaf.book.chapters.other_sheets import other_rows
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawings
from drawleaf.model.plan import Part, Plan
from drawleaf.resolve import other_sheets
from drawleaf.source.reader import Reading
from drawleaf.units import Length

HEAD = "plan: {title: T, number: T-1, date: 2026-11-30, author: A. Maker, lengths: mm}\n"
CASE = (
    HEAD
    + """
dimensions: {wide: 600}
stock:
  ply: {material: birch plywood, nominal: 18 mm, actual: %s mm}
  thin: {material: birch plywood, nominal: 6 mm, actual: %s mm}
  oak: {material: red oak board, size: 1x3}
assemblies:
  case:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 280, bottom: 0, top: 400, mirror: {x: wide / 2}}
      shelf: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: back.front, bottom: 200}
      half: {name: Half shelf, stock: ply, thickness: z, grain: x, left: side.right, right: wide / 2 - stock.ply.thickness / 2, front: 0, back: 200, bottom: 100}
      back: {stock: thin, thickness: y, grain: z, left: side.right, right: side.mirrored.left, back: side.back, bottom: 0, top: 400}
      rail: {stock: oak, thickness: y, full_width: z, grain: x, left: 0, right: wide, back: side.front, bottom: 0}
    joints:
      - {dado: shelf, in: side, depth: 6, with: [glue]}
      - {dado: half, in: side.original, depth: 6, with: [glue]}
      - {rabbet: back, in: side, depth: 9, with: [glue]}
      - {butt: rail, to: side, with: [glue]}
checks: {waive: [{check: tip-over, reason: It is an example.}]}
"""
)


@cache
def plan(ply: str, thin: str) -> Plan:
    return plan_from(CASE % (ply, thin))


@cache
def case() -> Derived:
    return derived_from(CASE % ("18", "6"))


def told(one: Plan) -> dict[tuple[str, str], tuple[Fraction, Fraction]]:
    return {
        (sheet.stock, change.part): (change.length, change.width)
        for sheet in one.other_sheets
        for change in sheet.changes
    }


def test_the_shares_are_those_that_the_author_wrote() -> None:
    """Between two sides: twice the thickness. From a side to a middle line less half a sheet: one and a half. The back takes from the shelf."""
    assert told(plan("18", "6")) == {
        ("ply", "case.shelf"): (2, 0),
        ("ply", "case.half"): (Fraction(3, 2), 0),
        ("thin", "case.shelf"): (0, 1),
    }


@pytest.mark.parametrize(("ply", "thin"), [("17.5", "6"), ("18", "5.2"), ("19", "6.5")])
def test_the_table_tells_what_a_plan_with_such_a_sheet_has(ply: str, thin: str) -> None:
    """Every size of the plan with other sheets is the printed size and what the table adds to it."""
    usual, other = plan("18", "6"), plan(ply, thin)
    thinner = {"ply": 18 - Fraction(ply), "thin": 6 - Fraction(thin)}
    shares = told(usual)
    changed = 0
    for part in usual.parts:
        fitted = {axis for axis, _ in part.fitted.over} if part.fitted else set()
        for place, axis in enumerate((part.length_axis, part.width_axis)):
            if axis in fitted:
                continue
            more = sum(shares.get((stock, part.id), (0, 0))[place] * by for stock, by in thinner.items())
            new, old = other.part(part.id).body.extent(axis), part.body.extent(axis)
            assert (new - old).exact_mm == more, (part.id, axis)
            changed += more != 0
    assert changed


def test_the_printed_step_is_such_that_every_change_is_a_printed_figure() -> None:
    """Half shelves follow by one and a half: half a millimetre thinner would be 0.75 longer, which nobody prints; so it is told for one."""
    book = Book.of(case(), Drawings(None, (), (), {}, {}, {}, {}), for_print=True)  # type: ignore[arg-type]
    rows = {sheet.stock.id: sheet for sheet in other_rows(book)}
    assert rows["ply"].thinner.mm == 1
    assert rows["thin"].thinner.mm == 0.5
    plain = {
        re.sub(r"<[^>]+>", "", str(row.words)).replace("\u00a0", " "): [item.name for item in row.items]
        for row in rows["ply"].rows
    }
    assert plain == {"2 mm longer": ["Shelf"], "1.5 mm longer": ["Half shelf"]}


def test_a_plan_of_boards_has_no_such_table() -> None:
    boards = CASE.replace("birch plywood, nominal: 18 mm, actual: %s mm", "pine board, size: 1x12")
    assert [sheet.stock for sheet in plan_from(boards % "6").other_sheets] == ["thin"]


def test_the_plan_is_placed_once_for_all_its_sheets(monkeypatch: pytest.MonkeyPatch) -> None:
    """One by one only where a sheet has a figure in place of a face: of that one nothing is said, of the others the same as ever."""
    placed: list[Mapping[str, Length]] = []
    real = other_sheets._thinner

    def spy(plan: Plan, reading: Reading, by: Mapping[str, Length]) -> dict[str, Part]:
        placed.append(by)
        return real(plan, reading, by)

    monkeypatch.setattr(other_sheets, "_thinner", spy)
    whole = plan_from(CASE % ("18", "6"))
    assert [set(by) for by in placed] == [{"ply", "thin"}]
    placed.clear()
    figure = plan_from((CASE % ("18", "6")).replace("left: side.right, right: wide / 2", "left: 18, right: wide / 2"))
    assert [set(by) for by in placed] == [{"ply", "thin"}, {"ply"}, {"thin"}]
    assert told(figure) == {key: more for key, more in told(whole).items() if key[0] == "thin"}
