"""All layouts of a plan: sheets, then boards, and what must be bought for them."""

from __future__ import annotations

from drawleaf.cache import NOTHING_KEPT, Kept
from drawleaf.derive.layout.boards import lay_boards
from drawleaf.derive.layout.sheets import lay_sheets
from drawleaf.derive.layout.small_parts import small_parts_last
from drawleaf.derive.layout.stock_misfits import match_problems
from drawleaf.derive.shop.limits import shop_limits
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.lists import CutList, Layouts
from drawleaf.model.plan import Plan


def make_layouts(
    plan: Plan, cut_list: CutList, *, tidy: bool = True, kept: Kept = NOTHING_KEPT
) -> tuple[Layouts, tuple[Diagnostic, ...]]:
    """Every part of the cut list on a sheet or board; parts that no stock on sale can give are errors at their line.

    ``tidy`` as for ``derive``.
    """
    unmatched = match_problems(plan.parts)
    if unmatched:
        return Layouts((), (), ()), tuple(unmatched)
    sheets, sheet_needs, sheet_problems = lay_sheets(plan, cut_list, tidy=tidy, kept=kept)
    boards, board_needs, board_problems = lay_boards(plan, cut_list, kept=kept)
    boards = [small_parts_last(board, plan.making, shop_limits(plan)) for board in boards]
    order = {stock.id: at for at, stock in enumerate(plan.stocks)}
    needs = sorted([*sheet_needs, *board_needs], key=lambda need: order[need.stock.id])
    return Layouts(tuple(sheets), tuple(boards), tuple(needs)), (*sheet_problems, *board_problems)
