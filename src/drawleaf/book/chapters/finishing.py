"""The finishing schedule, line by line."""

from __future__ import annotations

from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.context import Book


def gather(book: Book) -> dict[str, Any] | None:
    plan = book.derived.plan
    if not plan.finish:
        return None
    return {"coats": plan.finish, "products": book.derived.finishes}


CHAPTER = Chapter("finishing", "Finishing", gather)
