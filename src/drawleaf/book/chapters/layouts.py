"""Layouts: each sheet and board with its parts in place, and its cuts in order."""

from __future__ import annotations

from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.context import Book


def gather(book: Book) -> dict[str, Any] | None:
    layouts = book.derived.layouts
    if not layouts.sheets and not layouts.boards:
        return None
    return {"layouts": layouts}


CHAPTER = Chapter("layouts", "Layouts", gather)
