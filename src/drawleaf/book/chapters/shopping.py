"""The shopping list, by aisle."""

from __future__ import annotations

from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.chapters.context import Book


def gather(book: Book) -> dict[str, Any] | None:
    shopping = book.derived.shopping
    if not shopping.rows:
        return None
    aisles: dict[str, list[Any]] = {}
    for row in shopping.rows:
        aisles.setdefault(row.aisle, []).append(row)
    return {"shopping": shopping, "aisles": aisles, "prices": book.derived.plan.catalogue.prices}


CHAPTER = Chapter("shopping", "Shopping list", gather, runs_on=True, stays_whole=True)
