"""Holes and recesses that the author has marked from their mates: cut when the other half sits, and told so."""

from __future__ import annotations

import re
from functools import cache

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.model.derived import Derived
from drawleaf.model.plan import Bore, BoxCut
from small_plans import derived_from, outcome_from

BOX = """\
plan: {title: Wall box, number: W-1, date: 2026-11-30, author: A. Maker, lengths: in}
stock:
  ply: {material: birch plywood, nominal: 3/4, actual: 3/4}
assemblies:
  box:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 10, bottom: 0, top: 20, mirror: {x: 10}}
      floor: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 10, bottom: 0, mirror: {z: 10}}
    joints:
      - {butt: floor, to: side, with: [glue, {dowels: {count: 3}}]DOWELS}
    assemblies:
      panel:
        loose: yes
        parts:
          panel: {stock: ply, thickness: y, grain: z, left: side.right + 1/16, right: side.mirrored.left - 1/16, back: 0, bottom: 0, top: 20}
    hardware:
      - {item: inset magnet 1/2 in, on: floor, face: front, at: {x: 5, z: 3/8}, other_half_on: panel.panel, held_by: glue, other_half_held_by: glue MAGNETS}
"""


@cache
def box(dowels: str = "", magnets: str = "") -> Derived:
    return derived_from(BOX.replace("DOWELS", dowels).replace("MAGNETS", magnets))


def said(derived: Derived, step_id: str) -> tuple[list[str], list[str]]:
    """The kinds of a step's operations, and its actions."""
    (step,) = (one for one in derived.steps if step_id in (one.id, *one.also))
    text = step_text(step, derived, Formatter.of(derived.plan))
    bare = [re.sub(r"<[^>]+>", "", str(one)) for one in text.actions]
    return [operation.kind for operation in step.operations], [re.sub("[\u2009\u00a0\u202f]", " ", one) for one in bare]


def test_dowel_holes_are_carried_over_with_centers() -> None:
    """The jig of this kit is left in its drawer, and the second part is bored at the points."""
    step = next(one.id for one in box().steps if one.operations[0].kind == "dowel-holes")
    _, measured = said(box(), step)
    _, marked = said(box(", mark: from_mate"), step)
    assert not any("Push dowel centers" in one for one in measured)
    assert any("Push dowel centers into the holes" in one for one in marked)
    tools = {one.id: [tool.id for tool in one.tools] for one in box(", mark: from_mate").steps}[step]
    assert "dowel centres" in tools
    assert "dowelling jig" not in tools


def test_the_plate_is_let_in_where_its_magnet_marks_it() -> None:
    """Measured, both halves are bored while the parts are loose; marked, the panel's recess waits for the magnets."""
    early = {part for op in cutting(box()) for part in op.parts}
    assert "box.panel.panel" in early
    late = box("", ", mark: from_mate")
    assert "box.panel.panel" not in {part for op in cutting(late) for part in op.parts}
    kinds, words = said(late, "fit-magnets")
    assert kinds == ["recess-marked", "fit-magnets"]
    assert "Lay its plate on it, and chalk the plate" in words[0]
    cut = [
        feature
        for step in late.steps
        for op in step.operations
        for part, feature in op.features
        if part == "box.panel.panel"
    ]
    assert len([one for one in cut if isinstance(one, Bore | BoxCut) and one.kind == "recess"]) == 2
    assert late.audit.passed


def cutting(derived: Derived):
    return [op for step in derived.steps for op in step.operations if op.kind in ("recess", "recess-round")]


def test_what_marks_nothing_is_refused_with_a_cure_that_works() -> None:
    screwed = BOX.replace("{dowels: {count: 3}}", "{screws: {count: 3}}").replace("MAGNETS", "")
    found = [one for one in outcome_from(screwed.replace("DOWELS", ", mark: from_mate")).diagnostics if one.is_error]
    assert [(one.code, one.mend) for one in found] == [("mark-nothing", "Leave “mark” out.")]
    assert not [one for one in outcome_from(screwed.replace("DOWELS", "")).diagnostics if one.code == "mark-nothing"]
