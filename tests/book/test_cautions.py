"""Cautions that a reader reads: in the words of the cut, once in full, again where a later stage has the hazard."""

from __future__ import annotations

from functools import cache

import pytest
from tests.conftest import outcome_of
from tests.small_plans import derived_from

from drawleaf.book.chapters.context import Book
from drawleaf.compiler import Choice
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawings
from drawleaf.model.steps import Method, Step

BOX = """
plan: {title: Box, number: B-1, revision: A, date: 2026-11-20, author: A, contact: a@b.example, copyright: c, terms: t, summary: s, lengths: in}
stock:
  ply: {material: birch plywood, nominal: 3/4, actual: 23/32}
  board: {material: pine board, size: 1x4}
assemblies:
  box:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 12, bottom: 0, top: 14, mirror: {x: 9}}
      floor: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 12, bottom: 2}
      rail: {stock: board, thickness: y, full_width: z, grain: x, left: side.right, right: side.mirrored.left, back: 12, top: 14}
    joints:
      - {dado: floor, in: side, depth: 1/4, with: [glue]}
      - {butt: rail, to: side, with: [glue, {screws: {count: 2}}]}
    machining:
      - {in: side, bore: {face: left, at: {y: 6, z: 8}, diameter: 1, depth: 3/8}}
      - {in: rail, bore: {face: front, at: {x: 9, z: 12}, diameter: 1}}
checks: {waive: [{check: tip-over, reason: It is an example.}]}
"""
EXAMPLES = ("record-cabinet", "tool-tote", "trestle-table", "step-stool")


@cache
def derived_of(name: str) -> Derived:
    if name == "box":
        return derived_from(BOX, Choice(kit="full shop"))
    derived = outcome_of(name).derived
    assert derived is not None
    return derived


def book_of(derived: Derived) -> Book:
    return Book.of(derived, Drawings(None, (), (), {}, {}, {}, {}), for_print=True)  # type: ignore[arg-type]


def told(book: Book) -> list[tuple[Step, set[str], set[str]]]:
    """Each step with the ids told in full and in short."""
    return [
        (step, {one.id for one in full}, {one.id for one in short})
        for step in book.derived.steps
        for full, short in [book.cautions_of(step)]
    ]


@pytest.mark.parametrize("name", ["box", *EXAMPLES])
def test_no_hazard_loses_its_words_and_few_are_repeated(name: str) -> None:
    book = book_of(derived_of(name))
    rows = told(book)
    carried = {caution.id for step in book.derived.steps for caution in step.cautions}
    in_full = [name for _, full, _ in rows for name in full]
    assert sorted(in_full) == sorted(carried)
    for step, full, short in rows:
        for caution in step.cautions:
            fresh = caution.id not in {
                one.id
                for other in book.derived.steps
                if other.stage == step.stage and other.number < step.number
                for one in other.cautions
            }
            assert (caution.id in full | short) == (fresh or caution.every_use), (step.id, caution.id)


def test_the_cabinet_has_at_most_twenty_panels() -> None:
    book = book_of(derived_of("record-cabinet"))
    panels = [signal for step in book.derived.steps for signal in {one.signal for one in book.cautions_of(step)[0]}]
    assert 10 <= len(panels) <= 20


def ways_of(derived: Derived) -> list[Method]:
    return [way for step in derived.steps for op in step.operations for way in (op.method, *op.others)]


@pytest.mark.parametrize("name", ["box", *EXAMPLES])
def test_each_kind_of_cut_has_its_own_words(name: str) -> None:
    """Neither a riving knife where the blade does not come through, nor a push stick where the gauge carries the part."""
    for way in ways_of(derived_of(name)):
        tools = {tool.id for tool in way.tools}
        words = " ".join(line for one in way.cautions for line in (*one.avoid, one.short))
        if "dado set" in tools:
            assert "riving knife on." not in words.replace("Put the guard and riving knife back on", "")
            assert "push blocks" in words
        if "table saw" in tools and not {"push stick", "push block"} & tools:
            assert "push stick" not in words, way.name
        if "router table" in tools:
            assert "two hands on the router" not in words


def test_a_crosscut_keeps_the_riving_knife_and_names_the_gauge() -> None:
    derived = derived_of("step-stool")
    (way,) = {way.id: way for way in ways_of(derived) if way.id.startswith("table-saw-with-the-miter-gauge")}.values()
    assert "mitre gauge" in {one.id for one in way.cautions}
    assert "table saw" not in {one.id for one in way.cautions}


@pytest.mark.parametrize("name", ["box", "tool-tote"])
def test_a_wide_hole_that_ends_in_the_wood_has_its_own_tools_words_and_check(name: str) -> None:
    derived = derived_of(name)
    book = book_of(derived)
    blind = [
        (step, op)
        for step in derived.steps
        for op in step.operations
        if op.kind == "bore" and any(feature.depth is not None and feature.diameter.inches > 0.5 for _, feature in op.features)  # type: ignore[union-attr]
    ]  # fmt: skip
    assert blind
    for row in derived.tools:
        if any(row.tool in op.method.tools for _, op in blind):
            assert not {"hole saw", "spade bit"} & {tool.id for tool in row.stand_ins}, row.tool.id
    for step, op in blind:
        for way in (op.method, *op.others):
            assert not {"hole saw", "spade bit"} & {tool.id for tool in way.tools}
            assert "large bit" not in {one.id for one in way.cautions}
        text = book.texts[step.number]
        assert "far side" in str(text.check) or len(step.operations) > 1
        assert any("flag of tape" in str(action) for action in text.actions)


@pytest.mark.parametrize("name", ["box", *EXAMPLES])
def test_the_tool_list_offers_what_the_steps_offer(name: str) -> None:
    derived = derived_of(name)
    named = {one for work in derived.plan.catalogue.methods.values() for way in work.ways for one in way.tools}
    for row in derived.tools:
        for other in row.stand_ins:
            if other.id not in named:
                continue
            for step in derived.steps:
                for op in step.operations:
                    if row.tool in op.method.tools:
                        assert any(other in way.tools for way in op.others), (row.tool.id, other.id, op.id)


def test_a_jigsaw_that_saws_an_arc_has_no_hand_saw_in_its_place() -> None:
    (row,) = [row for row in derived_of("tool-tote").tools if row.tool.id == "jigsaw"]
    assert "hand saw" not in {one.id for one in row.stand_ins}


def test_furniture_has_no_live_wires() -> None:
    catalogue = derived_of("record-cabinet").plan.catalogue
    words = [
        one for one in catalogue.cautions.values() if "shock" in one.consequence or "electrocuted" in one.consequence
    ]
    assert [one.id for one in words] == ["wall fixing"]
