"""Full-size templates, one sheet a page, to be cut out and laid on the wood."""

from __future__ import annotations

from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.chapters.context import Book


def gather(book: Book) -> dict[str, Any] | None:
    return {"views": book.drawings.templates} if book.drawings.templates else None


CHAPTER = Chapter("full_size", "Templates", gather)
