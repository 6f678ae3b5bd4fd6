"""The exploded view, facing its part list."""

from __future__ import annotations

from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.context import Book


def gather(book: Book) -> dict[str, Any] | None:
    return {"views": book.drawings.exploded} if book.drawings.exploded else None


CHAPTER = Chapter("exploded", "Exploded view", gather)
