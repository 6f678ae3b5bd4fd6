"""The finishing schedule, line by line."""

from __future__ import annotations

from typing import Any

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.chapters.context import Book
from drawleaf.model.plan import Filling, FinishCoat


def gather(book: Book) -> dict[str, Any] | None:
    plan = book.derived.plan
    if not plan.finish and not plan.filling:
        return None
    rows: list[tuple[FinishCoat | Filling, str]] = [(coat, _where(book, coat)) for coat in plan.finish]
    for one in reversed(plan.filling):
        rows.insert(one.place, (one, _where(book, one)))
    return {"coats": rows, "products": book.derived.finishes, "filling": plan.filling}


def _where(book: Book, coat: FinishCoat | Filling) -> str:
    """The parts that a line is for, by their names in the cut list; what is left out, where that is shorter."""
    every = {part.id for part in book.derived.plan.parts}
    done = set(coat.parts)
    if done == every:
        return "all parts"
    named, left_out = _names(book, done), _names(book, every - done)
    if len(left_out) < len(named) and not set(named) & set(left_out):
        return f"all parts but {book.formatter.join(left_out)}"
    return str(book.formatter.join(named))


def _names(book: Book, parts: set[str]) -> list[str]:
    """Names of these parts in the order of the cut list, each once."""
    names = (item.name.lower() for item in book.derived.cut_list.items if any(part.id in parts for part in item.parts))
    return list(dict.fromkeys(names))


CHAPTER = Chapter("finishing", "Finishing", gather, runs_on=True, stays_whole=True)
