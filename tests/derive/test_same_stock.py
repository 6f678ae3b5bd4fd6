"""Two stocks of a plan that are one thing at the store: one row to buy, one set of boards."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import pytest

from drawleaf.derive.buying.shopping import make_shopping_list
from drawleaf.derive.cut_list.cut_list import make_cut_list
from drawleaf.derive.layout.layouts import make_layouts
from drawleaf.derive.layout.same_stock import bought_together
from drawleaf.model.catalogue import Stock
from drawleaf.units import Length


@pytest.fixture
def s(shop) -> SimpleNamespace:
    return SimpleNamespace(**shop)


def two(s, **other: object) -> tuple[Stock, Stock]:
    plain = s.board_stock("1x4", "7/2", ((48, 5), (96, 8)))
    return plain, replace(plain, id="other", **other)


def laid(s, plain: Stock, other: Stock):
    """Four pieces of 21 in, two of each: 4 x 21 and three kerfs are 84-3/8, which one board of 8 ft gives and one of 4 ft does not."""
    parts = [s.part(f"p{at}", (21, "7/2"), stock=plain if at < 2 else other) for at in range(4)]
    plan = s.plan_of(*parts, stocks=(plain, other))
    cut_list = make_cut_list(plan)
    layouts, problems = make_layouts(plan, cut_list)
    assert not problems
    return plan, cut_list, layouts


@pytest.mark.parametrize("other", [{"name": "Rail stock"}, {"profile": "ogee"}, {"note": "Straight ones."}])
def test_one_name_more_is_no_other_board(s, check, other) -> None:
    plain, renamed = two(s, **other)
    plan, cut_list, layouts = laid(s, plain, renamed)
    check(plan, cut_list, layouts)
    assert [board.length for board in layouts.boards] == [Length.of_inches(96)]
    (row,) = make_shopping_list(plan, layouts, (), (), ()).rows
    assert (row.quantity, row.cost) == (1, 8)
    assert "Rail stock" not in row.name
    assert ("Straight ones." in row.detail) is ("note" in other)


@pytest.mark.parametrize(
    "other", [{"thickness": Length.of_inches(1)}, {"at_yard": True}, {"nominal": "1x6"}, {"width": Length.of_inches(3)}]
)
def test_another_size_or_condition_is_bought_by_itself(s, other) -> None:
    plain, differs = two(s, **other)
    assert [sorted(bought.ids) for bought in bought_together((plain, differs))] == [[plain.id], ["other"]]


def test_what_stands_alone_stays_as_it_is(s) -> None:
    plain, _ = two(s)
    (bought,) = bought_together((plain,))
    assert bought.stock is plain
