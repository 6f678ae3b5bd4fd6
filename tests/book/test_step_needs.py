"""What a step tells its reader to have at hand."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.small_plans import derived_from

from drawleaf.book.chapters import step_needs
from drawleaf.book.chapters.context import Book
from drawleaf.book.page.measure import line_count
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


def test_on_paper_many_parts_are_told_by_their_numbers(monkeypatch: pytest.MonkeyPatch) -> None:
    """Fourteen names took eleven lines of their column. A screen has the room, and its names lead to the drawings."""
    derived = derived_from(RACK)
    step = replace(derived.steps[-1], parts=tuple(part.id for part in derived.plan.parts), scene=None)
    screen, paper = (
        Book.of(derived, Drawings(None, (), (), {}, {}, {}, {}), for_print=for_print)  # type: ignore[arg-type]
        for for_print in (False, True)
    )
    assert "Shelf" in next(step_needs.needs(paper, step))
    monkeypatch.setattr(step_needs, "_NAMED", 1)
    assert "Shelf" in next(step_needs.needs(screen, step))
    told = next(step_needs.needs(paper, step))
    assert "Shelf" not in told
    assert [told.count(f">{item.number}</span>") for item in derived.cut_list.items] == [1] * len(
        derived.cut_list.items
    )


def test_on_paper_parts_that_stand_already_are_told_by_their_numbers() -> None:
    derived = derived_from(RACK)
    book = Book.of(derived, Drawings(None, (), (), {}, {}, {}, {}), for_print=True)  # type: ignore[arg-type]
    ends, shelf = (
        tuple(part.id for part in derived.plan.parts if (part.name == "Shelf") is is_shelf)
        for is_shelf in (False, True)
    )
    joined = next(one for one in derived.steps if one.scene is not None)
    scene = replace(joined.scene, new=shelf, standing=ends)  # type: ignore[type-var]
    told = next(step_needs.needs(book, replace(joined, parts=(*ends, *shelf), scene=scene)))
    named, _, standing = told.partition("; in place: ")
    assert "Shelf" in named
    assert "balloon new" in named
    assert "End" not in told
    assert "balloon" in standing
    assert "new" not in standing


def test_a_long_name_is_broken_only_where_no_line_holds_it() -> None:
    """Front / and back post: the column held the name, below the one before it."""
    words = 'Saw it well <span class="need-part long"><span class="balloon">5</span>\u00a0Front and back brace</span> over by hand'
    whole, loose = (words.replace("need-part long", kind) for kind in ("whole", "need-part"))
    for width in (44.0, 50.0, 60.0, 90.0):
        assert line_count(words, width, 9.5) == line_count(whole, width, 9.5)
    assert line_count(words, 44.0, 9.5) == 1 + line_count(loose, 44.0, 9.5)
    assert line_count(words, 20.0, 9.5) == line_count(loose, 20.0, 9.5)


@pytest.mark.parametrize(
    ("grits", "wanted"),
    [("[120]", "anding discs, 120 grit"), ("[120, 150, 180]", "anding discs, 120, 150 and 180 grit")],
)
def test_several_grits_are_one_thing(grits: str, wanted: str) -> None:
    derived = derived_from(RACK.replace("{sand: [120], to: all}", f"{{sand: {grits}, to: all}}"))
    book = Book.of(derived, Drawings(None, (), (), {}, {}, {}, {}), for_print=True)  # type: ignore[arg-type]
    (sanding,) = [step for step in derived.steps if step.operations[0].kind == "sand-parts"]
    told = " ".join(one.striptags() for one in step_needs.needs(book, sanding))
    assert wanted in told
    assert told.count("discs") == 1


def test_what_is_brushed_on_is_told_with_the_abrasives() -> None:
    """A product of the finish schedule lies among the discs and paper."""
    derived = derived_from(
        RACK.replace("{sand: [120], to: all}", "{sand: [120], to: all}, {apply: danish oil, coats: 2}")
    )
    book = Book.of(derived, Drawings(None, (), (), {}, {}, {}, {}), for_print=True)  # type: ignore[arg-type]
    (oiling,) = [step for step in derived.steps if step.operations[0].kind == "coat"]
    assert "anish oil" in " ".join(one.striptags() for one in step_needs.needs(book, oiling))
