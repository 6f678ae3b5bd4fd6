"""Strips that loose tenons are cut off: how long, and which offcut of the layouts gives them."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import ceil

from drawleaf.model.catalogue import HardwareItem, Stock
from drawleaf.model.lists import Layouts, Strip
from drawleaf.model.plan import Plan
from drawleaf.units import Length

HOLD = {True: Length.of_mm(150), False: Length.of_inches(6)}
"""So much of a strip is left in the hand at the last cut, in millimeters or inches (common practice, no source)."""
MOST = Length.of_mm(900)
"""A thin strip longer than this bends under the plane: it is made as two (common practice, no source)."""


def make_strips(plan: Plan, layouts: Layouts) -> tuple[Strip, ...]:
    """One row for each size of tenon and stock, in the order of the joints; no offcut is given away twice."""
    counts: dict[tuple[str, str], int] = {}
    items: dict[tuple[str, str], tuple[HardwareItem, Stock]] = {}
    for joint in plan.joints:
        for fastener in joint.fasteners:
            stock = fastener.item.made_of
            if stock is not None:
                key = (fastener.item.id, stock.id)
                counts[key] = counts.get(key, 0) + 1
                items.setdefault(key, (fastener.item, stock))
    taken: dict[tuple[int, bool, int], Length] = {}
    return tuple(_strip(plan, layouts, *items[key], count, taken) for key, count in counts.items())


def _strip(
    plan: Plan,
    layouts: Layouts,
    item: HardwareItem,
    stock: Stock,
    count: int,
    taken: dict[tuple[int, bool, int], Length],
) -> Strip:
    thick, wide, long = item.measure("thick"), item.measure("wide"), item.length
    assert thick is not None
    assert wide is not None
    assert long is not None
    hold = HOLD[plan.lengths.units.value == "mm"]
    piece = long + plan.making.kerf
    strips = ceil((piece * count).ratio(MOST - hold))
    each = -(-count // strips)
    length = piece * each + hold
    board = next((number for number in _offcuts(layouts, stock, length, wide, strips, plan.making.kerf, taken)), None)
    return Strip(item, stock, count, strips, length, wide, thick, board)


def _offcuts(
    layouts: Layouts,
    stock: Stock,
    length: Length,
    wide: Length,
    strips: int,
    kerf: Length,
    taken: dict[tuple[int, bool, int], Length],
) -> Iterator[int]:
    """The first board whose offcut still has room beside the strips that came of it before; the strips' place in it is then taken."""
    room = (wide + kerf + Length.of_mm(Fraction(2))) * strips
    for board in layouts.boards:
        if board.stock.id != stock.id:
            continue
        for at, offcut in enumerate(board.offcuts):
            key = (board.number, False, at)
            used = taken.get(key, Length.of_mm(0))
            if offcut.length >= length and offcut.width - used >= room:
                taken[key] = used + room
                yield board.number
                return
