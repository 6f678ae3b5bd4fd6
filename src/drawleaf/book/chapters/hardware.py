"""Hardware and consumables, each counted, with the steps that use it."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.chapters.context import Book
from drawleaf.book.chapters.tools import runs_of
from drawleaf.book.words.format import Formatter
from drawleaf.derive.shop.store_words import counted_unit
from drawleaf.english import with_article
from drawleaf.model.lists import ConsumableRow
from drawleaf.units import Units

LEAST = Fraction(1, 10)
"""Less than this is printed as this much."""


def gather(book: Book) -> dict[str, Any] | None:
    derived = book.derived
    if not derived.hardware and not derived.consumables:
        return None
    amounts = {row.item.id: amount_words(row, book.formatter) for row in derived.consumables}
    used = {row.item.id: set[int]() for row in derived.hardware}
    for step in derived.steps:
        for use in step.hardware:
            used.setdefault(use.item.id, set()).add(step.number)
    return {
        "hardware": derived.hardware,
        "consumables": derived.consumables,
        "amounts": amounts,
        "runs": {item: runs_of(numbers) for item, numbers in used.items()},
    }


def amount_words(row: ConsumableRow, fmt: Formatter) -> str:
    """How much of a consumable goes: ``1 roll``, ``4.5 discs``, ``0.3 of a 250 ml bottle``."""
    unit = row.item.metric_unit if row.item.metric_unit and fmt.units is Units.MM else row.item.unit
    if row.amount >= 1:
        figure = fmt.number(row.amount, 1)
        return f"{figure} {counted_unit(1 if row.amount == 1 else 2, unit)}"
    return f"{fmt.number(max(row.amount, LEAST), 1)} of {with_article(unit)}"


CHAPTER = Chapter("hardware", "Hardware and consumables", gather, runs_on=True)
