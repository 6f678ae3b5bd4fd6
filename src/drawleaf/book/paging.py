"""Which blocks share a page, and how large each is set: found over all pages at once, not one page at a time.

A block is a step or a part with its drawing. It stands whole on a page, in one of the forms that it offers (a high drawing, a low
one, one beside the words). Blocks keep their order.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

PAGE_COST = 100.0
"""What a page more costs, in the unit of the forms' own costs."""
THIN_PAGE = 60.0
"""What a page under a third full costs besides."""
SPREAD_COST = 300.0
"""What it costs to let a block run over to a second page."""
MOST_ON_A_PAGE = 5


@dataclass(frozen=True, slots=True)
class Form:
    """A way to set a block: its height in mm and how much worse than the best way it is."""

    name: str
    height: float
    cost: float


@dataclass(frozen=True, slots=True)
class Block:
    """Something that stands whole on a page. ``gap`` is the room in mm before a block that follows it."""

    forms: tuple[Form, ...]
    gap: float = 8.0


@dataclass(frozen=True, slots=True)
class Page:
    """Blocks ``first`` up to but not including ``end``, each in the form named."""

    first: int
    end: int
    forms: tuple[Form, ...]

    @property
    def overfull(self) -> bool:
        """Whether a block stands here that no page can hold."""
        return any(form.cost >= SPREAD_COST for form in self.forms)


def arrange(blocks: Sequence[Block], height: float, first_height: float | None = None) -> tuple[Page, ...]:
    """The pages with the least cost in all. ``height`` is the room on a page, ``first_height`` on the first one."""
    best: list[tuple[float, tuple[Page, ...]]] = [(0.0, ())]
    for end in range(1, len(blocks) + 1):
        found: list[tuple[float, tuple[Page, ...]]] = []
        for first in range(max(0, end - MOST_ON_A_PAGE), end):
            room = height if first or first_height is None else first_height
            forms = _forms(blocks[first:end], room, last=end == len(blocks))
            if forms is not None:
                cost, before = best[first]
                found.append((cost + forms[0], (*before, Page(first, end, forms[1]))))
        best.append(min(found, key=lambda one: one[0]))
    return best[-1][1]


def _forms(blocks: Sequence[Block], room: float, last: bool) -> tuple[float, tuple[Form, ...]] | None:
    """The best forms in which the blocks fit the room, with the cost of the page; None where they do not fit."""
    gaps = sum(block.gap for block in blocks[:-1])
    best: tuple[float, tuple[Form, ...]] | None = None
    for forms in product(*(block.forms for block in blocks)):
        filled = sum(form.height for form in forms) + gaps
        if filled > room:
            continue
        cost = PAGE_COST + sum(form.cost for form in forms)
        if filled < 0.36 * room and not last:
            cost += THIN_PAGE
        if best is None or cost < best[0] - 1e-9:
            best = (cost, forms)
    if best is None and len(blocks) == 1:
        lowest = min(blocks[0].forms, key=lambda form: form.height)
        return PAGE_COST * 2 + SPREAD_COST, (Form(lowest.name, lowest.height, SPREAD_COST),)
    return best
