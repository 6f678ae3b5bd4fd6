"""Sheets: every part of sheet stock laid out by edge-to-edge cuts on the sheets that cost least."""

from __future__ import annotations

from collections.abc import Container, Sequence
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache

from drawleaf.cache import NOTHING_KEPT, Kept
from drawleaf.derive.layout.laying import Layer, Margins, Sawing, Scale, Wanted, gather, matched_sets, told_of
from drawleaf.derive.layout.same_stock import bought_together
from drawleaf.derive.layout.search.bounds import least_sheets
from drawleaf.derive.layout.search.guillotine import Cutting, Effort, Filled, Kind
from drawleaf.derive.layout.search.packing import ALL_CUTTING, Order, Packer
from drawleaf.derive.layout.search.sheet_filling import sheet_filler
from drawleaf.derive.layout.search.stock_choice import Offer, cheapest
from drawleaf.derive.layout.second_goals import CUTTINGS, SHORT_CUTTINGS, practical
from drawleaf.derive.layout.stock_misfits import set_misfit, sheet_misfit
from drawleaf.derive.shop.limits import ShopLimits, shop_limits
from drawleaf.model.catalogue import SheetSize, Stock
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.lists import CutList, SheetLayout, StockNeed
from drawleaf.model.plan import Plan
from drawleaf.units import Length, LengthFormat

# Search nodes for one stock: about 0.3 s of work here; most orders stop at the bound long before.
EFFORT = 60_000
# How much dearer than it is a smaller sheet counts, so that it is bought only where it is clearly cheaper: our own judgement.
CLEARLY = Fraction(11, 10)
# A smaller sheet of unknown price is taken to cost a quarter more for its area: common practice, no source.
SMALL_SHEET_RATE = Fraction(5, 4)
SEARCHES_KEPT = 128
"""Orders of which the layout found is kept, in a process that works out several plans."""


def lay_sheets(
    plan: Plan, cut_list: CutList, *, tidy: bool = True, kept: Kept = NOTHING_KEPT
) -> tuple[list[SheetLayout], list[StockNeed], list[Diagnostic]]:
    """Layouts of all sheet stocks, numbered through, with what to buy; an error for each part that no sheet can give."""
    layouts: list[SheetLayout] = []
    needs: list[StockNeed] = []
    problems: list[Diagnostic] = []
    margins = Margins(plan.making.sheet_trim, plan.making.sheet_trim, plan.making.kerf)
    for bought in bought_together(plan.stocks):
        stock = bought.stock
        wanted = _wanted(cut_list, bought.ids)
        if not stock.sheets or not wanted:
            continue
        rare = [sheet for sheet in stock.sheets if sheet.uncommon]
        stock = _offered(stock)
        misfits = [problem for piece in wanted if (problem := sheet_misfit(piece, stock, margins, plan.lengths, rare))]
        usable = [margins.usable(sheet.length, sheet.width) for sheet in stock.sheets]
        misfits += sets_too_large(wanted, usable, margins, plan.lengths)
        if misfits:
            problems += misfits
            continue
        laid, need = _laid(stock, wanted, margins, shop_limits(plan), len(layouts) + 1, tidy, kept)
        layouts += laid
        needs.append(need)
    return layouts, needs, problems


def _offered(stock: Stock) -> Stock:
    """The stock without the sheets that few stores keep, unless the author takes them or there are no others."""
    usual = tuple(sheet for sheet in stock.sheets if not sheet.uncommon)
    return stock if stock.uncommon or not usual else replace(stock, sheets=usual)


def _laid(
    stock: Stock, wanted: list[Wanted], margins: Margins, shop: ShopLimits, first: int, tidy: bool, kept: Kept
) -> tuple[list[SheetLayout], StockNeed]:
    """From what is kept, if the order is as it was. A tidy layout that is at hand serves for a first one too."""
    pieces = [told_of(piece) for piece in wanted]
    order = (stock, pieces, margins, shop, first)
    tidy = tidy or kept.holds("tidy layout", order)
    kind = "tidy layout" if tidy else "first layout"
    return kept.get(kind, order, lambda: _lay_stock(stock, wanted, margins, shop, first, tidy))


