"""Fitting in place, and care."""

from __future__ import annotations

from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.chapters.context import Book


def gather(book: Book) -> dict[str, Any] | None:
    plan = book.derived.plan
    noted = {fitting.line: fitting for fitting in plan.fittings if fitting.note}
    if not noted and not plan.about.care:
        return None
    return {"fittings": tuple(noted.values()), "care": plan.about.care}


CHAPTER = Chapter("care", "Fitting and care", gather, runs_on=True, stays_whole=True)
