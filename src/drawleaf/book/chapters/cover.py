"""The cover: the piece, its name, its overall size, number and revision."""

from __future__ import annotations

from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.chapters.context import Book


def gather(book: Book) -> dict[str, Any]:
    return {"drawing": book.drawings.cover}


CHAPTER = Chapter("cover", "Cover", gather, listed=False)
