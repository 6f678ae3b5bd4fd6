"""What a step tells its reader to have at hand."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.small_plans import derived_from

from drawleaf.book.chapters import step_needs
from drawleaf.book.chapters.context import Book
from drawleaf.model.drawings import Drawings

RACK = """
plan: {title: T, number: T-1, date: 2026-11-24, author: A, lengths: in}
stock: {board: {material: pine board, nominal: 3/4, actual: 3/4}}
assemblies:
  rack:
    name: Rack
    parts:
      end: {name: End, stock: board, thickness: x, grain: z, left: 0, front: 0, deep: 4, bottom: 0, high: 10, mirror: {x: 10}}
      shelf: {name: Shelf, stock: board, thickness: z, grain: x, left: end.right, right: end.mirrored.left, front: 0, deep: 4, bottom: 2}
    joints:
      - {butt: shelf, to: end, with: [glue]}
finish: [{sand: [120], to: all}]
"""


def test_all_parts_means_every_piece_of_them(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two numbers, of which two pieces share one: a step without one of the two takes each number, but not all parts."""
    monkeypatch.setattr(step_needs, "_FEW", 1)
    derived = derived_from(RACK)
    book = Book.of(derived, Drawings(None, (), (), {}, {}, {}, {}), for_print=True)  # type: ignore[arg-type]
    left, *others = (part.id for part in derived.plan.parts if part.name != "Shelf")
    whole = replace(derived.steps[-1], parts=tuple(part.id for part in derived.plan.parts), scene=None)
    one_less = replace(whole, parts=tuple(part for part in whole.parts if part != left))
    assert len(others) == 1
    assert next(step_needs.needs(book, whole)) == "All parts."
    assert next(step_needs.needs(book, one_less)).count('class="need-part"') == 2


def test_on_a_screen_a_part_leads_to_its_drawing() -> None:
    """The parts that have one; on paper its number says where it stands."""
    derived = derived_from(RACK)
    numbers = {item.name: item.number for item in derived.cut_list.items}
    drawn = Drawings(None, (), (), {numbers["Shelf"]: None}, {}, {}, {})  # type: ignore[arg-type, dict-item]
    step = replace(derived.steps[-1], parts=tuple(part.id for part in derived.plan.parts), scene=None)
    screen, paper = (
        next(step_needs.needs(Book.of(derived, drawn, for_print=for_print), step)) for for_print in (False, True)
    )
    assert screen.count("<a ") == 1
    assert f'href="#part-{numbers["Shelf"]}"' in screen
    assert "<a " not in paper
