"""At the same sheets bought, a layout that is kinder to cut: fewer saw settings, fewer cuts, the offcut in one piece."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from drawleaf.derive.layout.cut_order import CutPlan
from drawleaf.derive.layout.search.guillotine import Cutting, Effort, Filled, Tidy
from drawleaf.derive.layout.search.packing import Order, Packer, total
from drawleaf.derive.layout.search.sheet_filling import sheet_filler

# Rips before crosscuts, as far as the sheets allow it.
CUTTINGS = (Cutting.RIP_FIRST, Cutting.RIPS_CROSSCUTS, Cutting.CROSSCUTS_RIPS)
# Where a straightedge is too short for the first rip: sheets are crosscut first.
SHORT_CUTTINGS = (Cutting.CROSSCUT_FIRST, Cutting.CROSSCUTS_RIPS)
MOST_MOVES = 6000
# A few pieces lie on a sheet in a few ways: after so many moves in a row that gave no new filling of a sheet, more would go round in circles.
MOST_STALE_MOVES = 300
# Ways to look for tidy sheets, tried by turns: few settings, few cuts, waste in one piece, some of each.
WISHES = (
    Tidy(0.01, 0.002, 0.0),
    Tidy(0.003, 0.003, 0.3),
    Tidy(0.0, 0.0, 0.5),
    Tidy(0.02, 0.005, 0.2),
)


@dataclass(frozen=True, slots=True)
class Handling:
    """How much work a layout is: settings and cuts summed over the sheets, and the one largest offcut."""

    settings: int
    cuts: int
    largest_offcut: int

    def gain_over(self, first: Handling) -> float:
        """How much better than ``first``: the mean of what is saved of its settings, of its cuts, and what the largest offcut gains, the last as
        a share of the larger of both. Zero for no change, below zero for worse."""
        larger = max(self.largest_offcut, first.largest_offcut)
        return (
            1
            - self.settings / max(first.settings, 1)
            + 1
            - self.cuts / max(first.cuts, 1)
            + ((self.largest_offcut - first.largest_offcut) / larger if larger else 0.0)
        ) / 3


def handling(sheets: Sequence[Filled], plan_of: Callable[[Filled], CutPlan]) -> Handling:
    """Settings and cuts summed over the sheets, and the one largest offcut."""
    return _together([_of_one(plan_of(sheet)) for sheet in sheets])


def _of_one(plan: CutPlan) -> Handling:
    return Handling(plan.settings, len(plan.cuts), plan.largest_leftover)


def _together(sheets: Sequence[Handling]) -> Handling:
    return Handling(
        sum([sheet.settings for sheet in sheets]),
        sum([sheet.cuts for sheet in sheets]),
        max([sheet.largest_offcut for sheet in sheets], default=0),
    )


def practical(
    sheets: list[Filled],
    plan_of: Callable[[Filled], CutPlan],
    order: Order,
    effort: Effort,
    cuttings: Sequence[Cutting] = CUTTINGS,
) -> list[Filled]:
    """Take a few sheets apart again and again; keep what is easier to cut on sheets of the same sizes. Fullest sheets first."""
    if not sheets:
        return sheets
    tidier = _Tidier(order, plan_of, effort, sheets, cuttings)
    known = stale = 0
    for move in range(MOST_MOVES):
        if effort.spent or stale == MOST_STALE_MOVES:
            break
        tidier.move(move)
        stale = stale + 1 if len(tidier.known) == known else 0
        known = len(tidier.known)
    return sorted(tidier.sheets, key=lambda sheet: (-sheet.sheet[0] * sheet.sheet[1], -sheet.fill))


class _Tidier:
    def __init__(
        self,
        order: Order,
        plan_of: Callable[[Filled], CutPlan],
        effort: Effort,
        sheets: list[Filled],
        cuttings: Sequence[Cutting],
    ) -> None:
        self.cuttings = cuttings
        self.effort = effort
        self.plan_of = plan_of
        self.known: dict[Filled, Handling] = {}
        # Filled sheets come back as the same objects again and again: by those they are found without being compared.
        self.met: dict[int, tuple[Filled, Handling]] = {}
        self.packers = [Packer(order, sheet_filler(order, effort, tidy=wish), effort, cuttings) for wish in WISHES]
        self.sheets = sheets
        self.first = _together([self._handling(sheet) for sheet in sheets])
        self.best = 0.0

    def _handling(self, sheet: Filled) -> Handling:
        met = self.met.get(id(sheet))
        if met is None:
            known = self.known.get(sheet)
            if known is None:
                known = self.known[sheet] = _of_one(self.plan_of(sheet))
            met = self.met[id(sheet)] = (sheet, known)
        return met[1]

    def move(self, turn: int) -> None:
        """Lay the pieces of one to three sheets anew; keep the result if it is no worse."""
        random = self.effort.random
        packer = self.packers[turn % len(self.packers)]
        chosen = self._chosen()
        pool = total([self.sheets[at].used for at in chosen])
        sizes = [self.sheets[at].size for at in chosen]
        rebuilt, left = packer.fill_each(sizes, pool, packer.noisy_values(), random.choice(self.cuttings))
        if any(left) or len(rebuilt) != len(sizes):
            return
        changed = list(self.sheets)
        for at, sheet in zip(chosen, rebuilt, strict=True):
            changed[at] = sheet
        gain = _together([self._handling(sheet) for sheet in changed]).gain_over(self.first)
        if gain >= self.best:
            self.sheets, self.best = changed, gain

    def _chosen(self) -> list[int]:
        """One sheet as often as several; of several often the emptiest, where the large offcut is made."""
        random = self.effort.random
        places = range(len(self.sheets))
        count = min(len(self.sheets), random.choice((1, 1, 2, 2, 3)))
        chosen = random.sample(places, count)
        often = random.random() < 0.3
        if len(chosen) == len(self.sheets) == 1:
            return chosen
        fills = [sheet.fill for sheet in self.sheets]
        emptiest = min(places, key=lambda at: fills[at])
        if often and emptiest not in chosen:
            chosen[-1] = emptiest
        return sorted(chosen, key=lambda at: (-fills[at], at))
