"""Openings through an edge, strips that line an opening, what is trimmed after it is glued, and strips that are cut through when they stand."""

from __future__ import annotations

import re

import pytest

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.compiler import Outcome
from drawleaf.model.derived import Derived
from drawleaf.model.place import Face
from small_plans import derived_from, outcome_from

BOX = """\
plan: {title: Box, number: B-1, date: 2026-11-30, author: A. Maker, lengths: in}
stock:
  ply: {material: birch plywood, nominal: 3/4, actual: 3/4}
  thin: {material: birch plywood, nominal: 1/4, actual: 1/4}
assemblies:
  box:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 10, bottom: 0, top: 16, mirror: {x: 10}}
      floor: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 10, bottom: 0}
      top: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 10, top: 16}
      strip: {name: Lining strip, stock: thin, thickness: z, grain: y, left: side.left, right: side.right, front: side.window.front, back: side.window.back, bottom: side.window.bottom, FITTED}
      edge: {name: Edge strip, stock: thin, thickness: y, grain: x, left: floor.left, right: floor.right, back: floor.front, bottom: floor.bottom, top: floor.top}
    joints:
      - {rabbet: [floor, top], in: side, depth: 1/4, with: [glue]}
      - {butt: strip, to: side.original, with: [glue]}
      - {butt: edge, to: floor, with: [EDGE]}
    machining:
      - {name: window, in: side, cutout: {face: left, at: {y: 5, z: 8}, deep: 4, high: 6}}
      - {in: top, cutout: {face: top, at: {x: 10, y: 0}, wide: 5, deep: 4, round: 1/2}}
      - {in: floor, cutout: {face: top, at: {x: 14, y: 0}, wide: 3, deep: 4}}
      - {in: [floor, edge], cutout: {face: top, at: {x: 5, y: 0}, wide: 2, deep: 3, after_assembly: yes}}
"""


def box(fitted: str = "fitted: {width: 1/16, from: side, trim: yes}", edge: str = "glue") -> str:
    return BOX.replace("FITTED", fitted).replace("EDGE", edge)


@pytest.fixture(scope="module")
def made() -> Derived:
    return derived_from(box())


def said(derived: Derived, kind: str, tool: str = "") -> str:
    """What is done in the step with such an operation."""
    step = next(
        step
        for step in derived.steps
        if any(op.kind == kind and (not tool or tool in op.parts) for op in step.operations)
    )
    text = step_text(step, derived, Formatter.of(derived.plan))
    return re.sub(r"<[^>]+>", "", " ".join(text.actions)).replace("\u00a0", " ")


def test_a_strip_lies_where_the_opening_says_and_is_glued_to_its_wall(made: Derived) -> None:
    strip = made.plan.part("box.strip")
    assert [strip.seen.face(face).inches for face in (Face.FRONT, Face.BACK, Face.BOTTOM)] == [3, 7, 5]
    meetings = {(joint.receiver, joint.face) for joint in made.plan.joints if joint.insert == "box.strip"}
    assert meetings == {("box.side", Face.BOTTOM)}


def test_an_opening_through_an_edge_is_sawn_in_from_there(made: Derived) -> None:
    square, round_cornered = said(made, "cutout", "box.floor"), said(made, "cutout", "box.top")
    assert "Saw in from the edge" in square
    assert "Bore" not in square
    assert "Bore each corner that lies in the wood right through" in round_cornered
    inside = said(made, "cutout", "box.side")
    assert "Bore a hole in the waste beside each corner" in inside
    assert "in from the edge" not in inside


def test_what_stands_over_is_trimmed_when_the_glue_is_dry(made: Derived) -> None:
    words = said(made, "trim-flush")
    assert "bearing runs on" in words
    trim = next(op for step in made.steps for op in step.operations if op.kind == "trim-flush")
    assert [method.name for method in (trim.method, *trim.others)] == [
        "router with a flush-trim bit",
        "block plane",
        "chisel",
    ]
    (item,) = [item for item in made.cut_list.items if item.parts[0].id == "box.strip"]
    assert item.parts[0].rough[1].inches == pytest.approx(13 / 16)


def test_a_strip_that_is_cut_through_stays_one_part_while_it_is_glued(made: Derived) -> None:
    assert "box.edge" in {
        part for step in made.steps for op in step.operations if op.kind == "cut-standing" for part in op.parts
    }
    loose: Outcome = outcome_from(
        box(edge="brads: {count: 1}").replace("with: [brads: {count: 1}]", "with: [{brads: {count: 2}}]")
    )
    assert [one.code for one in loose.diagnostics if one.is_error] == ["falls-apart"]


def test_a_standing_piece_is_sawn_in_from_its_edge_too(made: Derived) -> None:
    """The notch goes through the strip and the floor behind it: 1-1/2 in of the one and 1/4 in of the other."""
    words = said(made, "cut-standing")
    assert "an opening 2 in by 1" in words
    assert "from the left side and open at the front" in words
    assert "No starter hole is needed there" in words
    assert "Bore" not in words


def test_a_face_that_an_opening_has_not_is_told() -> None:
    (wrong,) = outcome_from(box().replace("side.window.front", "side.window.left")).diagnostics
    assert wrong.code == "unknown-face"
    assert wrong.cause == "An opening has the faces front, back, bottom, top."
