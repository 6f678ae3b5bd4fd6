"""Tools: what the steps use, what may stand in, and in which steps."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from markupsafe import Markup

from drawleaf.book.chapters.chapter import Chapter
from drawleaf.book.chapters.context import Book
from drawleaf.book.page.measure import POINT, text_height
from drawleaf.book.page.paper import CHAPTER_HEAD, Paper, paper_of
from drawleaf.english import capitalized
from drawleaf.model.lists import ToolRow

MOST_RUNS = 6
"""So many runs of steps stand on paper behind a tool; of more, the first ones: every step names its own tools."""
_BETWEEN_COLUMNS, _TICK = 8.0, 5.6
_SIZE, _GROUP_AIR, _INTRODUCTION = 9.5, 3.0, 12.5
_USUAL, _CLOSE = (1.24, 0.7), (1.13, 0.3)
"""The two columns, their lettering and air, and the words above them, in mm and points, as the style sheet has them; leading and air below
a row as usual and set closer."""
_UNEVEN = 4.0
"""Millimetres by which the second column may be longer than the first."""


def gather(book: Book) -> dict[str, Any] | None:
    rows = book.derived.tools
    if not rows:
        return None
    groups: dict[str, list[Any]] = {}
    for row in rows:
        groups.setdefault(row.tool.group, []).append(row)
    throughout = {tool.id for tool in book.on_the_bench}
    return {
        "groups": groups,
        "runs": {row.tool.id: runs_of(row.steps) for row in rows},
        "most_runs": MOST_RUNS if book.for_print else None,
        "throughout": throughout,
        "close": book.for_print and _set_closer(groups, throughout, paper_of(book.derived.plan.paper)),
    }


def _set_closer(groups: Mapping[str, Sequence[ToolRow]], throughout: set[str], paper: Paper) -> bool:
    """Whether the list runs a little over its page, so that closer lines keep it whole."""
    room = paper.text_height - CHAPTER_HEAD - _INTRODUCTION

    usual, close = (_list_height(groups, throughout, paper, setting) / 2.0 + _UNEVEN for setting in (_USUAL, _CLOSE))
    return usual > room >= close


def _list_height(
    groups: Mapping[str, Sequence[ToolRow]], throughout: set[str], paper: Paper, setting: tuple[float, float]
) -> float:
    """Millimetres of the list in one column."""
    leading, air = setting
    width = (paper.text_width - _BETWEEN_COLUMNS) / 2.0 - _TICK
    heads = len(groups) * (_SIZE * POINT * leading + _GROUP_AIR)
    rows = (_words(row, row.tool.id in throughout) for group in groups.values() for row in group)
    return heads + sum(text_height(words, width, _SIZE, leading) + air for words in rows)


def _words(row: ToolRow, throughout: bool) -> Markup:
    """About what the template says of a tool, to be measured."""
    runs = [f"{first}\u2013{last}" if last > first else f"{first}" for first, last in runs_of(row.steps)]
    steps = ", ".join(runs) if len(runs) <= MOST_RUNS else ", ".join(runs[: MOST_RUNS - 1]) + " and others"
    others = " or " + ", ".join(one.name for one in row.stand_ins) if row.stand_ins else ""
    borrow = " (to borrow: not among these tools)" if row.borrow else ""
    notes = " ".join(dict.fromkeys(words for words in (row.tool.note, row.why) if words))
    where = "in most steps" if throughout else steps
    return Markup("<strong>{}</strong>{}{} {} \u2013 {}").format(
        capitalized(row.tool.name), others, borrow, notes, where
    )


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
