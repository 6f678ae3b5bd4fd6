"""The contents: every chapter and every step with its page, on one page."""

from __future__ import annotations

from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.context import Book


def gather(book: Book) -> dict[str, Any]:
    return {"steps": [(step, book.texts[step.number].title) for step in book.derived.steps]}


CHAPTER = Chapter("contents", "Contents", gather, listed=False)
