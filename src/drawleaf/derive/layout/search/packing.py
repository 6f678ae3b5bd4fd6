"""Laying all pieces on as few sheets as may be: sequences, value correction, then ruin and recreate.

A run fills sheet after sheet. Value correction raises what poorly filled sheets held and runs again; ruin and recreate takes
some sheets apart and lays their pieces anew. It stops at the proven bound, or when the effort is spent; effort is counted
in search nodes and the random numbers start from one seed, so the same order gives the same layout on every machine.

Methods: value correction, Belov & Scheithauer, European Journal of Operational Research 171 (2006), 85-106; ruin and recreate for guillotine
packing, Gardeyn & Wauters, European Journal of Operational Research 301 (2022), 245-262 (both from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from operator import sub

from drawleaf.derive.layout.search.guillotine import Counts, Cutting, Effort, Filled, Kind

Fill = Callable[[int, Counts, Sequence[float], Cutting], Filled]
"""Fills one sheet: size, pieces on hand, value of each kind, which cuts."""

ALL_CUTTING = (Cutting.RIP_FIRST, Cutting.RIPS_CROSSCUTS, Cutting.CROSSCUTS_RIPS, Cutting.FREE)
POWERS = (1.0, 1.3)
ROUNDS_OF_CORRECTION = 4
MOST_RUINED = 5
SLACK = 0.02


@dataclass(frozen=True, slots=True)
class Order:
    """What is wanted: pieces by kind, and the sizes of sheet on offer (kerf folded in everywhere)."""

    kinds: tuple[Kind, ...]
    sizes: tuple[tuple[int, int], ...]

    @property
    def counts(self) -> Counts:
        return tuple(kind.count for kind in self.kinds)


class Packer:
    """Searches for layouts of one order with one way of filling a sheet."""

    def __init__(self, order: Order, fill: Fill, effort: Effort, cuttings: Sequence[Cutting]) -> None:
        self.order = order
        self.fill = fill
        self.effort = effort
        self.cuttings = tuple(cuttings)
        self._areas = [float(kind.area) for kind in order.kinds]

    def few_sheets(self, size: int, least: int) -> list[Filled]:
        """As few sheets of one size as the effort allows; stops at ``least``."""
        best = self._sequences(size, least)
        return self.ruin_and_recreate(best, least)

    def _sequences(self, size: int, least: int) -> list[Filled]:
        """Sheet after sheet with pieces valued by area; then values corrected by what went badly."""
        best: list[Filled] | None = None
        for power in POWERS:
            for cutting in self.cuttings:
                values = [float(kind.area) ** power for kind in self.order.kinds]
                run = self.run(size, self.order.counts, values, cutting)
                best = run if best is None else min(best, run, key=score)
                if len(best) <= least or self.effort.spent:
                    return best
        assert best is not None
        for cutting in self.cuttings:
            values = [float(kind.area) for kind in self.order.kinds]
            for _ in range(ROUNDS_OF_CORRECTION):
                run = self.run(size, self.order.counts, values, cutting)
                best = min(best, run, key=score)
                if len(best) <= least or self.effort.spent:
                    return best
                values = self._corrected(values, run)
        return best

    def run(self, size: int, counts: Counts, values: Sequence[float], cutting: Cutting) -> list[Filled]:
        """Fill sheet after sheet of one size until every piece lies."""
        sheets = []
        while any(counts):
            sheet = self.fill(size, counts, values, cutting)
            sheets.append(sheet)
            counts = minus(counts, sheet.used)
        return sheets

    def _corrected(self, values: Sequence[float], run: Sequence[Filled]) -> list[float]:
        """Pieces that lay on poorly filled sheets are worth more next time."""
        corrected = list(values)
        for at, kind in enumerate(self.order.kinds):
            poor = sum(sheet.used[at] / sheet.fill for sheet in run if sheet.used[at]) / kind.count
            wish = float(kind.area) * poor**1.5
            corrected[at] = 0.5 * corrected[at] + 0.5 * wish
        return corrected

    def ruin_and_recreate(self, sheets: list[Filled], least: int) -> list[Filled]:
        """Take a few sheets apart, emptiest first with some luck, and lay their pieces anew; keep what is no worse."""
        best = current = sheets
        now = score(current)
        random = self.effort.random
        while len(best) > least and not self.effort.spent:
            ruined = self._chosen(current)
            pool = total([current[at].used for at in ruined])
            rebuilt = self._recreate(pool, [current[at].size for at in ruined])
            if rebuilt is None:
                continue
            candidate = without(current, ruined) + rebuilt
            reached = score(candidate)
            if reached <= (now[0], now[1] + SLACK * random.random() ** 3):
                current, now = candidate, reached
                best = min(best, current, key=score)
        return best

    def _chosen(self, sheets: list[Filled]) -> list[int]:
        random = self.effort.random
        count = min(len(sheets), random.randint(2, MOST_RUINED))
        return sorted(range(len(sheets)), key=lambda at: sheets[at].fill + 0.35 * random.random())[:count]

    def _recreate(self, pool: Counts, sizes: Sequence[int]) -> list[Filled] | None:
        """The pool laid on at most those sheets, pieces valued anew at random; None where some are left."""
        values = self.noisy_values()
        rebuilt, left = self.fill_each(sizes, pool, values, self.effort.random.choice(self.cuttings))
        return None if any(left) else rebuilt

    def noisy_values(self) -> list[float]:
        """Values by area, with a random power and some noise on each."""
        random = self.effort.random
        power = random.uniform(0.9, 1.5)
        noise = random.choice((0.05, 0.15, 0.3))
        return [area**power * (1 + noise * random.uniform(-1, 1)) for area in self._areas]

    def fill_each(
        self, sizes: Sequence[int], pool: Counts, values: Sequence[float], cutting: Cutting
    ) -> tuple[list[Filled], Counts]:
        """Fill sheets of the given sizes one after another; what lies on them and what is left over."""
        sheets = []
        for size in sizes:
            if not any(pool):
                break
            sheet = self.fill(size, pool, values, cutting)
            if sheet.area:
                sheets.append(sheet)
            pool = minus(pool, sheet.used)
        return sheets, pool


def score(sheets: Sequence[Filled]) -> tuple[int, float]:
    """Fewer sheets first; then full ones and one that is nearly empty, rather than all alike."""
    return len(sheets), -sum(sheet.fill**2 for sheet in sheets)


def without(sheets: Sequence[Filled], places: Sequence[int]) -> list[Filled]:
    """The sheets but for those at the places."""
    return [sheet for at, sheet in enumerate(sheets) if at not in places]


def minus(counts: Counts, used: Counts) -> Counts:
    """What is left of the pieces on hand."""
    return tuple(map(sub, counts, used))


def total(every: Sequence[Counts]) -> Counts:
    """Pieces of several sheets together."""
    return tuple(map(sum, zip(*every, strict=True)))
