"""Boards sawn thinner on the bandsaw: when it pays, how many boards each gives, and what the rest of it is good for.

A board that is much thicker than its parts is stood on its edge and sawn along its width. If it is thick enough, each half gives parts; else
the rest is a thin board to keep.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from drawleaf.derive.shop.limits import HIGHEST_RESAW, ShopLimits
from drawleaf.derive.shop.part_words import planed
from drawleaf.model.catalogue import BoardSize, Stock
from drawleaf.units import Length

FOR_PLANING = Length.of_inches(Fraction(1, 8))
"""What a resawn board is left thicker, to be planed off both faces. Common practice, no source."""
WORTH_RESAWING = Length.of_inches(Fraction(3, 8))
"""Where more than this comes off, and what is left for planing, the saw takes it off as a board and not as chips. Common practice, no source."""
BLADE = Length.of_inches(Fraction(1, 16))
"""What a bandsaw's blade turns to dust, a little wander counted in. Common practice, no source."""
WORTH_KEEPING = Length.of_inches(Fraction(1, 4))
"""A thinner board than this is only good for shims. Common practice, no source."""


def is_resawn(stock: Stock, boards: Sequence[BoardSize], shop: ShopLimits) -> bool:
    """Whether the shop saws these boards thinner before it planes them."""
    if not shop.bandsaw or stock.at_yard or not planed(stock, boards):
        return False
    narrow = all(board.width <= HIGHEST_RESAW for board in boards)
    return narrow and boards[0].thickness - stock.thickness >= WORTH_RESAWING + FOR_PLANING


def leaves_of(stock: Stock, boards: Sequence[BoardSize], shop: ShopLimits) -> int:
    """How many boards of the stock's thickness each bought one gives: 1 where it is not resawn, or only once."""
    if not is_resawn(stock, boards, shop):
        return 1
    least = min(_flat(board) for board in boards)
    return max(1, int((least + BLADE).ratio(stock.thickness + FOR_PLANING + BLADE)))


def rest_of(stock: Stock, board: BoardSize, leaves: int) -> Length | None:
    """How thick the rest of a board is once it is planed, when so many boards of the stock's thickness are sawn off it; None where it is not
    worth keeping."""
    rest = _flat(board) - (stock.thickness + FOR_PLANING + BLADE) * leaves - FOR_PLANING
    # Told a little too thin rather than too thick.
    return Length.of_mm(Fraction(rest.exact_mm * 2 // 1, 2)) if rest >= WORTH_KEEPING else None


def _flat(board: BoardSize) -> Length:
    """How thick a board is when the face is flat that runs along the fence: half of what planing takes off a rough one is gone by then."""
    return board.thickness - board.planing / 2
