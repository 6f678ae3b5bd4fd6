"""The shopping list: everything that is bought, by aisle, in the units that a store sells, with what is left over."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from math import ceil

from drawleaf.derive.buying.consumables import estimate_consumables
from drawleaf.derive.buying.finish_amounts import estimate_finishes
from drawleaf.derive.shop.part_words import planed
from drawleaf.derive.shop.store_words import counted_unit, length_words, sheet_words, size_words, stock_words
from drawleaf.english import capitalized, counted, listed, lower_first, noun
from drawleaf.model.catalogue import BoardSize, Form, HardwareItem, HardwareScrew, SheetSize, Stock
from drawleaf.model.lists import (
    BoardLayout,
    ConsumableRow,
    FinishRow,
    HardwareRow,
    Layouts,
    Offcut,
    SheetLayout,
    ShoppingList,
    ShoppingRow,
    StockNeed,
    Strip,
)
from drawleaf.model.plan import Plan
from drawleaf.units import Length, LengthFormat, Units

# How a store sells what comes by length.
SOLD_AS = {Form.MOULDING: "length", Form.EDGE: "roll", Form.ROD: "rod"}
# The size in inches at the head of a name: ``#8 x 2 in``, ``18 gauge x 3/4 in``, ``12 in``.
INCH_SIZE = re.compile(r"^(?:#\d+(?:-\d+)? x |\d+ gauge x )?[\d/-]+ in |^#\d+ |, [\d/-]+ in$")
FINISH_AISLE = "Paint and finish"

__all__ = ["estimate_consumables", "estimate_finishes", "make_shopping_list"]


def make_shopping_list(
    plan: Plan,
    layouts: Layouts,
    hardware: Sequence[HardwareRow],
    consumables: Sequence[ConsumableRow],
    finishes: Sequence[FinishRow],
    strips: Sequence[Strip] = (),
) -> ShoppingList:
    """All rows, aisles in the order that they are first needed. Costs in the price book's currency; rows without a price are counted, not guessed."""
    rows = [
        *(row for need in layouts.needs for row in _stock_rows(plan, layouts, need)),
        *(_strip_row(plan, strip) for strip in strips if strip.board is None),
        *(_hardware_row(plan, row) for row in hardware if row.item.made_of is None),
        *(_consumable_row(plan, row) for row in consumables),
        *(row for finish in finishes for row in _finish_rows(finish)),
    ]
    aisles = list(dict.fromkeys(row.aisle for row in rows))
    rows.sort(key=lambda row: aisles.index(row.aisle))
    return ShoppingList(
        tuple(rows),
        sum((row.cost for row in rows if row.cost is not None), Fraction(0)),
        sum(row.cost is None for row in rows),
        plan.catalogue.prices.currency,
        plan.catalogue.prices.date,
    )


def _stock_rows(plan: Plan, layouts: Layouts, need: StockNeed) -> Iterator[ShoppingRow]:
    stock = need.stock
    first = need.buy[0][0]
    if isinstance(first, BoardSize) and first.random_widths:
        rests = [rest for size, length, _ in need.buy if (rest := _rests(plan, layouts, need, size, length))]
        yield replace(_lumber_row(plan, need, first), spare=f"Left over: {'; '.join(rests)}" if rests else "")
        return
    for at, (size, length, count) in enumerate(need.buy):
        offcuts = [offcut for layout in _cut_from(layouts, need, size, length) for offcut in layout.offcuts]
        if isinstance(size, SheetSize):
            each, detail, unit = size.price, sheet_words(size, plan.lengths), "sheet"
        else:
            assert length is not None
            each = dict(zip(size.lengths, size.prices, strict=True)).get(length)
            detail, unit = length_words(length, plan.lengths), SOLD_AS.get(stock.material.form, "board")
            if plan.lengths.units is not Units.INCH and size.name == stock.nominal and "mm" not in size.name:
                round_rod = stock.material.form is Form.ROD
                thickness = stock.thickness if stock.as_bought else size.thickness
                sides = [thickness] if round_rod else [thickness, size.width]
                section = " x ".join(plan.lengths.millimetres(side) for side in sides)
                detail = f"{detail}, {section} mm {'round' if round_rod else 'dressed'}"
            detail = ", ".join([detail, *_extra_words(stock, plan.lengths)])
        if stock.note:
            detail = f"{detail}. {stock.note}"
        spare = _left_over(plan, offcuts, _rests(plan, layouts, need, size, length))
        if at == 0 and need.substitute is not None:
            instead = _substitute_words(plan, need)
            detail, spare = (detail, f"{spare}. {instead}") if spare else (f"{detail}. {instead}", "")
        yield ShoppingRow(
            stock.material.aisle,
            stock_words(stock),
            detail,
            count,
            counted_unit(count, unit),
            each,
            None if each is None else each * count,
            spare,
        )


