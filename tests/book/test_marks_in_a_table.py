"""Many places to mark stand in a small table within their action; a few are told."""

from __future__ import annotations

import re

import pytest
from markupsafe import Markup
from tests.conftest import outcome_of

from drawleaf.book.page.measure import POINT, has_marks, line_count
from drawleaf.book.words.format import Formatter
from drawleaf.book.words.phrases.mark_rows import MarkRow, table_of
from drawleaf.book.words.wording import step_text


def actions(name: str, kind: str) -> list[list[str]]:
    derived = outcome_of(name).derived
    assert derived is not None
    fmt = Formatter.of(derived.plan)
    return [
        [str(action) for action in step_text(step, derived, fmt).actions]
        for step in derived.steps
        if step.operations[0].kind == kind
    ]


def rows(action: str) -> list[str]:
    cells = re.sub(r"</th>", ": ", action)
    return [re.sub(r"<[^>]+>", "", row).replace("\u00a0", " ") for row in cells.split("<tr>")[1:]]


def test_dowel_holes_of_the_stool_stand_in_a_table() -> None:
    """Eight places of the front legs and aprons, of which each has its own depth: 53/64 in in the legs' wood, 35/64 in for the short dowels."""
    first = actions("step-stool", "dowel-holes")[0][0]
    assert first.startswith("Mark the holes: <table")
    found = rows(first)
    assert len(found) == 8
    assert found[0].startswith("Back edge of the left and right front legs 1 2: ")
    assert all("deep" in row for row in found)
    assert not any(row.startswith("the ") for row in found)


@pytest.mark.parametrize(("name", "kind"), [("trestle-table", "dowel-holes"), ("boot-bench", "screw-holes")])
def test_each_place_is_told_once(name: str, kind: str) -> None:
    """Whether in a table or in sentences: as many places as have a line, none twice."""
    for step in actions(name, kind):
        tabled = [row for action in step if has_marks(action) for row in rows(action)]
        assert len(tabled) == len(set(tabled))


def test_a_depth_that_all_have_is_told_once() -> None:
    some = [MarkRow("the top end", Markup("part {}").format(k), Markup("1 in"), Markup("3/4 in")) for k in range(3)]
    assert "deep" not in table_of(some)
    other = [*some, MarkRow("both ends", Markup("part 9"), Markup("1 in"), Markup("1/2 in"))]
    assert table_of(other).count("deep") == 4


def test_a_table_is_reckoned_row_by_row() -> None:
    """Four rows of one line each: 4 x (10.5 pt x 1.2 + 1.1 mm) + 1 mm, in lines of 11.5 pt at 1.14, below the one line of words."""
    table = table_of([MarkRow("the top", Markup("leg"), Markup("1 in"))] * 4)
    high = 4 * (10.5 * POINT * 1.2 + 1.1) + 1.0
    assert line_count(f"Mark the holes: {table}", 120.0, 11.5) == 1 + -(-high // (11.5 * POINT * 1.14))
