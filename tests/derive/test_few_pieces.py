"""The search for tidy sheets ends where a few pieces leave nothing more to find."""

from __future__ import annotations

import pytest

from drawleaf.derive.layout.cut_order import CutPlan, plan_cuts
from drawleaf.derive.layout.search.bounds import least_sheets
from drawleaf.derive.layout.search.guillotine import Effort, Filled, Kind
from drawleaf.derive.layout.search.packing import ALL_CUTTING, Order, Packer
from drawleaf.derive.layout.search.sheet_filling import sheet_filler
from drawleaf.derive.layout.second_goals import handling, practical

SHEET = (2440, 1220)
EFFORT = 60_000
TWO_SIDES_AND_A_SHELF = (Kind(420, 250, 2, False), Kind(600, 250, 1, False))
DRESSER = tuple(Kind(300 + 40 * at, 110 + 30 * at, 2, True) for at in range(9))


def cuts_of(sheet: Filled) -> CutPlan:
    return plan_cuts(sheet.sheet, sheet.pieces, 0, keepable=lambda length, width: min(length, width) >= 300)


@pytest.mark.parametrize(("kinds", "ends_early"), [(TWO_SIDES_AND_A_SHELF, True), (DRESSER, False)])
def test_what_has_few_fillings_takes_little_effort(kinds: tuple[Kind, ...], ends_early: bool) -> None:
    """Three pieces lie in a handful of ways: they are known after a fraction of the effort, and none is worse to cut than the first.
    Eighteen pieces take all of it."""
    order = Order(kinds, (SHEET,))
    spend = Effort(EFFORT)
    first = Packer(order, sheet_filler(order, spend), spend, ALL_CUTTING).few_sheets(0, least_sheets(SHEET, kinds))
    effort = Effort(EFFORT)
    tidied = practical(first, cuts_of, order, effort)
    assert (effort.left > EFFORT / 2) == ends_early
    assert [sheet.used for sheet in tidied] == [sheet.used for sheet in first]
    assert handling(tidied, cuts_of).gain_over(handling(first, cuts_of)) >= 0
