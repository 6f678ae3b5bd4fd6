"""Words of finishing that follow from what the finish is and what it goes on."""

from __future__ import annotations

from tests.small_plans import derived_from
from tests.trade.plans import STAINED, shelf
from tests.trade.rule import HEAD

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text


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
