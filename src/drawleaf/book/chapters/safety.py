"""Safety first: what the signal words mean, and what holds for every step."""

from __future__ import annotations

from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.chapters.context import SIGNAL_RANK, Book


def gather(book: Book) -> dict[str, Any]:
    """The general rules that this plan's work calls for, and where each caution stands in full."""
    steps = book.derived.steps
    cautions = {caution.id: caution for step in steps for caution in step.cautions}
    where = [(cautions[name], number) for name, number in book.first_steps.items()]
    where.sort(key=lambda row: (SIGNAL_RANK.index(row[0].signal), row[1]))
    return {
        "where": where,
        "power": any(tool.power for step in steps for tool in step.tools),
        "finishing": bool(book.derived.finishes),
    }


CHAPTER = Chapter("safety", "Safety first", gather)
