"""Many boards of one length: columns of a linear programme, rounded by diving.

For long orders of crosscuts where sequences and ruin and recreate stop short of the bound. Each column is a way to cut one board; the
programme's prices say which way is worth adding, a knapsack finds it; then the board patterns used most are fixed, one after another, and the
programme is solved again for what is left.

Method: Gilmore & Gomory, Operations Research 9 (1961), 849-859 and 11 (1963), 863-888 (from memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil
from random import Random

import numpy as np

from drawleaf.derive.layout.search.guillotine import Counts, Filled, Piece
from drawleaf.derive.layout.search.packing import Order, minus

EPSILON = 1e-9
MOST_COLUMNS = 2000
CLOSE = 0.6
# Capacities above this are divided down first; sizes are rounded up then, so a pattern still fits.
MOST_STEPS = 12_000
# Above so many pieces only whole patterns are fixed, many at a time: fixing one by one takes too long.
MANY_PIECES = 80
# Dives with more and more luck in what is fixed first, as long as so many knapsacks are not worked out.
MOST_DIVES = 8
MOST_KNAPSACKS = 500
LUCK = 0.1


def few_boards(order: Order, size: int, least: int) -> list[Filled]:
    """All pieces on boards of one size, few of them. ``least`` is a bound at which the search stops."""
    solver = _Diver(order, size)
    best: list[Counts] | None = None
    for luck in range(MOST_DIVES):
        fix_many = luck == 0 or sum(order.counts) > MANY_PIECES
        patterns = solver.dive(order.counts, fix_many=fix_many, noise=LUCK * max(luck - 1, 0))
        if best is None or len(patterns) < len(best):
            best = patterns
        if len(best) <= max(least, solver.bound) or solver.knapsacks > MOST_KNAPSACKS:
            break
    assert best is not None
    return [_laid(order, size, pattern) for pattern in best]


class _Diver:
    def __init__(self, order: Order, size: int) -> None:
        length = order.sizes[size][0]
        step = max(-(-length // MOST_STEPS), 1)
        self.capacity = length // step
        # Rounded up, a piece as long as the board would not fit; alone it does.
        self.sizes = [min(-(-kind.length // step), self.capacity) for kind in order.kinds]
        # Every pattern found so far: looked through before a new one is worked out.
        self.pool = np.zeros((0, len(order.kinds)), dtype=np.int64)
        self.knapsacks = 0
        # With lengths rounded up nothing is proven.
        self.proves = step == 1
        self.bound = 0
        self.counts = order.counts
        self.random = Random(1)

    def dive(self, counts: Counts, *, fix_many: bool, noise: float) -> list[Counts]:
        """Patterns that hold all pieces: solve, fix what is whole, else the pattern nearest to whole, and solve the rest."""
        chosen: list[Counts] = []
        while any(counts):
            active = [at for at, count in enumerate(counts) if count]
            columns, amounts = self._solved(active, [counts[at] for at in active])
            whole = [(column, int(amount + EPSILON)) for column, amount in zip(columns, amounts, strict=True)]
            whole = [(column, times) for column, times in whole if times]
            if not whole or not fix_many:
                at = max(
                    range(len(amounts)),
                    key=lambda at: (
                        (amounts[at] % 1 or amounts[at]) + noise * self.random.random(),
                        self._load(active, columns[at]),
                    ),
                )
                whole = [(columns[at], 1)]
            for column, times in whole:
                pattern = [0] * len(counts)
                for kind, copies in zip(active, column, strict=True):
                    pattern[kind] = copies
                for _ in range(times):
                    used = tuple(min(want, have) for want, have in zip(pattern, counts, strict=True))
                    if not any(used):
                        break
                    used = self._topped(used, counts)
                    chosen.append(used)
                    counts = minus(counts, used)
        return chosen

    def _load(self, active: Sequence[int], column: Sequence[int]) -> int:
        return sum(self.sizes[kind] * copies for kind, copies in zip(active, column, strict=True))

    def _topped(self, used: Counts, counts: Counts) -> Counts:
        """A pattern that came out short, filled up with what else fits, longest first."""
        room = self.capacity - sum(size * copies for size, copies in zip(self.sizes, used, strict=True))
        result = list(used)
        for at in sorted(range(len(counts)), key=lambda at: (-self.sizes[at], at)):
            more = min(counts[at] - result[at], room // self.sizes[at])
            result[at] += more
            room -= more * self.sizes[at]
        return tuple(result)

    def _solved(self, active: list[int], demand: list[int]) -> tuple[list[Counts], list[float]]:
        """The linear programme: fewest boards in fractions, by the revised simplex method with columns made as needed."""
        rows = len(active)
        columns: list[Counts] = []
        for row, kind in enumerate(active):
            copies = min(demand[row], self.capacity // self.sizes[kind])
            columns.append(tuple(copies if at == row else 0 for at in range(rows)))
        basis = np.array(columns, dtype=float).T
        amounts = np.array(demand, dtype=float) / np.diag(basis)
        inverse = np.linalg.inv(basis)
        known = self.pool[:, active]
        fits = (self.pool.sum(axis=1) == known.sum(axis=1)) & (known <= np.array(demand)).all(axis=1)
        known = known[fits]
        for _ in range(MOST_COLUMNS):
            prices = inverse.sum(axis=0)
            worth = known @ prices
            at = int(worth.argmax()) if len(worth) else 0
            if len(worth) and worth[at] > 1 + 1e-6:
                value, pattern = float("inf"), tuple(int(copies) for copies in known[at])
            else:
                value, pattern = self._best_pattern(active, demand, prices)
                self._remember(active, pattern)
                known = np.vstack([known, np.array([pattern], dtype=np.int64)])
            now = float(amounts.sum())
            if self.proves and demand == list(self.counts):
                self.bound = max(self.bound, ceil(now / value - 1e-6))
            # Farley's bound: the programme's optimum is at least `now / value`. Close enough is good enough to dive from.
            if value <= 1 + 1e-7 or now / value > np.ceil(now - 1e-6) - 1 + CLOSE:
                break
            entering = inverse @ np.array(pattern, dtype=float)
            ratios = np.where(entering > EPSILON, amounts / np.where(entering > EPSILON, entering, 1.0), np.inf)
            leaving = int(ratios.argmin())
            if not np.isfinite(ratios[leaving]):
                break
            amount = ratios[leaving]
            amounts = np.maximum(amounts - amount * entering, 0.0)
            amounts[leaving] = amount
            columns[leaving] = pattern
            pivot = inverse[leaving] / entering[leaving]
            inverse = inverse - np.outer(entering, pivot)
            inverse[leaving] = pivot
        return columns, [float(amount) for amount in amounts]

    def _remember(self, active: list[int], pattern: Counts) -> None:
        row = np.zeros((1, len(self.sizes)), dtype=np.int64)
        row[0, active] = pattern
        self.pool = np.vstack([self.pool, row])

    def _best_pattern(self, active: list[int], demand: list[int], prices: np.ndarray) -> tuple[float, Counts]:
        """The pattern worth most at these prices: a knapsack over the board's length, each kind as often as it is wanted."""
        self.knapsacks += 1
        best = np.zeros(self.capacity + 1)
        taken: list[tuple[int, int, np.ndarray]] = []
        for row, kind in enumerate(active):
            size, price = self.sizes[kind], float(prices[row])
            left = min(demand[row], self.capacity // size)
            copies = 1
            while left > 0 and price > EPSILON:
                batch = min(copies, left)
                left -= batch
                copies *= 2
                length = batch * size
                tried = best[: self.capacity + 1 - length] + batch * price
                better = tried > best[length:] + EPSILON
                mark = np.zeros(self.capacity + 1, dtype=bool)
                mark[length:] = better
                best[length:] = np.where(better, tried, best[length:])
                taken.append((row, batch, mark))
        room = self.capacity
        pattern = [0] * len(active)
        for row, batch, mark in reversed(taken):
            if mark[room]:
                pattern[row] += batch
                room -= batch * self.sizes[active[row]]
        return float(best[self.capacity]), tuple(pattern)


def _laid(order: Order, size: int, pattern: Counts) -> Filled:
    pieces, x = [], 0
    for at in sorted(range(len(pattern)), key=lambda at: (-order.kinds[at].length, at)):
        kind = order.kinds[at]
        for _ in range(pattern[at]):
            pieces.append(Piece(at, x, 0, kind.length, kind.width, False))
            x += kind.length
    area = sum(piece.length * piece.width for piece in pieces)
    return Filled(size, order.sizes[size], tuple(pieces), pattern, area)
