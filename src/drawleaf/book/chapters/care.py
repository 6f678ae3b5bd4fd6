"""Putting it in place, and care."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.chapters.context import Book


def gather(book: Book) -> dict[str, Any] | None:
    plan = book.derived.plan
    noted = {fitting.line: fitting for fitting in plan.fittings if fitting.note}
    if not noted and not plan.about.care:
        return None
    return {"fittings": tuple(noted.values()), "care": plan.about.care}


def _title(found: Mapping[str, Any]) -> str:
    return (
        "Installation and care" if found["fittings"] and found["care"] else "Care" if found["care"] else "Installation"
    )


CHAPTER = Chapter("care", "Installation and care", gather, runs_on=True, stays_whole=True, titled=_title)
