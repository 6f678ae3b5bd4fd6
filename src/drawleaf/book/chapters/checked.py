"""How this plan was checked: the audit in plain words."""

from __future__ import annotations

from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.context import Book


def gather(book: Book) -> dict[str, Any] | None:
    lines = book.derived.audit.lines
    return {"lines": lines} if lines else None


CHAPTER = Chapter("checked", "How this plan was checked", gather, runs_on=True)
