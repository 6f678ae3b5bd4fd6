"""Stain goes on panels that float before they are in their grooves, and on the rest when the piece stands, without the author's asking."""

from __future__ import annotations

import pytest
from tests.shape_trials import words_in
from tests.small_plans import derived_from
from tests.trade.plans import STAINED_DOOR
from tests.trade.rule import HEAD

from drawleaf.derive.buying.finish_amounts import one_coat

LID = """
stock:
  oak: {material: construction lumber, size: 2x4}
  thin: {material: red oak board, size: 1x6}
  ply: {material: birch plywood, nominal: 6 mm, actual: 6 mm}
assemblies:
  lid:
    parts:
      rail: {stock: oak, thickness: z, full_width: y, grain: x, left: 0, right: 400, front: 0, bottom: 0, mirror: {y: 200}}
      board: {stock: %s, thickness: z, grain: x, left: 0, right: 400, front: rail.back, back: rail.mirrored.front, bottom: 9%s}
    joints:
      - {groove: board, in: rail, depth: 8, clearance: 3%s}
finish:
  - {sand: [120], to: all}
  - {apply: wood conditioner, to: all}
  - {fill: gaps}
  - {apply: gel stain walnut, to: all%s}
  - {apply: danish oil, coats: 2, to: all}
"""
SOLID = ("thin", ", glue_up: {strips: 3}", "")


def lines(source: str) -> list[tuple[str, bool, list[str]]]:
    """Product, whether before assembly, and kinds of parts, of each line that coats."""
    plan = derived_from(HEAD + source).plan
    return [
        (coat.product.id, coat.before_assembly, sorted({plan.part(one).kind for one in coat.parts}))
        for coat in plan.finish
        if coat.product is not None
    ]


def test_stain_and_what_evens_the_wood_for_it_go_on_the_free_panel_first() -> None:
    """The oil comes over the stain: it may wait."""
    assert lines(LID % (*SOLID, "")) == [
        ("wood conditioner", True, ["lid.board"]),
        ("wood conditioner", False, ["lid.rail"]),
        ("gel stain walnut", True, ["lid.board"]),
        ("gel stain walnut", False, ["lid.rail"]),
        ("danish oil", False, ["lid.board", "lid.rail"]),
    ]


def test_a_panel_that_does_not_move_or_that_the_author_times_is_left_as_written() -> None:
    """Plywood shows no pale strip; glued solid wood neither. A plain “no” is the author's word."""
    whole = [
        (product, False, ["lid.board", "lid.rail"])
        for product in ("wood conditioner", "gel stain walnut", "danish oil")
    ]
    assert lines(LID % ("ply", "", "", "")) == whole
    assert lines(LID % (*SOLID[:2], ", with: [glue]", "")) == whole
    assert lines(LID % (*SOLID, ", before_assembly: no")) == whole


def test_the_steps_come_in_that_order_and_say_why() -> None:
    """No tape on what is never glued; no sandpaper on what is stained."""
    door = STAINED_DOOR.format(schedule="  - {apply: gel stain walnut, to: door}")
    for source in (door, LID % (*SOLID, "")):
        derived = derived_from(HEAD + source)
        stained = [step for step in derived.steps if "gel-stain" in step.id]
        joined = next(step for step in derived.steps if any(op.kind == "join" for op in step.operations))
        assert len(stained) == 2
        assert stained[0].number < joined.number < stained[1].number
        first = " ".join(words_in(derived, stained[0].id))
        assert "grooves hide" in first
        assert "glue holds on bare wood" not in first
        assert "sanding would cut through the coat" in " ".join(words_in(derived, "fill-and-sand"))


def test_each_of_the_two_lines_says_what_its_own_parts_take() -> None:
    """Together they take what is bought for."""
    derived = derived_from(HEAD + LID % (*SOLID, ""))
    (row,) = [one for one in derived.finishes if one.product.stains]
    said = [one_coat(derived.plan, coat) for coat in derived.plan.finish if coat.product is row.product]
    assert len(said) == 2
    assert all(said)
    assert sum(said) == pytest.approx(row.litres)
    steps = [step for step in derived.steps if "gel-stain" in step.id]
    told = [words_in(derived, step.id)[0] for step in steps]
    assert [line.split("about ")[1].replace("\u00a0", " ") for line in told] == ["20 ml", "20 ml"]
