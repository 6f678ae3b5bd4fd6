"""Below the cut list: the sizes that change where the buyer's sheet is not as thick as the plan has it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from markupsafe import Markup

from drawleaf.book.chapters.context import Book
from drawleaf.model.catalogue import Stock
from drawleaf.model.lists import CutItem
from drawleaf.model.other_sheets import OtherSheet
from drawleaf.units import Length, LengthFormat, Units

_MOST_DOUBLINGS = 2


@dataclass(frozen=True, slots=True)
class Changed:
    """``words`` is the change for a sheet thinner by ``OtherRows.thinner``; ``items`` the rows of the cut list that have it."""

    words: Markup
    items: tuple[CutItem, ...]


@dataclass(frozen=True, slots=True)
class OtherRows:
    """What changes with one stock of sheets."""

    stock: Stock
    thinner: Length
    rows: tuple[Changed, ...]


def other_rows(book: Book) -> tuple[OtherRows, ...]:
    """For each stock of sheets that sizes follow, in the order of the plan."""
    stocks = {stock.id: stock for stock in book.derived.plan.stocks}
    return tuple(_rows(book, stocks[sheet.stock], sheet) for sheet in book.derived.plan.other_sheets)


def _rows(book: Book, stock: Stock, sheet: OtherSheet) -> OtherRows:
    thinner = _step(book.formatter, sheet)
    alike: dict[tuple[Fraction, Fraction], dict[int, CutItem]] = {}
    for change in sheet.changes:
        item = book.item_by_part[change.part]
        alike.setdefault((change.length, change.width), {})[item.number] = item
    rows = sorted(alike.items(), key=lambda row: min(row[1]))
    told = (
        Changed(book.formatter.join(_words(book, change, thinner)), tuple(items[number] for number in sorted(items)))
        for change, items in rows
    )
    return OtherRows(stock, thinner, tuple(told))


def _words(book: Book, change: tuple[Fraction, Fraction], thinner: Length) -> Iterator[Markup]:
    """``1/16 in longer``, ``1/32 in narrower``."""
    for share, more, less in zip(change, ("longer", "wider"), ("shorter", "narrower"), strict=True):
        if share:
            yield Markup("{} {}").format(book.formatter.length(abs(thinner * share)), more if share > 0 else less)


def _step(form: LengthFormat, sheet: OtherSheet) -> Length:
    """By how much thinner the table tells of: one printed step, or so many that each change is a printed figure too."""
    step = Length(form.mm_step) if form.units is Units.MM else Length.of_inches(form.inch_step)
    shares = {share for change in sheet.changes for share in (change.length, change.width)}
    for _ in range(_MOST_DOUBLINGS):
        if all(_is_printed(form, step * share) for share in shares):
            break
        step = step * 2
    return step


def _is_printed(form: LengthFormat, length: Length) -> bool:
    return form.rounded(length, "mm" if form.units is Units.MM else "in") == length