def _wanted(cut_list: CutList, stocks: Container[str]) -> list[Wanted]:
    return [
        Wanted(part, item.number, item.name, None, *part.rough, part.grain is None)
        for item in cut_list.items
        if item.stock.id in stocks
        for part in item.parts
    ]


def sets_too_large(
    wanted: list[Wanted], usable: list[tuple[Length, Length]], margins: Margins, lengths: LengthFormat
) -> list[Diagnostic]:
    return [
        problem
        for along, members in matched_sets(wanted)
        if (problem := set_misfit(along, members, usable, margins.kerf, lengths)) is not None
    ]


def _lay_stock(
    stock: Stock, wanted: list[Wanted], margins: Margins, shop: ShopLimits, first_number: int, tidy: bool
) -> tuple[list[SheetLayout], StockNeed]:
    scale = Scale.for_lengths(
        [
            *(side for piece in wanted for side in (piece.length, piece.width)),
            *(side for sheet in stock.sheets for side in (sheet.length, sheet.width)),
            margins.edge,
            margins.kerf,
        ]
    )
    kerf = scale.whole(margins.kerf)
    gathered = gather(wanted, scale, kerf)
    sizes = tuple(
        (scale.whole(length) + kerf, scale.whole(width) + kerf)
        for length, width in (margins.usable(sheet.length, sheet.width) for sheet in stock.sheets)
    )
    order = Order(gathered.kinds, sizes)
    prices = [price * _weight(sheet, stock) for sheet, price in zip(stock.sheets, prices_of(stock.sheets), strict=True)]
    offers = [Offer(price, least_of_size(size, gathered.kinds)) for price, size in zip(prices, sizes, strict=True)]
    short = shop.straightedge is not None and any(sheet.length > shop.straightedge for sheet in stock.sheets)
    sheets = _cheapest(order, tuple(offers), Cutting.CROSSCUT_FIRST if short else Cutting.RIP_FIRST)
    load = stock.thickness.mm / 1000 * stock.material.density
    layer = Layer(gathered, scale, margins, board=False, shop=shop, load=load, crosscuts_first=short)
    if tidy:
        sheets = _tidied(sheets, layer.sawing, order, SHORT_CUTTINGS if short else CUTTINGS)
    layouts = []
    for number, filled in enumerate(sheets, first_number):
        sheet = stock.sheets[filled.size]
        laid = layer.lay(filled, (sheet.length, sheet.width))
        layouts.append(SheetLayout(number, stock, sheet, laid.placed, laid.cuts, laid.offcuts, laid.used))
    least = least_of_size(envelope(sizes), gathered.kinds)
    return layouts, StockNeed(stock, _bought(layouts), least, None, _substitute(layouts, order, sheets, stock))


def _weight(sheet: SheetSize, stock: Stock) -> Fraction:
    """A smaller sheet is taken only where it is clearly cheaper: every store has whole ones."""
    return Fraction(1) if sheet == _whole_sheet(stock) else CLEARLY


def _whole_sheet(stock: Stock) -> SheetSize:
    usual = [sheet for sheet in stock.sheets if not sheet.uncommon] or list(stock.sheets)
    return max(usual, key=lambda sheet: sheet.length.exact_mm * sheet.width.exact_mm)


