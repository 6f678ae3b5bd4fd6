"""Filling one board by crosscuts alone: the best set of lengths, by subset sums.

For stock whose pieces cannot lie side by side. Sums of lengths are built up kind by kind, keeping for each the greatest value; where there are more
sums than ``MOST_SUMS`` the least promising go, so the result is exact for the orders of a plan and very good for larger ones.
"""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.derive.layout.search.guillotine import Counts, Cutting, Effort, Filled, Piece
from drawleaf.derive.layout.search.packing import Fill, Order

MOST_SUMS = 3000


def board_filler(order: Order, effort: Effort) -> Fill:
    """The filling of boards by crosscuts. The kind of cutting asked for does not matter."""

    def fill(size: int, counts: Counts, values: Sequence[float], cutting: Cutting) -> Filled:
        return fill_board(order, size, counts, values, effort)

    return fill


def fill_board(order: Order, size: int, counts: Counts, values: Sequence[float], effort: Effort) -> Filled:
    """The most valuable pieces whose lengths fit one board."""
    board = order.sizes[size]
    kinds = [
        at
        for at, count in enumerate(counts)
        if count and order.kinds[at].length <= board[0] and order.kinds[at].width <= board[1]
    ]
    sums: dict[int, tuple[float, tuple[int, ...]]] = {0: (0.0, ())}
    for at in kinds:
        length, value = order.kinds[at].length, values[at]
        grown = dict(sums)
        for base, (worth, chosen) in sums.items():
            for copies in range(1, min(counts[at], (board[0] - base) // length) + 1):
                reached, gained = base + copies * length, worth + copies * value
                if reached not in grown or grown[reached][0] < gained:
                    grown[reached] = (gained, chosen + (at,) * copies)
        effort.left -= len(grown)
        if len(grown) > MOST_SUMS:
            kept = sorted(grown.items(), key=lambda one: (-one[1][0], one[0]))[:MOST_SUMS]
            grown = dict(kept)
        sums = grown
    reached, (_, chosen) = max(sums.items(), key=lambda one: (one[1][0], -one[0]))
    return _laid(order, size, chosen)


def _laid(order: Order, size: int, chosen: Sequence[int]) -> Filled:
    pieces, x = [], 0
    used = [0] * len(order.kinds)
    for at in sorted(chosen, key=lambda at: (-order.kinds[at].length, at)):
        kind = order.kinds[at]
        pieces.append(Piece(at, x, 0, kind.length, kind.width, False))
        used[at] += 1
        x += kind.length
    area = sum(piece.length * piece.width for piece in pieces)
    return Filled(size, order.sizes[size], tuple(pieces), tuple(used), area)
