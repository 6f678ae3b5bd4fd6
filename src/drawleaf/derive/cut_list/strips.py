"""Strips that loose tenons are cut off: how long, and which offcut of the layouts gives them."""

from __future__ import annotations

from collections.abc import MutableMapping
from math import floor

from drawleaf.model.catalogue import HardwareItem, Stock
from drawleaf.model.lists import Layouts, Strip
from drawleaf.model.plan import Plan
from drawleaf.units import ZERO, Length, Units

HOLD_MM, HOLD = Length.of_mm(150), Length.of_inches(6)
"""So much of a strip is left in the hand at the last cut, in a plan of millimeters or of inches (common practice, no source)."""
MOST = Length.of_mm(900)
"""A thin strip longer than this bends under the plane: it is made as two (common practice, no source)."""
PLAY = Length.of_mm(2)
"""What a strip is ripped wider than it becomes, to be planed off."""
Taken = MutableMapping[tuple[int, int], Length]
"""How much of an offcut's width is given away already, by the board's number and the offcut's place on it."""


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
    taken: Taken = {}
    return tuple(_strip(plan, layouts, *items[key], count, taken) for key, count in counts.items())


def _strip(plan: Plan, layouts: Layouts, item: HardwareItem, stock: Stock, count: int, taken: Taken) -> Strip:
    thick, wide, long = item.measure("thick"), item.measure("wide"), item.length
    assert thick is not None
    assert wide is not None
    assert long is not None
    hold = HOLD_MM if plan.lengths.units is Units.MM else HOLD
    piece = long + plan.making.kerf
    most = max(1, floor((MOST - hold).ratio(piece)))
    strips = -(-count // most)
    length = piece * -(-count // strips) + hold
    room = (wide + plan.making.kerf + PLAY) * strips
    return Strip(item, stock, count, strips, length, wide, thick, _board(layouts, stock, length, room, taken))


def _board(layouts: Layouts, stock: Stock, length: Length, room: Length, taken: Taken) -> int | None:
    """The first board whose offcut still has room beside the strips that came of it before; the strips' place in it is then taken."""
    for board in layouts.boards:
        if board.stock.id != stock.id:
            continue
        for at, offcut in enumerate(board.offcuts):
            used = taken.get((board.number, at), ZERO)
            if offcut.length >= length and offcut.width - used >= room:
                taken[board.number, at] = used + room
                return board.number
    return None
