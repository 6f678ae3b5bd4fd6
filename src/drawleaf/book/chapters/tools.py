"""Tools: what the steps use, what may stand in, and in which steps."""

from __future__ import annotations

from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.context import Book


def gather(book: Book) -> dict[str, Any] | None:
    rows = book.derived.tools
    if not rows:
        return None
    groups: dict[str, list[Any]] = {}
    for row in rows:
        groups.setdefault(row.tool.group, []).append(row)
    return {"groups": groups, "step_ids": {step.number: step.id for step in book.derived.steps}}


CHAPTER = Chapter("tools", "Tools", gather)
