"""The exploded view, with its part list."""

from __future__ import annotations

from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.context import Book
from drawleaf.book.figure_pages import Figure, on_pages
from drawleaf.book.paper import CHAPTER_HEAD, paper_of

_KEY_LINE = 6.2


def gather(book: Book) -> dict[str, Any] | None:
    views = book.drawings.exploded
    if not views:
        return None
    if not book.for_print:
        return {"views": [Figure(view) for view in views]}
    key = 12.0 + _KEY_LINE * -(-len(book.derived.cut_list.items) // 3)
    room = paper_of(book.derived.plan.paper).text_height - 2.0
    return {"views": on_pages(views, room, room - CHAPTER_HEAD - key)}


CHAPTER = Chapter("exploded", "Exploded view", gather, runs_on=True, stays_whole=True)
