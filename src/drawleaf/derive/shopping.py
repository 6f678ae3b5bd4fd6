"""The shopping list: everything that is bought, by aisle, in the units that a store sells, with what is left over."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from drawleaf.derive.consumables import estimate_consumables
from drawleaf.derive.finish_amounts import estimate_finishes
from drawleaf.derive.part_words import listed
from drawleaf.derive.store_words import counted_unit, length_words, sheet_words, size_words, stock_words
from drawleaf.model.catalogue import BoardSize, HardwareScrew, SheetSize
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
)
from drawleaf.model.plan import Plan
from drawleaf.units import Length, Units

FINISH_AISLE = "Paint and finish"

__all__ = ["estimate_consumables", "estimate_finishes", "make_shopping_list"]


def make_shopping_list(
    plan: Plan,
    layouts: Layouts,
    hardware: Sequence[HardwareRow],
    consumables: Sequence[ConsumableRow],
    finishes: Sequence[FinishRow],
) -> ShoppingList:
    """All rows, aisles in the order that they are first needed. Costs in the price book's currency; rows without a price are counted, not guessed."""
    rows = [
        *(row for need in layouts.needs for row in _stock_rows(plan, layouts, need)),
        *(_hardware_row(plan, row) for row in hardware),
        *(_consumable_row(row) for row in consumables),
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
    for size, length, count in need.buy:
        offcuts = [offcut for layout in _cut_from(layouts, need, size, length) for offcut in layout.offcuts]
        if isinstance(size, SheetSize):
            each, detail, unit = size.price, sheet_words(size, plan.lengths), "sheet"
        else:
            assert length is not None
            each = dict(zip(size.lengths, size.prices, strict=True)).get(length)
            detail, unit = length_words(length, plan.lengths), "board"
            if plan.lengths.units is not Units.INCH and size.name == stock.nominal and "mm" not in size.name:
                section = f"{plan.lengths.millimetres(size.thickness)} x {plan.lengths.millimetres(size.width)} mm"
                detail = f"{detail}, {section} dressed"
        if stock.note:
            detail = f"{detail}. {stock.note}"
        yield ShoppingRow(
            stock.material.aisle,
            stock_words(stock),
            detail,
            count,
            counted_unit(count, unit),
            each,
            None if each is None else each * count,
            _left_over(plan, offcuts),
        )


def _cut_from(
    layouts: Layouts, need: StockNeed, size: SheetSize | BoardSize, length: Length | None
) -> list[SheetLayout | BoardLayout]:
    sheets = [one for one in layouts.sheets if one.stock.id == need.stock.id and one.sheet == size]
    boards = [
        one for one in layouts.boards if one.stock.id == need.stock.id and one.board == size and one.length == length
    ]
    return [*sheets, *boards]


def _left_over(plan: Plan, offcuts: Sequence[Offcut]) -> str:
    """The offcut worth keeping, the largest if there are several."""
    if not offcuts:
        return ""
    largest = max(offcuts, key=lambda one: one.length.exact_mm * one.width.exact_mm)
    size = size_words(largest.length, largest.width, plan.lengths)
    return f"Left over: {size}" if len(offcuts) == 1 else f"Left over: {size}, and {len(offcuts) - 1} more"


def _hardware_row(plan: Plan, row: HardwareRow) -> ShoppingRow:
    item = row.item
    spare = row.packs * item.per_pack - row.count
    details = [] if item.per_pack == 1 else [f"{row.count} needed, {item.per_pack} to a {item.pack}"]
    if item.metric and plan.lengths.units is not Units.INCH:
        details.append(f"metric: {item.metric}")
    supplied = [_screws(plan, screw) for screw in item.screws if screw.supplied]
    if supplied:
        details.append(f"comes with {listed(supplied)}")
    return ShoppingRow(
        item.aisle,
        item.name if row.count == 1 else item.plural,
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
    return f"{screw.count} {known.name if screw.count == 1 else known.plural}"


def _consumable_row(row: ConsumableRow) -> ShoppingRow:
    item = row.item
    size, _, unit = item.unit.rpartition(" ") if item.unit[:1].isdigit() else ("", "", item.unit)
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
    """A row for each size of can; what is left over is told with the last."""
    volumes = {name: litres for name, litres, _ in row.product.containers}
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
