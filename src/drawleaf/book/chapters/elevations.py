"""Elevations and sections to scale, and an enlarged detail of each distinct joint."""

from __future__ import annotations

from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.context import Book


def gather(book: Book) -> dict[str, Any] | None:
    drawings = book.drawings
    if not drawings.elevations:
        return None
    return {"views": drawings.elevations, "sections": drawings.sections, "details": drawings.details}


CHAPTER = Chapter("elevations", "Elevations and joints", gather)
