"""Which blocks share a page, and how large each is set: found over all pages at once, not one page at a time.

A block is a step or a part with its drawing. It stands whole on a page, in one of the forms that it offers (a high drawing, a low
one, one beside the words). Blocks keep their order.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import Literal

PAGE_COST = 1000.0
"""What a page more costs, in the unit of the forms' own costs: more than any forms that save one."""
FULL, THIN_PAGE = 0.7, 120.0
"""A page that is less full than this costs so much more as it would if it were empty."""
LONELY = 400.0
"""What a page costs besides that has only a few last words of a block."""
SPREAD_COST, TAIL_COST, CHECK_COST, BREAK_COST = 300.0, 60.0, 110.0, 200.0
"""What it costs to let a block run over to a second page, to let only its last words do so, its check with them, and to break it between
two of its actions, with its picture on both pages: four such breaks must save a page."""
MOST_ON_A_PAGE = 5
RUN_OVER = 14.0
"""What a block that is broken over two pages may take more, in mm: lines are kept together."""


@dataclass(frozen=True, slots=True)
class Way:
    """How a block is set: with which of its drawings, and whether that stands ``beside`` all of the words or the words begin beside
    it and run on below (``wraps``). ``tight``: the words are set closer. ``after_aside``: what follows the check stands below what one
    needs, at the right. ``needs_first``: what one needs stands above the words, and the drawing alone beside them; ``needs_across``: above all,
    in running lines over the whole width. ``wide_needs``: the column of what one needs is a wide one, where no drawing stands above it."""

    drawing: Literal["high", "low", "narrow"] | None
    beside: bool = False
    wraps: bool = False
    tight: bool = False
    after_aside: bool = False
    needs_first: bool = False
    needs_across: bool = False
    wide_needs: bool = False


@dataclass(frozen=True, slots=True)
class Form:
    """A way to set a block, its height in mm and how much worse than the best way it is."""

    way: Way
    height: float
    cost: float


@dataclass(frozen=True, slots=True)
class Broken:
    """A block broken between two of its actions: the forms of what stands before the page's turn, what the rest takes of the next page
    (mm), its picture there included, and how many actions stand before the turn."""

    forms: tuple[Form, ...]
    over: float
    upto: int


@dataclass(frozen=True, slots=True)
class Block:
    """Something that stands whole on a page. ``gap`` is the room in mm before a block that follows it.

    ``second`` is the height of what stands on the second page, for a block that knows how to part where no page can hold it.
    ``without_tail`` are its forms without its last words, which then take ``tail`` mm of the next page; ``without_check`` those without
    its check too, which with them takes ``check`` mm. ``broken`` are the places at which it may break between its actions.
    """

    forms: tuple[Form, ...]
    gap: float = 8.0
    second: float | None = None
    without_tail: tuple[Form, ...] = ()
    tail: float = 0.0
    without_check: tuple[Form, ...] = ()
    check: float = 0.0
    broken: tuple[Broken, ...] = ()


@dataclass(frozen=True, slots=True)
class Page:
    """Blocks ``first`` up to but not including ``end``, each in the form named.

    One that is ``overfull`` holds a single block that no page can hold: it runs over to the next page. One that is
    ``continued`` follows such a block on the page that it runs over to. The last block of one that is ``tailed`` stands on it but for
    its last words, which stand on the next page, where it is ``unchecked`` with its check; where it is broken between its actions,
    ``upto`` of them stand before the turn. ``begun`` mm of a page that is continued belong to the block before.
    """

    first: int
    end: int
    forms: tuple[Form, ...]
    overfull: bool = False
    continued: bool = False
    tailed: bool = False
    unchecked: bool = False
    upto: int = 0
    begun: float = 0.0


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
    found: list[_Plan] = []
    if before.over:
        left = room - before.over - blocks[first - 1].gap
        found += _filled(replace(before, cost=before.cost - PAGE_COST), blocks, first, end, left, continued=True)
    if not found:
        thin = _lonely(before.over, room) if before.over else 0.0
        fresh = replace(before, cost=before.cost + thin)
        found += _filled(fresh, blocks, first, end, room, continued=False)
        if end - first == 1 and not any(not plan.over for plan in found):
            found += _spread(fresh, blocks[first], first, room)
    return found


def _filled(
    before: _Plan, blocks: Sequence[Block], first: int, end: int, room: float, *, continued: bool
) -> Iterator[_Plan]:
    """A page with the blocks whole, with the last one but for its last words, with it but for its check too, and with it broken."""
    free = continued or end == len(blocks)
    inner, last = blocks[first : end - 1], blocks[end - 1]
    usual = Page(first, end, (), continued=continued, begun=before.over if continued else 0.0)
    partings = (
        (last.forms, 0.0, 0.0, usual),
        (last.without_tail, last.tail, TAIL_COST, replace(usual, tailed=True)),
        (last.without_check, last.check, CHECK_COST, replace(usual, tailed=True, unchecked=True)),
        *((one.forms, one.over, BREAK_COST, replace(usual, upto=one.upto)) for one in last.broken),
    )
    for forms, over, cost, page in partings:
        chosen = _forms((*inner, replace(last, forms=forms)), room, free) if forms else None
        if chosen is not None:
            begun = PAGE_COST if over else 0.0
            set_so = replace(page, forms=chosen[1])
            yield _Plan(before.cost + chosen[0] + cost + begun, (*before.pages, set_so), over)


def _spread(before: _Plan, block: Block, first: int, room: float) -> Iterator[_Plan]:
    """A block that no page holds, over two pages."""
    lowest = min(block.forms, key=lambda form: form.height)
    page = Page(first, first + 1, (lowest,), overfull=True)
    over = lowest.height - room + RUN_OVER if block.second is None else block.second
    yield _Plan(before.cost + 2 * PAGE_COST + SPREAD_COST, (*before.pages, page), over)


def _thinness(filled: float, room: float) -> float:
    return THIN_PAGE * max(0.0, FULL - filled / room)


def _lonely(over: float, room: float) -> float:
    """What it costs where nothing follows what runs over to a page."""
    return _thinness(over, room) + (LONELY if over < room / 3 else 0.0)


def _useful(forms: Sequence[Form]) -> list[Form]:
    """The forms without those that are neither lower nor better than another."""
    found: list[Form] = []
    for form in sorted(forms, key=lambda form: (form.cost, form.height)):
        if not found or form.height < found[-1].height:
            found.append(form)
    return found


def _forms(blocks: Sequence[Block], room: float, last: bool) -> tuple[float, tuple[Form, ...]] | None:
    """The best forms in which the blocks fit the room, with the cost of the page; None where they do not fit."""
    gaps = sum(block.gap for block in blocks[:-1])
    best: tuple[float, tuple[Form, ...]] | None = None
    least = sum(min(form.height for form in block.forms) for block in blocks) + gaps
    choices = product(*(_useful(block.forms) for block in blocks)) if least <= room else ()
    for forms in choices:
        filled = sum(form.height for form in forms) + gaps
        if filled > room:
            continue
        cost = PAGE_COST + sum(form.cost for form in forms)
        cost += 0.0 if last else _thinness(filled, room)
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
