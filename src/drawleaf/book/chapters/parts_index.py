"""The index of parts: where each part is listed, laid out, drawn and worked on."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.chapters.context import Book
from drawleaf.book.chapters.tools import runs_of
from drawleaf.derive.layout.like_boards import AnyLayout, like_runs, run_words


def gather(book: Book) -> dict[str, Any]:
    layouts = book.derived.layouts
    rows = []
    for item in sorted(book.derived.cut_list.items, key=lambda item: item.number):
        ids = {part.id for part in item.parts}
        sheets = _runs(layouts.sheets, "sheet", ids)
        boards = _runs(layouts.boards, "board", ids)
        runs = runs_of([step.number for step in book.steps_of(item)])
        rows.append((item, sheets, boards, item.number in book.drawings.parts, runs))
    return {"rows": rows}


def _runs(layouts: Sequence[AnyLayout], kind: str, ids: set[str]) -> list[tuple[str, str]]:
    """Where the parts lie, runs of layouts that are alike as one: the anchor, and its name in small letters: ``boards 1 to 7``."""
    runs = [run for run in like_runs(layouts) if any(placed.part in ids for one in run for placed in one.placed)]
    return [(f"{kind}-{run[0].number}", run_words(run, kind).lower()) for run in runs]


CHAPTER = Chapter("parts_index", "Index of parts", gather, runs_on=True, stays_whole=True)