def _substitute(
    layouts: list[SheetLayout], order: Order, sheets: Sequence[Filled], stock: Stock
) -> tuple[SheetSize, None, int] | None:
    """How many whole sheets do where no others are in stock: what is used of each smaller sheet is cut from whole ones as one piece."""
    whole = _whole_sheet(stock)
    at = stock.sheets.index(whole)
    small = [filled for layout, filled in zip(layouts, sheets, strict=True) if layout.sheet != whole]
    if not small:
        return None
    kinds = tuple(
        Kind(
            max(piece.x + piece.length for piece in filled.pieces),
            max(piece.y + piece.width for piece in filled.pieces),
            1,
            False,
        )
        for filled in small
    )
    if any(kind.length > order.sizes[at][0] or kind.width > order.sizes[at][1] for kind in kinds):
        return None
    blanks = Order(kinds, (order.sizes[at],))
    effort = Effort(EFFORT // 10)
    packed = Packer(blanks, sheet_filler(blanks, effort), effort, ALL_CUTTING).few_sheets(0, 1)
    return whole, None, len(packed) + len(layouts) - len(small)


@lru_cache(maxsize=SEARCHES_KEPT)
def _tidied(
    sheets: tuple[Filled, ...], sawing: Sawing, order: Order, cuttings: tuple[Cutting, ...]
) -> tuple[Filled, ...]:
    """The same pieces so that they are easier to cut. Kept, as the sheets themselves are."""
    return tuple(practical(list(sheets), sawing.plan, order, Effort(EFFORT), cuttings))


@lru_cache(maxsize=SEARCHES_KEPT)
def _cheapest(order: Order, offers: tuple[Offer, ...], first: Cutting) -> tuple[Filled, ...]:
    """Cut ``first`` the way that a person with that straightedge works: full-length rips, or crosscuts where it is short of those. Other
    ways of cutting only where they save money or a sheet. Kept: editions of a plan and other ways to build it mostly want the same pieces."""
    effort = Effort(EFFORT // 2)
    handy = cheapest(order, offers, sheet_filler(order, effort), effort, (first,))
    if rank(handy, offers) <= _floor(order, offers):
        return tuple(handy)
    effort = Effort(EFFORT)
    free = cheapest(order, offers, sheet_filler(order, effort), effort, ALL_CUTTING)
    return tuple(free if rank(free, offers) < rank(handy, offers) else handy)


def rank(sheets: Sequence[Filled], offers: Sequence[Offer]) -> tuple[Fraction, int]:
    """Cost, then count."""
    return sum((offers[sheet.size].price for sheet in sheets), Fraction(0)), len(sheets)


def _floor(order: Order, offers: Sequence[Offer]) -> tuple[Fraction, int]:
    """Cost and count that no layout beats: exact for one size, by area for several."""
    fewest = least_of_size(envelope(order.sizes), order.kinds) or 1
    if len(offers) == 1:
        return offers[0].price * fewest, fewest
    wanted = sum(kind.area * kind.count for kind in order.kinds)
    rate = min(offer.price / (size[0] * size[1]) for offer, size in zip(offers, order.sizes, strict=True))
    return max(wanted * rate, min(offer.price for offer in offers)), fewest


def envelope(sizes: Sequence[tuple[int, int]]) -> tuple[int, int]:
    """The smallest rectangle that holds each size on offer: what cannot be done with so many of these cannot be done at all."""
    return max(length for length, _ in sizes), max(width for _, width in sizes)


def least_of_size(size: tuple[int, int], kinds: Sequence[Kind]) -> int | None:
    """The proven least count of sheets of one size; None where a piece does not fit it."""
    long, wide = size
    for kind in kinds:
        if not any(along <= long and across <= wide for along, across, _ in kind.ways):
            return None
    return least_sheets(size, kinds)


def prices_of(sheets: Sequence[SheetSize]) -> list[Fraction]:
    """The price of each size; where one is not known, by area at the best known rate, small sheets a little dearer."""
    areas = [sheet.length.exact_mm * sheet.width.exact_mm for sheet in sheets]
    rates = [sheet.price / area for sheet, area in zip(sheets, areas, strict=True) if sheet.price is not None]
    rate = min(rates, default=Fraction(1, 10_000))
    largest = max(areas)
    return [
        sheet.price if sheet.price is not None else rate * area * (1 if area == largest else SMALL_SHEET_RATE)
        for sheet, area in zip(sheets, areas, strict=True)
    ]


def _bought(layouts: list[SheetLayout]) -> tuple[tuple[SheetSize, None, int], ...]:
    counts: dict[SheetSize, int] = {}
    for layout in layouts:
        counts[layout.sheet] = counts.get(layout.sheet, 0) + 1
    return tuple((sheet, None, count) for sheet, count in counts.items())
