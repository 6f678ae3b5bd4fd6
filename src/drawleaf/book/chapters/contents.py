"""The contents: every chapter and every step with its page, on one page."""

from __future__ import annotations

from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.context import Book
from drawleaf.model.steps import Step

MOST_STEPS = 56
"""More than this would not stand on the page."""


def gather(book: Book) -> dict[str, Any]:
    """Steps under their stages; a long plan lists the stages alone, so that the contents stay on one page."""
    stages: dict[str, list[Step]] = {}
    for step in book.derived.steps:
        stages.setdefault(step.stage, []).append(step)
    return {"stages": stages, "each_step": not book.for_print or len(book.derived.steps) <= MOST_STEPS}


CHAPTER = Chapter("contents", "Contents", gather, listed=False)
