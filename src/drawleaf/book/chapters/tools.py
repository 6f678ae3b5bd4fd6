"""Tools: what the steps use, what may stand in, and in which steps."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.chapters.context import Book

MOST_RUNS = 6
"""So many runs of steps stand on paper behind a tool; of more, the first ones: every step names its own tools."""


def gather(book: Book) -> dict[str, Any] | None:
    rows = book.derived.tools
    if not rows:
        return None
    groups: dict[str, list[Any]] = {}
    for row in rows:
        groups.setdefault(row.tool.group, []).append(row)
    return {
        "groups": groups,
        "runs": {row.tool.id: runs_of(row.steps) for row in rows},
        "most_runs": MOST_RUNS if book.for_print else None,
        "throughout": {tool.id for tool in book.on_the_bench},
    }


def runs_of(numbers: Iterable[int]) -> list[tuple[int, int]]:
    """Step numbers as runs: 1, 2, 3, 7 becomes 1 to 3 and 7 to 7."""
    runs: list[tuple[int, int]] = []
    for number in sorted(numbers):
        if runs and number == runs[-1][1] + 1:
            runs[-1] = (runs[-1][0], number)
        else:
            runs.append((number, number))
    return runs


CHAPTER = Chapter("tools", "Tools", gather, runs_on=True, stays_whole=True)
