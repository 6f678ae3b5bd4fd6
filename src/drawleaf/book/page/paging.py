"""Which blocks share a page, and how large each is set: found over all pages at once, not one page at a time.

A block is a step or a part with its drawing. It stands whole on a page, in one of the forms that it offers (a high drawing, a low
one, one beside the words). Blocks keep their order.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product
from typing import Literal

PAGE_COST = 100.0
"""What a page more costs, in the unit of the forms' own costs."""
THIN_PAGE = 60.0
"""What a page under a third full costs besides."""
SPREAD_COST, TAIL_COST = 300.0, 250.0
"""What it costs to let a block run over to a second page, and to let only its last words do so."""
MOST_ON_A_PAGE = 5
RUN_OVER = 14.0
"""What a block that is broken over two pages may take more, in mm: lines are kept together."""


@dataclass(frozen=True, slots=True)
class Way:
    """How a block is set: with which of its drawings, and whether that stands ``beside`` all of the words or the words begin beside
    it and run on below (``wraps``). ``tight``: the words are set closer."""

    drawing: Literal["high", "low", "narrow"] | None
    beside: bool = False
    wraps: bool = False
    tight: bool = False


@dataclass(frozen=True, slots=True)
class Form:
    """A way to set a block, its height in mm and how much worse than the best way it is."""

    way: Way
    height: float
    cost: float


@dataclass(frozen=True, slots=True)
class Block:
    """Something that stands whole on a page. ``gap`` is the room in mm before a block that follows it.

    ``second`` is the height of what stands on the second page, for a block that knows how to part where no page can hold it.
    ``without_tail`` are its forms without its last words, which then take ``tail`` mm of the next page.
    """

    forms: tuple[Form, ...]
    gap: float = 8.0
    second: float | None = None
    without_tail: tuple[Form, ...] = ()
    tail: float = 0.0


@dataclass(frozen=True, slots=True)
class Page:
    """Blocks ``first`` up to but not including ``end``, each in the form named.

    One that is ``overfull`` holds a single block that no page can hold: it runs over to the next page. One that is
    ``continued`` follows such a block on the page that it runs over to. One that is ``tailed`` holds a single block but for its
    last words, which stand on the next page.
    """

    first: int
    end: int
    forms: tuple[Form, ...]
    overfull: bool = False
    continued: bool = False
    tailed: bool = False


@dataclass(frozen=True, slots=True)
class _Plan:
    """The best pages so far; ``over`` mm of the last block stand on a page that has been begun."""

    cost: float
    pages: tuple[Page, ...]
    over: float = 0.0


def arrange(blocks: Sequence[Block], height: float, first_height: float | None = None) -> tuple[Page, ...]:
    """The pages with the least cost in all. ``height`` is the room on a page, ``first_height`` on the first one."""
    best = [[_Plan(0.0, ())]]
    for end in range(1, len(blocks) + 1):
        found: list[_Plan] = []
        for first in range(max(0, end - MOST_ON_A_PAGE), end):
            room = height if first or first_height is None else first_height
            for before in best[first]:
                found += _extended(before, blocks, first, end, room)
        best.append(_cheapest(found))
    return min(best[-1], key=lambda plan: plan.cost).pages


def _cheapest(plans: Sequence[_Plan]) -> list[_Plan]:
    """The cheapest of the plans that leave as much of the next page: what follows says which is best."""
    found: dict[float, _Plan] = {}
    for plan in plans:
        if plan.over not in found or plan.cost < found[plan.over].cost:
            found[plan.over] = plan
    return list(found.values())


def _extended(before: _Plan, blocks: Sequence[Block], first: int, end: int, room: float) -> list[_Plan]:
    """The plan with one page more, where the blocks fit on it; each way in which they can stand there."""
    last = end == len(blocks)
    if before.over:
        left = room - before.over - blocks[first - 1].gap
        forms = _forms(blocks[first:end], left, True)
        if forms is not None:
            page = Page(first, end, forms[1], continued=True)
            return [_Plan(before.cost + forms[0] - PAGE_COST, (*before.pages, page))]
    forms = _forms(blocks[first:end], room, last)
    thin = THIN_PAGE if 0 < before.over < 0.36 * room else 0.0
    if forms is not None:
        return [_Plan(before.cost + thin + forms[0], (*before.pages, Page(first, end, forms[1])))]
    return _parted(before, blocks[first], first, room, thin) if end - first == 1 else []


