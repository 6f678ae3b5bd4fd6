"""The cut list, by stock and then by the set-up that parts share."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from markupsafe import Markup

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.chapters.context import Book
from drawleaf.book.chapters.other_sheets import OtherRows, other_rows
from drawleaf.book.chapters.tools import runs_of
from drawleaf.book.page.measure import text_height
from drawleaf.book.page.paper import paper_of
from drawleaf.model.helps import HelpRow
from drawleaf.model.lists import CutItem
from drawleaf.units import Length, Units

_HEAD, _GROUP, _SETUP, _ROW, _REMARK = 41.0, 6.4, 5.0, 5.3, 155.0
"""In mm: the title with what stands above the rows; a group's and a setting's line; a part's row; the width of a remark."""
_SHEETS_HEAD = 22.0
"""The words above the sizes that follow a sheet, in mm."""

_HELPS_HEAD, _HELP = 18.0, 10.0
"""The words above the scraps to make, and one of them with its note, in mm."""


def gather(book: Book) -> dict[str, Any]:
    """Rows grouped by stock; within it, runs of rows that are cut at one set-up stand together. A grain that is the same in all parts is
    told once, and leaves its column to the set-ups."""
    stocks: list[tuple[Any, list[tuple[str | None, list[Any]]]]] = []
    for item in book.derived.cut_list.items:
        if not stocks or stocks[-1][0].id != item.stock.id:
            stocks.append((item.stock, []))
        runs = stocks[-1][1]
        if not runs or runs[-1][0] != item.setup:
            runs.append((item.setup, []))
        runs[-1][1].append(item)
    pieces = sum(item.quantity for item in book.derived.cut_list.items)
    setups = any(item.setup for item in book.derived.cut_list.items)
    one_grain = all(item.part.grain is not None for item in book.derived.cut_list.items)
    lines = 0.0 if one_grain else _SETUP
    high = _HEAD + sum(_GROUP + lines * (len(runs) - 1) + sum(map(_row, _items(runs))) for _, runs in stocks)
    sheets = other_rows(book)
    high += _SHEETS_HEAD * bool(sheets) + sum(map(_sheet_height, sheets))
    high += _HELPS_HEAD * bool(book.derived.helps) + _HELP * len(book.derived.helps)
    breaks = high > paper_of(book.derived.plan.paper).text_height
    helps = [(row, _help_words(book, row), runs_of(row.steps)) for row in book.derived.helps]
    found = {"stocks": stocks, "pieces": pieces, "setups": setups, "sheets": sheets, "breaks": breaks}
    found["one_grain"] = one_grain
    return {**found, "helps": helps}


def _help_words(book: Book, row: HelpRow) -> Markup:
    """``10 in long, 1-1/2 in wide, 3/4 in thick``; of a spacer, which of them is exact; no size where its author gives none."""
    if row.size is None:
        return Markup("")
    words = [
        Markup("{}{} {}").format("exactly " if size == row.exact else "", _shown(book, size, row), word)
        for size, word in zip(row.size, ("long", "wide", "thick"), strict=True)
    ]
    return Markup(", ").join(words)


def _shown(book: Book, size: Length, row: HelpRow) -> Markup:
    """What must be exact as it is; all else of a scrap to the next quarter of an inch, or 5 mm."""
    if size == row.exact:
        return book.formatter.length(size)
    coarse = Length.of_mm(5) if book.formatter.units is Units.MM else Length.of_inches(Fraction(1, 4))
    return book.formatter.length(coarse * max(1, round(size.ratio(coarse))) if size > coarse * 4 else size)


def _sheet_height(sheet: OtherRows) -> float:
    names = (" ".join(f"00 {item.name}," for item in row.items) for row in sheet.rows)
    return _GROUP + sum(text_height(one, _REMARK - 40.0, 9.5, 1.25) + 2.0 for one in names)


def _items(runs: list[tuple[str | None, list[CutItem]]]) -> list[CutItem]:
    return [item for _, items in runs for item in items]


def _row(item: CutItem) -> float:
    """How high a part's row stands with its remark."""
    return _ROW + (text_height(item.note, _REMARK, 9.5, 1.25) + 0.4 if item.note else 0.0)


CHAPTER = Chapter("cut_list", "Cut list", gather, runs_on=True, stays_whole=True)