def _extra_words(stock: Stock, lengths: LengthFormat) -> list[str]:
    """What is to be said of boards that are planed, and of an allowance for knots."""
    words = []
    if planed(stock, stock.boards):
        to = lengths.text(stock.thickness)
        words.append(f"planed to {to} at the yard" if stock.at_yard else f"to be planed to {to}")
    if stock.as_bought:
        words.append(f"{lengths.text(stock.thickness)} thick as sold: measure before you buy")
    if stock.defects:
        words.append(f"{percent(stock.defects)} of each counted off for knots and checks")
    return words


def _lumber_row(plan: Plan, need: StockNeed, board: BoardSize) -> ShoppingRow:
    """Hardwood in random widths, asked for by the board foot; in millimetres by the square metre, in tenths."""
    assert board.narrowest is not None
    lengths = plan.lengths
    longest = max(length for _, length, _ in need.buy if length is not None)
    sawn = "rough" if board.planing else f"surfaced to {lengths.text(board.thickness)}"
    details = [
        f"{board.name}, {sawn}",
        f"boards {lengths.text(board.width)} wide or more and up to {length_words(longest, lengths)} long, none under {lengths.text(board.narrowest)}",
        f"{percent(board.waste)} for waste is in it",
        *_extra_words(need.stock, lengths),
    ]
    if need.square_metres is not None:
        return _metric_lumber_row(need, board, details)
    detail = "; ".join(details)
    if need.stock.note:
        detail = f"{detail}. {need.stock.note}"
    feet = ceil(need.board_feet or 0)
    return ShoppingRow(
        need.stock.material.aisle,
        stock_words(need.stock),
        detail,
        feet,
        noun(feet, "board foot"),
        board.foot_price,
        None if board.foot_price is None else board.foot_price * feet,
        "",
    )


def _metric_lumber_row(need: StockNeed, board: BoardSize, details: Sequence[str]) -> ShoppingRow:
    """So many boards, which together measure so much: yards charge by the square metre."""
    tenths = ceil((need.square_metres or 0) * 10)
    count = sum(count for *_, count in need.buy)
    words = [f"{tenths // 10}.{tenths % 10} m² in all", *details]
    detail = "; ".join(words) + (f". {need.stock.note}" if need.stock.note else "")
    cost = None if board.foot_price is None else board.foot_price * Fraction(tenths, 10)
    return ShoppingRow(
        need.stock.material.aisle,
        stock_words(need.stock),
        detail,
        count,
        counted_unit(count, "board"),
        None,
        cost,
        "",
    )


def percent(share: Fraction) -> str:
    """``30%``."""
    return f"{round(share * 100)}%"


def _substitute_words(plan: Plan, need: StockNeed) -> str:
    """What to buy instead where the store has only the usual size."""
    assert need.substitute is not None
    size, length, count = need.substitute
    if isinstance(size, SheetSize):
        what = f"only {sheet_words(size, plan.lengths)} sheets"
    else:
        assert length is not None
        what = f"only {length_words(length, plan.lengths)} boards"
    bought = sum(count for *_, count in need.buy)
    return f"If {what} are in stock, buy {count}" + ("" if bought == 1 else f" in place of these {bought}")


def _cut_from(
    layouts: Layouts, need: StockNeed, size: SheetSize | BoardSize, length: Length | None
) -> list[SheetLayout | BoardLayout]:
    sheets = [one for one in layouts.sheets if one.stock.id == need.stock.id and one.sheet == size]
    boards = [
        one for one in layouts.boards if one.stock.id == need.stock.id and one.board == size and one.length == length
    ]
    return [*sheets, *boards]


def _rests(plan: Plan, layouts: Layouts, need: StockNeed, size: SheetSize | BoardSize, length: Length | None) -> str:
    """``2 thin boards of 2000 x 140 mm, good for 9 mm``: what is left of boards that are resawn; empty where nothing is."""
    rests = [
        one
        for one in _cut_from(layouts, need, size, length)
        if isinstance(one, BoardLayout) and one.leaf == 1 and one.rest is not None
    ]
    if not rests:
        return ""
    first, thick = rests[0], min(one.rest for one in rests if one.rest is not None)
    count = f"{len(rests)} thin boards" if len(rests) > 1 else "a thin board"
    good = f"good for {plan.lengths.text(thick)} once planed"
    return f"{count} of {size_words(first.length, first.board.width, plan.lengths)}, {good}"


