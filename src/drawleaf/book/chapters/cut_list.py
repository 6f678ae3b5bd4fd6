"""The cut list, by stock and then by the set-up that parts share."""

from __future__ import annotations

from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.context import Book


def gather(book: Book) -> dict[str, Any]:
    """Rows grouped by stock; within it, runs of rows that are cut at one set-up stand together."""
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
    return {"stocks": stocks, "pieces": pieces, "setups": setups}


CHAPTER = Chapter("cut_list", "Cut list", gather, runs_on=True, stays_whole=True)
