"""Boards that are cut alike: drawn once, cut at one setting of the stop after the other."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import TypeVar

from drawleaf.english import plural
from drawleaf.model.lists import BoardLayout, Placed, SheetLayout

AnyLayout = TypeVar("AnyLayout", SheetLayout, BoardLayout)


def like_runs(layouts: Iterable[AnyLayout]) -> tuple[tuple[AnyLayout, ...], ...]:
    """Sheets or boards in their order, those that follow one another and differ in nothing but which copy they give together."""
    runs: list[list[AnyLayout]] = []
    for layout in layouts:
        if runs and _bare(runs[-1][0]) == _bare(layout):
            runs[-1].append(layout)
        else:
            runs.append([layout])
    return tuple(tuple(run) for run in runs)


def run_words(layouts: Sequence[SheetLayout | BoardLayout], kind: str) -> str:
    """``Board 3``, ``Boards 1 and 2``, ``Boards 1 to 7``."""
    first, last = layouts[0].number, layouts[-1].number
    if first == last:
        return f"{kind.capitalize()} {first}"
    return f"{plural(kind.capitalize())} {first} {'and' if last == first + 1 else 'to'} {last}"


def _bare(layout: AnyLayout) -> AnyLayout:
    """The layout without its number and without what distinguishes copies of a piece."""
    bare = replace(layout, number=0, placed=tuple(_any_copy(piece) for piece in layout.placed))
    return replace(bare, leaf=1) if isinstance(bare, BoardLayout) else bare


def _any_copy(piece: Placed) -> Placed:
    return replace(piece, part="", strip=piece.strip and 1)