def _left_over(plan: Plan, offcuts: Sequence[Offcut], rests: str = "") -> str:
    """The offcut worth keeping, the largest if there are several; and what is left of boards that are resawn."""
    if rests:
        more = _left_over(plan, offcuts)
        return f"{more}; and {rests}" if more else f"Left over: {rests}"
    if not offcuts:
        return ""
    largest = max(offcuts, key=lambda one: one.length.exact_mm * one.width.exact_mm)
    size = size_words(largest.length, largest.width, plan.lengths)
    return f"Left over: {size}" if len(offcuts) == 1 else f"Left over: {size}, and {len(offcuts) - 1} more"


def _strip_row(plan: Plan, strip: Strip) -> ShoppingRow:
    """A piece of the stock for a strip that no offcut of the layouts gives."""
    lengths = plan.lengths
    size = size_words(strip.length, strip.width, lengths)
    thick = lengths.text(strip.thickness)
    detail = plan.words.tell(
        "a piece of at least {}, {} thick or more, for the strip of {}", size, thick, strip.item.plural
    )
    return ShoppingRow(
        strip.stock.material.aisle,
        stock_words(strip.stock),
        detail,
        strip.strips,
        noun(strip.strips, "piece"),
        None,
        None,
        "",
    )


def _hardware_row(plan: Plan, row: HardwareRow) -> ShoppingRow:
    item = row.item
    spare = row.packs * item.per_pack - row.count
    details = [] if item.per_pack == 1 else [f"{row.count} needed, {item.per_pack} to a {item.pack}"]
    name = noun(row.count, item.name, item.plural)
    if item.metric and plan.lengths.units is Units.MM:
        details.append(f"{capitalized(name)} in the steps")
        name = metric_name(item, row.count)
    elif item.metric and plan.lengths.units is Units.BOTH:
        details.append(f"metric: {item.metric}")
    supplied = [_screws(plan, screw) for screw in item.screws if screw.supplied]
    if supplied:
        each = "comes" if row.count == 1 else "each comes"
        details.append(f"{each} with {listed(supplied)}")
    return ShoppingRow(
        item.aisle,
        capitalized(name),
        "; ".join(details),
        row.packs,
        counted_unit(row.packs, item.pack),
        item.price,
        None if item.price is None else item.price * row.packs,
        f"{spare} to spare" if spare else "",
    )


def _screws(plan: Plan, screw: HardwareScrew) -> str:
    known = plan.catalogue.hardware.get(screw.item)
    if known is None:
        return f"{screw.count} screws"
    if known.metric and plan.lengths.units is Units.MM:
        return f"{screw.count} {metric_name(known, screw.count)}"
    return counted(screw.count, known.name, known.plural)


def metric_name(item: HardwareItem, count: int) -> str:
    """``4.0 x 50 mm flat-head wood screws`` for what the catalogue knows as ``#8 x 2 in flat-head wood screws``."""
    name = noun(count, item.name, item.plural)
    bare = INCH_SIZE.sub("", name)
    return f"{item.metric} {lower_first(bare)}"


def _consumable_row(plan: Plan, row: ConsumableRow) -> ShoppingRow:
    item = row.item
    sold = item.metric_unit if item.metric_unit and plan.lengths.units is Units.MM else item.unit
    size, _, unit = sold.rpartition(" ") if sold[:1].isdigit() else ("", "", sold)
    return ShoppingRow(
        item.aisle,
        item.name,
        size,
        row.buy,
        counted_unit(row.buy, unit),
        item.price,
        None if item.price is None else item.price * row.buy,
        "",
    )


def _finish_rows(row: FinishRow) -> Iterator[ShoppingRow]:
    """A row for each size of can; what is left over is stated with the last."""
    known = (*row.product.containers, *row.product.metric_containers)
    volumes = {name: litres for name, litres, _ in known}
    bought = sum(volumes[name] * count for name, count, _ in row.containers)
    for at, (name, count, price) in enumerate(row.containers):
        left = round((1 - row.litres / bought) * 100)
        spare = f"About {left}% left over" if at == len(row.containers) - 1 and left >= 5 else ""
        yield ShoppingRow(
            FINISH_AISLE,
            row.product.name,
            name,
            count,
            counted_unit(count, "can"),
            price,
            None if price is None else price * count,
            spare,
        )