def _parted(before: _Plan, block: Block, first: int, room: float, thin: float) -> list[_Plan]:
    """The ways to set a block that no page holds: over two pages, or with its last words on the next one."""
    lowest = min(block.forms, key=lambda form: form.height)
    cost = before.cost + thin + 2 * PAGE_COST
    page = Page(first, first + 1, (lowest,), overfull=True)
    over = lowest.height - room + RUN_OVER if block.second is None else block.second
    found = [_Plan(cost + SPREAD_COST, (*before.pages, page), over)]
    for form in block.without_tail:
        if form.height <= room:
            page = Page(first, first + 1, (form,), tailed=True)
            found.append(_Plan(cost + TAIL_COST + form.cost, (*before.pages, page), block.tail))
    return found


def _forms(blocks: Sequence[Block], room: float, last: bool) -> tuple[float, tuple[Form, ...]] | None:
    """The best forms in which the blocks fit the room, with the cost of the page; None where they do not fit."""
    gaps = sum(block.gap for block in blocks[:-1])
    best: tuple[float, tuple[Form, ...]] | None = None
    least = sum(min(form.height for form in block.forms) for block in blocks) + gaps
    choices = product(*(block.forms for block in blocks)) if least <= room else ()
    for forms in choices:
        filled = sum(form.height for form in forms) + gaps
        if filled > room:
            continue
        cost = PAGE_COST + sum(form.cost for form in forms)
        if filled < 0.36 * room and not last:
            cost += THIN_PAGE
        if best is None or cost < best[0] - 1e-9:
            best = (cost, forms)
    return best


FARTHEST = 14
HALF_FULL = 0.6
"""A page that would be less full than this takes blocks from farther off, up to ``FARTHEST``."""


def gather_on_pages(
    heights: Sequence[float], room: float, first_room: float, gap: float = 7.0, reach: int = 9
) -> tuple[tuple[int, ...], ...]:
    """Blocks shared out so that pages are full: each page begins with the first block not yet placed, and takes from the next
    ``reach`` those that fill it best, in their order. A block higher than a page stands alone."""
    left = list(range(len(heights)))
    pages: list[tuple[int, ...]] = []
    while left:
        space = room if pages else first_room
        first = left[0]
        offers = [(place, heights[place] + gap) for place in left[1 : 1 + FARTHEST]]
        rest = _fullest(offers[:reach], space - heights[first])
        if heights[first] + sum(heights[place] + gap for place in rest) < HALF_FULL * space:
            rest = _fullest(offers, space - heights[first])
        pages.append((first, *rest))
        left = [place for place in left if place not in pages[-1]]
    return tuple(pages)


REACHES = (1, 2, 4, 9)


def in_order_on_pages(
    heights: Sequence[float], room: float, first_room: float, gap: float = 7.0
) -> tuple[tuple[int, ...], ...]:
    """Blocks shared out over the fewest pages, and of the ways that take as few, the one that disturbs their order least."""
    ways = (gather_on_pages(heights, room, first_room, gap, reach) for reach in REACHES)
    return min(ways, key=lambda pages: (len(pages), _out_of_turn([place for page in pages for place in page])))


def _out_of_turn(order: Sequence[int]) -> int:
    """How many pairs stand the wrong way round."""
    return sum(first > later for place, first in enumerate(order) for later in order[place + 1 :])


def _fullest(offers: Sequence[tuple[int, float]], space: float) -> tuple[int, ...]:
    """Of all choices that fit the space, the one that fills it most; the earliest of equals."""
    best: tuple[float, tuple[int, ...]] = (0.0, ())
    choices: list[tuple[float, tuple[int, ...]]] = [(0.0, ())]
    for place, height in offers:
        more = [(used + height, (*chosen, place)) for used, chosen in choices if used + height <= space]
        choices += more
        for choice in more:
            if choice[0] > best[0] + 2.0:
                best = choice
    return best[1]
