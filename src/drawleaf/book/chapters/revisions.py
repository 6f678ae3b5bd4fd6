"""Revision history, terms of use and colophon."""

from __future__ import annotations

from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.chapters.context import Book


def gather(book: Book) -> dict[str, Any]:
    return {"history": book.derived.plan.about.history}


CHAPTER = Chapter("revisions", "Revisions and terms", gather, runs_on=True)
