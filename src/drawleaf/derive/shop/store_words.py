"""How a store says it: sizes of sheets and boards, packs and how many."""

from __future__ import annotations

from fractions import Fraction

from drawleaf.english import noun
from drawleaf.model.catalogue import Form, HardwareItem, SheetSize, Stock
from drawleaf.units import Length, LengthFormat, Units

UNCOUNTED = {"each", ""}


def counted_unit(count: int, unit: str) -> str:
    """``box``, ``boxes``; ``packs of 6``; ``pieces`` for what is sold singly."""
    return noun(count, "piece" if unit in UNCOUNTED else unit)


def screw_size(item: HardwareItem, units: Units) -> str:
    """``number 8`` of a screw by its gauge; in millimetres as a metric shop has it, ``4 mm`` or ``M4``, where it does."""
    thick, times, _ = item.metric.partition(" x ")
    if units is not Units.MM or not times:
        return f"number {item.gauge}"
    return f"{thick.removesuffix('.0')} mm" if thick[:1].isdigit() else thick


def length_words(length: Length, lengths: LengthFormat) -> str:
    """``8 ft`` where the plan is in inches and it comes out even; else as the plan prints lengths."""
    feet, lengths = length.inches / 12, lengths.sold()
    if lengths.units is Units.MM or feet.denominator != 1:
        return lengths.text(length)
    metric = f" ({lengths.millimetres(length)} mm)" if lengths.units is Units.BOTH else ""
    return f"{feet} ft{metric}"


def sheet_words(sheet: SheetSize, lengths: LengthFormat) -> str:
    """The store's name of a sheet; where the plan prints millimetres and the name does not, its size too."""
    if lengths.units is Units.INCH or "mm" in sheet.name:
        return sheet.name
    lengths = lengths.sold()
    return f"{sheet.name} ({lengths.millimetres(sheet.length)} x {lengths.millimetres(sheet.width)} mm)"


def size_words(length: Length, width: Length, lengths: LengthFormat) -> str:
    """``40 x 20 in``."""
    if lengths.units is Units.BOTH:
        return f"{lengths.text(length)} x {lengths.text(width)}"
    return f"{lengths.text(length, unit=False)} x {lengths.text(width)}"


def stock_words(stock: Stock) -> str:
    """The stock as a store's label has it: ``Birch plywood, 3/4 in``, ``Red oak board, 1x4``."""
    nominal = size_label(stock)
    if nominal in stock.name or not nominal:
        return stock.name
    if stock.sheets and not any(letter.isalpha() for letter in nominal):
        nominal = f"{nominal} {_unit_of(nominal, stock.thickness)}"
    return f"{stock.name}, {nominal}"


def size_label(stock: Stock) -> str:
    """The size on its label: ``1x4``, ``3/4``; a rod by its width, ``30 mm``."""
    nominal = stock.nominal.strip()
    if stock.material.form is not Form.ROD:
        return nominal
    bare = nominal.removesuffix(" rod")
    return bare if any(letter.isalpha() for letter in bare) else f"{bare} {_unit_of(bare, stock.thickness)}"


def _unit_of(nominal: str, thickness: Length) -> str:
    """Whether a bare label means inches or millimetres: whichever lies nearer to what a caliper says."""
    try:
        value = sum(Fraction(one) for one in nominal.replace("-", " ").split())
    except ValueError:
        return "in"
    as_inches, as_mm = abs(value - thickness.inches), abs(value - thickness.exact_mm)
    return "in" if as_inches * 25 < as_mm else "mm"
