"""Words of finishing that follow from what the finish is and what it goes on."""

from __future__ import annotations

from tests.small_plans import derived_from, outcome_from, plan_from
from tests.trade.plans import STAINED, shelf
from tests.trade.rule import HEAD

from drawleaf.book.chapters import finishing
from drawleaf.book.chapters.context import Book
from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.compiler import Choice
from drawleaf.model.drawings import Drawings


def coats(*lines: str) -> list[str]:
    """What the steps that coat say, one text a step."""
    schedule = "\n".join(f"  - {{{line}}}" for line in lines)
    derived = derived_from(HEAD + STAINED.format(**shelf(schedule=schedule)))
    said = Formatter.of(derived.plan)
    steps = [step for step in derived.steps if any(op.coat and op.coat.product for op in step.operations)]
    return [" ".join(map(str, step_text(step, derived, said).actions)) for step in steps]


def test_water_on_bare_wood_raises_its_grain_first() -> None:
    (words,) = coats("apply: water-based polyurethane satin, to: all")
    assert "with a damp rag. Let it dry" in words
    (oil,) = coats("apply: oil-based polyurethane satin, to: all")
    assert "damp rag" not in oil


def test_what_is_stained_by_then_is_not_wetted() -> None:
    _, all_stained = coats("apply: gel stain walnut, to: all", "apply: water-based polyurethane satin, to: all")
    assert "damp rag" not in all_stained
    _, some = coats("apply: gel stain walnut, to: case.shelf", "apply: water-based polyurethane satin, to: all")
    assert "damp rag" in some


def test_what_is_coated_before_it_is_joined_is_not_sanded_after() -> None:
    for before, told in (("", False), (", before_assembly: yes", True)):
        schedule = f"  - {{apply: danish oil, to: case.shelf{before}}}"
        derived = derived_from(HEAD + STAINED.format(**shelf(schedule=schedule)))
        (step,) = (step for step in derived.steps if step.id == "fill-and-sand")
        words = " ".join(map(str, step_text(step, derived, Formatter.of(derived.plan)).actions))
        assert ("sanding would cut through the coat" in words) == told


def test_glue_faces_stay_bare_where_loose_parts_are_coated() -> None:
    (before,) = coats("apply: danish oil, to: all, before_assembly: yes")
    assert "every face and edge that will be glued" in before
    (after,) = coats("apply: danish oil, to: all")
    assert "will be glued" not in after


def test_gaps_are_filled_by_the_authors_word_before_the_last_sanding() -> None:
    """Filler is bought, the step says how, and warns of the stain that comes; without the word nothing is said."""
    schedule = "  - {fill: gaps, to: case, note: Tint it.}\n  - {apply: gel stain walnut, to: all}"
    derived = derived_from(HEAD + STAINED.format(**shelf(schedule=schedule)))
    (step,) = (step for step in derived.steps if step.id == "fill-and-sand")
    said = [str(one) for one in step_text(step, derived, Formatter.of(derived.plan)).actions]
    assert step.title.startswith("Fill ")
    places = [
        next(at for at, one in enumerate(said) if words in one)
        for words in ("what stands open", "Tint it", "choose the filler", "Sand all outside faces")
    ]
    assert places == sorted(places)
    assert "wood filler" in {supply.id for supply in step.supplies}
    (filler,) = (row for row in derived.consumables if row.item.id == "wood filler")
    assert "gaps at joints" in filler.why
    gathered = finishing.gather(Book.of(derived, Drawings(None, (), (), {}, {}, {}, {}), for_print=False))  # type: ignore[arg-type]
    assert gathered is not None
    assert [row in derived.plan.filling for row, _ in gathered["coats"]] == [False, True, False]
    bare = derived_from(HEAD + STAINED.format(**shelf(schedule="  - {apply: gel stain walnut, to: all}")))
    assert "stands open" not in str(
        step_text(next(one for one in bare.steps if one.id == step.id), bare, Formatter.of(bare.plan))
    )


def test_filling_has_no_coats() -> None:
    schedule = "  - {fill: gaps, coats: 2}"
    found = outcome_from(HEAD + STAINED.format(**shelf(schedule=schedule))).diagnostics
    assert [(one.code, one.mend) for one in found if one.is_error] == [("fill-gaps", "Leave “coats” out.")]


TWO = """
plan: {title: Two, number: X-1, date: 2026-11-20, author: Nobody, lengths: in}
stock:
  board: {material: pine board, size: 1x6}
assemblies:
  first: {loose: yes, parts: {plank: {stock: board, thickness: z, grain: x, left: 0, wide: 20, front: 0, deep: 5, bottom: 0}}}
  second: {loose: yes, parts: {plank: {stock: board, thickness: z, grain: x, left: 30, wide: 20, front: 0, deep: 5, bottom: 0}}}
finish:
  - {fill: gaps, to: second}
  - {apply: danish oil, to: second}
  - {fill: gaps, to: first}
  - {apply: danish oil, to: first}
editions:
  lone: {without: [second]}
"""


def test_gaps_are_filled_before_the_same_line_whatever_an_edition_leaves_out() -> None:
    """The second filling comes before the oil of the first plank, with one line before it or with none."""
    places = [[one.place for one in plan_from(TWO, Choice(edition=name)).filling] for name in (None, "lone")]
    assert places == [[0, 1], [0]]
