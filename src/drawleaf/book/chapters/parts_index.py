"""The index of parts: where each part is listed, laid out, drawn and worked on."""

from __future__ import annotations

from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.chapters.tools import runs_of
from drawleaf.book.context import Book


def gather(book: Book) -> dict[str, Any]:
    layouts = book.derived.layouts
    rows = []
    for item in sorted(book.derived.cut_list.items, key=lambda item: item.number):
        ids = {part.id for part in item.parts}
        sheets = [layout for layout in layouts.sheets if any(placed.part in ids for placed in layout.placed)]
        boards = [layout for layout in layouts.boards if any(placed.part in ids for placed in layout.placed)]
        runs = runs_of([step.number for step in book.steps_of(item)])
        rows.append((item, sheets, boards, item.number in book.drawings.parts, runs))
    return {"rows": rows, "step_ids": {step.number: step.id for step in book.derived.steps}}


CHAPTER = Chapter("parts_index", "Index of parts", gather, runs_on=True, stays_whole=True)
