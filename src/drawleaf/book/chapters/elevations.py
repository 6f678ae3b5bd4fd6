"""Elevations and sections to scale."""

from __future__ import annotations

from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.context import Book


def gather(book: Book) -> dict[str, Any] | None:
    return {"views": book.drawings.elevations} if book.drawings.elevations else None


CHAPTER = Chapter("elevations", "Elevations", gather)
