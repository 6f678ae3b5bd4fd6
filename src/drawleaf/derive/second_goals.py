"""At the same sheets bought, a layout that is kinder to cut: fewer saw settings, fewer cuts, the offcut in one piece."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from drawleaf.derive.cut_order import CutPlan
from drawleaf.derive.guillotine import Cutting, Effort, Filled
from drawleaf.derive.packing import Fill, Order, Packer, total

# Rips before crosscuts, as far as the sheets allow it.
CUTTINGS = (Cutting.RIP_FIRST, Cutting.RIPS_CROSSCUTS, Cutting.CROSSCUTS_RIPS)
MOST_MOVES = 400
# What a setting, a cut and a whole sheet's worth of offcut weigh against each other: our own judgement.
SETTING, CUT, OFFCUT = 1.0, 0.5, 24.0


@dataclass(frozen=True, slots=True)
class Handling:
    """How much work a layout is."""

    settings: int
    cuts: int
    largest_offcut: int
    sheet: int

    @property
    def cost(self) -> float:
        return SETTING * self.settings + CUT * self.cuts - OFFCUT * self.largest_offcut / self.sheet


def handling(sheets: Sequence[Filled], plan_of: Callable[[Filled], CutPlan]) -> Handling:
    """Settings and cuts summed over the sheets, and the one largest offcut."""
    plans = [plan_of(sheet) for sheet in sheets]
    return Handling(
        sum(plan.settings for plan in plans),
        sum(len(plan.cuts) for plan in plans),
        max((plan.largest_leftover for plan in plans), default=0),
        max((sheet.sheet[0] * sheet.sheet[1] for sheet in sheets), default=1),
    )


def practical(
    sheets: list[Filled], plan_of: Callable[[Filled], CutPlan], order: Order, fill: Fill, effort: Effort
) -> list[Filled]:
    """Take one or two sheets apart again and again; keep what is easier to cut on sheets of the same sizes. Fullest sheets first."""
    known: dict[Filled, CutPlan] = {}

    def remembered(sheet: Filled) -> CutPlan:
        if sheet not in known:
            known[sheet] = plan_of(sheet)
        return known[sheet]

    packer = Packer(order, fill, effort, CUTTINGS)
    random = effort.random
    best = handling(sheets, remembered).cost if sheets else 0.0
    for _ in range(MOST_MOVES):
        if effort.spent:
            break
        chosen = random.sample(range(len(sheets)), min(len(sheets), random.randint(1, 2)))
        pool = total([sheets[at].used for at in chosen])
        sizes = [sheets[at].size for at in chosen]
        rebuilt, left = packer.fill_each(sizes, pool, packer.noisy_values(), random.choice(CUTTINGS))
        if any(left) or len(rebuilt) != len(sizes):
            continue
        changed = list(sheets)
        for at, sheet in zip(chosen, rebuilt, strict=True):
            changed[at] = sheet
        cost = handling(changed, remembered).cost
        if cost <= best:
            sheets, best = changed, cost
    return sorted(sheets, key=lambda sheet: (-sheet.sheet[0] * sheet.sheet[1], -sheet.fill))
