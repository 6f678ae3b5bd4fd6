"""Revision history, terms of use and colophon."""

from __future__ import annotations

from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.chapters.context import Book
from drawleaf.model.about import Revision


def gather(book: Book) -> dict[str, Any]:
    about, marks = book.derived.plan.about, book.derived.revised
    history = about.history
    if marks is not None and all(one.mark != about.revision for one in history):
        history = (*history, Revision(about.revision, about.date, marks.line))
    return {"history": history, "marks": marks}


CHAPTER = Chapter("revisions", "Revisions and terms", gather, runs_on=True)
