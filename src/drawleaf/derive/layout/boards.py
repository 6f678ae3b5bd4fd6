"""Boards: parts and the strips of glue-ups crosscut, and ripped where they are narrower, from the lengths that cost least."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache, partial

from drawleaf.cache import NOTHING_KEPT, Kept
from drawleaf.derive.layout.laying import Gathered, Layer, Margins, Scale, Wanted, gather, told_of
from drawleaf.derive.layout.resawing import is_resawn, leaves_of, rest_of
from drawleaf.derive.layout.same_stock import bought_together
from drawleaf.derive.layout.search.board_filling import board_filler
from drawleaf.derive.layout.search.bounds import least_boards
from drawleaf.derive.layout.search.cutting_stock import few_boards
from drawleaf.derive.layout.search.guillotine import Cutting, Effort, Filled, Kind
from drawleaf.derive.layout.search.packing import Fill, Order, Packer
from drawleaf.derive.layout.search.sheet_filling import sheet_filler
from drawleaf.derive.layout.search.stock_choice import Offer, cheapest
from drawleaf.derive.layout.sheets import SEARCHES_KEPT, envelope, least_of_size, rank, sets_too_large
from drawleaf.derive.layout.stock_misfits import board_misfit, thinner_than_board
from drawleaf.derive.shop.limits import ShopLimits, shop_limits
from drawleaf.model.catalogue import BoardSize, Stock
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.lists import BoardLayout, CutItem, CutList, StockNeed
from drawleaf.model.plan import Plan
from drawleaf.setting_out.mitres import mitre_waste
from drawleaf.units import ZERO, Length
from drawleaf.units.measures import convert

EFFORT = 60_000
# Crosscut to rough length, then rip: short pieces are safer to rip. Full-length rips only where strips lie side by side all along.
CUTTINGS = (Cutting.CROSSCUTS_RIPS, Cutting.CROSSCUT_FIRST, Cutting.RIP_FIRST)
# The longest board that every store keeps and a car carries: common practice, no source.
USUAL_LENGTH = Length.of_inches(96)


@dataclass(frozen=True, slots=True)
class _Size:
    """A board at one of its lengths."""

    board: BoardSize
    length: Length
    price: Fraction | None


def lay_boards(
    plan: Plan, cut_list: CutList, *, kept: Kept = NOTHING_KEPT
) -> tuple[list[BoardLayout], list[StockNeed], list[Diagnostic]]:
    """Layouts of all board stocks, numbered through, with what to buy; an error for each part that no board can give."""
    layouts: list[BoardLayout] = []
    needs: list[StockNeed] = []
    problems: list[Diagnostic] = []
    for bought in bought_together(plan.stocks):
        stock = bought.stock
        wanted = [
            piece
            for item in cut_list.items
            if item.stock.id in bought.ids
            for piece in _wanted(item, plan.making.jointing)
        ]
        boards = tuple(_measured(board, stock) for board in stock.boards if board.lengths)
        margins = Margins(plan.making.end_trim, ZERO, plan.making.kerf, stock.defects)
        if not boards or not wanted:
            continue
        unplaned = thinner_than_board(stock, boards, wanted[0].part, shop_limits(plan), plan.lengths)
        if unplaned is not None:
            problems.append(unplaned)
            continue
        misfits = [
            problem for piece in wanted if (problem := board_misfit(piece, stock, boards, margins, plan.lengths))
        ]
        usable = [margins.usable(length, board.width) for board in boards for length in board.lengths]
        misfits += sets_too_large(wanted, usable, margins, plan.lengths)
        if misfits:
            # One error a part: the strips of a panel all share it.
            problems += list({problem.position: problem for problem in misfits}.values())
            continue
        order = (stock, boards, wanted, margins, shop_limits(plan), len(layouts) + 1)
        told = (stock, boards, [told_of(piece) for piece in wanted], *order[3:])
        laid, need = kept.get("board layout", told, partial(_lay_stock, *order))
        layouts += laid
        needs.append(need)
    return layouts, needs, problems


def _measured(board: BoardSize, stock: Stock) -> BoardSize:
    """The board at the width that the plan measured."""
    if stock.width is None or stock.width == board.width:
        return board
    return replace(board, width=stock.width)


def _wanted(item: CutItem, jointing: Length) -> list[Wanted]:
    """A part as one piece; a glue-up as its strips, longer by the extra at each end, wider by what is planed off each edge."""
    pieces = []
    for part in item.parts:
        if part.glue_up is None:
            length, width = part.rough
            pieces.append(Wanted(part, item.number, item.name, None, length + mitre_waste(part), width, False))
            continue
        rough = item.length + part.glue_up.extra * 2
        wide = part.glue_up.strip_width + jointing * 2
        pieces += [
            Wanted(part, item.number, item.name, strip, rough, wide, False)
            for strip in range(1, part.glue_up.strips + 1)
        ]
    return pieces


def _lay_stock(
    stock: Stock,
    boards: tuple[BoardSize, ...],
    wanted: list[Wanted],
    margins: Margins,
    shop: ShopLimits,
    first_number: int,
) -> tuple[list[BoardLayout], StockNeed]:
    sizes = [
        _Size(board, length, price)
        for board in boards
        for length, price in zip(board.lengths, board.prices, strict=True)
        if margins.usable(length, board.width)[0] > ZERO
    ]
    lengths = [side for piece in wanted for side in (piece.length, piece.width)]
    lengths += [side for size in sizes for side in (*margins.usable(size.length, size.board.width), size.length)]
    scale = Scale.for_lengths([*lengths, margins.end, margins.kerf])
    kerf = scale.whole(margins.kerf)
    gathered = gather(wanted, scale, kerf)
    room = [margins.usable(size.length, size.board.width) for size in sizes]
    order = Order(
        gathered.kinds, tuple((scale.whole(length) + kerf, scale.whole(width) + kerf) for length, width in room)
    )
    prices = _prices(sizes)
    side_by_side = _may_lie_side_by_side(order)
    least = _least_of_all(order, side_by_side)
    offers = [
        Offer(price, _least(size, gathered, side_by_side)) for price, size in zip(prices, order.sizes, strict=True)
    ]
    chosen = sorted(_chosen(order, tuple(offers), side_by_side), key=lambda filled: (-filled.sheet[0], -filled.fill))
    layer = Layer(gathered, scale, margins, board=True, shop=shop)
    layouts = []
    for number, filled in enumerate(chosen, first_number):
        size = sizes[filled.size]
        laid = layer.lay(filled, (size.length, size.board.width))
        layouts.append(
            BoardLayout(number, stock, size.board, size.length, laid.placed, laid.cuts, laid.offcuts, laid.used)
        )
    leaves = leaves_of(stock, boards, shop)
    if is_resawn(stock, boards, shop):
        layouts = _resawn(layouts, leaves)
        least = None if least is None else -(-least // leaves)
    first = sizes[0].board
    measure = _random_measure(layouts, wanted, leaves) if first.random_widths else None
    feet = measure if first.by_the_foot else _board_feet(layouts)
    metres = None if first.by_the_foot else measure
    substitute = _substitute(layouts, kerf, scale, margins) if leaves == 1 else None
    return layouts, StockNeed(stock, _bought(layouts), least, feet, substitute, metres)


def _resawn(layouts: Sequence[BoardLayout], leaves: int) -> list[BoardLayout]:
    """Boards of one size in groups of so many, which are sawn from one; the last group may be smaller."""
    groups: list[list[BoardLayout]] = []
    for layout in layouts:
        last = groups[-1] if groups else []
        if last and len(last) < leaves and (last[0].board, last[0].length) == (layout.board, layout.length):
            last.append(layout)
        else:
            groups.append([layout])
    return [
        replace(layout, leaf=leaf, leaves=len(group), rest=rest_of(layout.stock, layout.board, len(group)))
        for group in groups
        for leaf, layout in enumerate(group, start=1)
    ]


def bought_boards(layouts: Iterable[BoardLayout]) -> list[BoardLayout]:
    """One layout for each board that is bought: of those that are resawn from one, the first."""
    return [layout for layout in layouts if layout.leaf == 1]


def _substitute(
    layouts: list[BoardLayout], kerf: int, scale: Scale, margins: Margins
) -> tuple[BoardSize, Length, int] | None:
    """How many boards of the usual length do where no others are in stock; what is used of each board stays together."""
    board = layouts[0].board
    usual = max((length for length in board.lengths if length <= USUAL_LENGTH), default=None)
    if usual is None or board.random_widths or board.name not in {layout.board.name for layout in layouts}:
        return None
    others = [layout for layout in layouts if layout.length != usual or layout.board != board]
    if not others:
        return None
    room = scale.whole(margins.usable(usual, board.width)[0]) + kerf
    used = [scale.whole(max(one.x + one.length for one in layout.placed) - margins.end) + kerf for layout in others]
    if any(length > room for length in used) or any(layout.board != board for layout in layouts):
        return None
    order = Order(tuple(Kind(length, 1, 1, False) for length in used), ((room, 1),))
    effort = Effort(EFFORT // 10)
    packed = Packer(order, board_filler(order, effort), effort, (Cutting.FREE,)).few_sheets(0, 1)
    return board, usual, len(packed) + len(layouts) - len(others)


def _random_measure(layouts: list[BoardLayout], wanted: list[Wanted], leaves: int) -> Fraction:
    """Board feet or square metres to ask for: what the parts measure with the waste allowance, but no less than the boards of the layouts."""
    board = layouts[0].board
    parts = sum((board.measure(piece.length, piece.width) for piece in wanted), Fraction(0)) / leaves
    laid = sum((board.measure(one.length, one.board.width) for one in bought_boards(layouts)), Fraction(0))
    return max(parts * (1 + board.waste), laid)


def _may_lie_side_by_side(order: Order) -> bool:
    """Whether any two pieces fit beside each other across the widest board."""
    widths = sorted(kind.width for kind in order.kinds for _ in range(min(kind.count, 2)))
    return len(widths) > 1 and widths[0] + widths[1] <= max(width for _, width in order.sizes)


@lru_cache(maxsize=SEARCHES_KEPT)
def _chosen(order: Order, offers: tuple[Offer, ...], side_by_side: bool) -> tuple[Filled, ...]:
    """The cheapest boards that are found by crosscutting alone and, where pieces may share a width, by ripping too. Kept, as sheets are."""

    def searched(cuttings: tuple[Cutting, ...], *, ripping: bool) -> list[Filled]:
        effort = Effort(EFFORT)
        fill: Fill = sheet_filler(order, effort) if ripping else board_filler(order, effort)
        return cheapest(order, offers, fill, effort, cuttings, None if ripping else few_boards)

    found = searched((Cutting.FREE,), ripping=False)
    if side_by_side:
        found = min(found, searched(CUTTINGS, ripping=True), key=lambda boards: rank(boards, offers))
    return tuple(found)


def _least(size: tuple[int, int], gathered: Gathered, side_by_side: bool) -> int | None:
    """The proven least count of boards of one size; None where a piece does not fit it."""
    if any(kind.length > size[0] or kind.width > size[1] for kind in gathered.kinds):
        return None
    if side_by_side:
        return least_of_size(size, gathered.kinds)
    return least_boards(size[0], [(kind.length, kind.count) for kind in gathered.kinds])


def _least_of_all(order: Order, side_by_side: bool) -> int | None:
    return _least(envelope(order.sizes), Gathered(order.kinds, ()), side_by_side)


def _prices(sizes: list[_Size]) -> list[Fraction]:
    """The price of each size; where one is not known, by length at the best known rate."""
    rates = [size.price / size.length.exact_mm for size in sizes if size.price is not None]
    rate = min(rates, default=Fraction(1, 100))
    return [size.price if size.price is not None else rate * size.length.exact_mm for size in sizes]


def _bought(layouts: list[BoardLayout]) -> tuple[tuple[BoardSize, Length, int], ...]:
    counts: dict[tuple[BoardSize, Length], int] = {}
    for layout in bought_boards(layouts):
        key = (layout.board, layout.length)
        counts[key] = counts.get(key, 0) + 1
    return tuple((board, length, count) for (board, length), count in counts.items())


def _board_feet(layouts: list[BoardLayout]) -> Fraction | None:
    """Board feet by nominal section (``1x4``); None for sections that are not written in nominal inches."""
    feet = Fraction(0)
    for layout in bought_boards(layouts):
        sides = layout.board.name.split("x")
        if len(sides) != 2 or not all(side.isdigit() for side in sides) or int(sides[0]) > 8:
            return None
        feet += convert(int(sides[0]) * int(sides[1]) * layout.length.inches, "in^3", "board_foot")
    return feet
