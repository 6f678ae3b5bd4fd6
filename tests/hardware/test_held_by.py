"""What holds each half of a magnet: screws, glue, or both, as the author says."""

from __future__ import annotations

import re

import pytest

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.model.derived import Derived
from small_plans import derived_from, outcome_from

BOX = """\
plan: {title: Box, number: B-1, date: 2026-11-30, author: A. Maker, lengths: in}
stock:
  ply: {material: birch plywood, nominal: 3/4, actual: 3/4}
  panel: {material: birch plywood, nominal: 1/2, actual: 1/2}
assemblies:
  box:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 10, bottom: 0, top: 12, mirror: {x: 10}}
      floor: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 10, bottom: 0}
      top: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 10, top: 12}
      block: {stock: ply, thickness: y, grain: x, left: side.right, right: side.mirrored.left, front: 0, bottom: floor.top, high: 3}
    joints:
      - {rabbet: [floor, top], in: side, depth: 1/4, with: [glue]}
      - {butt: block, to: floor, with: [glue]}
  lid:
    loose: yes
    parts:
      lid: {stock: panel, thickness: y, grain: x, left: 0, right: 20, back: box.side.front, bottom: 0, top: 6}
    hardware:
      - {item: inset magnet 1/2 in, on: box.block, face: front, at: {x: 4, z: 2}, repeat: {along: x, at: [0, 12]}, other_half_on: lid, HELD}
"""


def box(held: str) -> Derived:
    return derived_from(BOX.replace(", HELD", held))


def told(derived: Derived) -> tuple[str, str, set[str], float]:
    """The title of the step, what is done, what it uses up and how long it waits."""
    step = next(step for step in derived.steps if any(op.fittings for op in step.operations))
    text = step_text(step, derived, Formatter.of(derived.plan))
    plain = re.sub(r"<[^>]+>", "", " ".join(text.actions)).replace("\u00a0", " ")
    return step.title, plain, {supply.id for supply in step.supplies}, step.wait_hours


def test_a_half_of_thin_wood_is_glued_and_the_other_screwed() -> None:
    """In 1/2 in the screw of the plate would come through: the message says to glue that half, and so it is good."""
    stopped = [one for one in outcome_from(BOX.replace(", HELD", "")).diagnostics if one.is_error]
    assert {one.code for one in stopped} == {"hardware-screws"}
    assert "“other_half_held_by: glue”" in stopped[0].mend
    title, words, supplies, wait = told(box(", other_half_held_by: glue"))
    assert title == "Set in the magnets and their plates"
    assert "Mix a little two-part epoxy, put a drop under each plate" in words
    assert "pilot hole in the middle of each of the magnets" in words
    assert "two-part epoxy" in supplies
    assert wait == 12


@pytest.mark.parametrize(("held", "screwed"), [("glue", False), ("both", True)])
def test_both_halves_are_held_alike(held: str, screwed: bool) -> None:
    thick = BOX.replace("nominal: 1/2, actual: 1/2", "nominal: 3/4, actual: 3/4")
    derived = derived_from(thick.replace(", HELD", f", held_by: {held}, other_half_held_by: {held}"))
    _, words, supplies, _ = told(derived)
    assert "put a drop under each magnet and each plate" in words
    assert ("pilot hole" in words) is screwed
    assert [row.item.id for row in derived.consumables].count("two-part epoxy") == 1
    assert "two-part epoxy" in supplies


def test_screwed_as_ever_where_nothing_is_said() -> None:
    thick = BOX.replace("nominal: 1/2, actual: 1/2", "nominal: 3/4, actual: 3/4")
    title, words, supplies, wait = told(derived_from(thick.replace(", HELD", "")))
    assert title == "Screw in the magnets and their plates"
    assert "epoxy" not in words
    assert "two-part epoxy" not in supplies
    assert wait == 0
