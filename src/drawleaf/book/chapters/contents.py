"""The contents: every chapter and every step with its page, on one page."""

from __future__ import annotations

from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.chapters.context import Book
from drawleaf.model.steps import Step

MOST_LINES, DENSE_LINES = 130, 76
"""More lines than these would not stand on the page, or only set small. A stage's heading counts as two."""


def gather(book: Book) -> dict[str, Any]:
    """Steps under their stages; a long plan lists the stages alone, so that the contents stay on one page."""
    stages: dict[str, list[Step]] = {}
    for step in book.derived.steps:
        stages.setdefault(step.stage, []).append(step)
    lines = 2 * len(stages) + len(book.derived.steps)
    return {
        "stages": stages,
        "each_step": not book.for_print or lines <= MOST_LINES,
        "dense": DENSE_LINES < lines <= MOST_LINES,
    }


CHAPTER = Chapter("contents", "Contents", gather, listed=False)
