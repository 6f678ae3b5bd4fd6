"""The index of parts: where each part is listed, laid out, drawn and worked on."""

from __future__ import annotations

from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.context import Book


def gather(book: Book) -> dict[str, Any]:
    layouts = book.derived.layouts
    rows = []
    for item in sorted(book.derived.cut_list.items, key=lambda item: item.number):
        ids = {part.id for part in item.parts}
        sheets = [layout for layout in layouts.sheets if any(placed.part in ids for placed in layout.placed)]
        boards = [layout for layout in layouts.boards if any(placed.part in ids for placed in layout.placed)]
        rows.append((item, sheets, boards, item.number in book.drawings.parts, book.steps_of(item)))
    return {"rows": rows}


CHAPTER = Chapter("parts_index", "Index of parts", gather)
