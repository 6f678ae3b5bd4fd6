"""Rods that stand with their ends in holes, as in a rack: they are knocked in, all of a row are told, and no clamp or tape holds them."""

from __future__ import annotations

import re

from tests.shape_trials import words_in
from tests.small_plans import derived_from

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.model.derived import Derived

RACK = """
plan: {title: T, number: T-1, date: 2026-11-30, author: A. Maker, lengths: mm}
stock:
  board: {material: beech board, size: 20x90}
  rod: {material: hardwood dowel rod, size: 12 rod}
assemblies:
  rack:
    parts:
      base: {stock: board, thickness: z, full_width: y, grain: x, left: 0, wide: 500, front: 0, bottom: 0}
      rod: {stock: rod, thickness: x, grain: z, left: 30, front: 40, deep: 12, bottom: base.top, high: 150, section: {round: yes}, repeat: {along: x, count: %d, spacing: 60}}
      top: {stock: board, thickness: z, full_width: y, grain: x, left: 0, wide: 500, front: 0, bottom: rod.1.top}
    joints:
      - {round_tenon: rod, in: [base, top], depth: 9, with: [glue]}
"""


def built(count: int) -> Derived:
    return derived_from(RACK % count)


def test_every_rod_of_a_row_is_told_in_one_line() -> None:
    """Six came as “all 4” and “both”, and of eight the second line was the same as the first and went missing."""
    for count in (6, 8):
        derived = built(count)
        step = next(
            one for one in derived.steps if "rack.rod.1" in (one.scene.new if one.scene else ()) and one.scene.moves
        )
        words = " ".join(words_in(derived, step.id))
        assert f"all {count} rods" in words, words


def test_no_clamp_and_no_tape_holds_a_rod() -> None:
    """Its hole does: it is knocked home with the mallet, and the check is its depth, not the shoulders of a tenon."""
    derived = built(6)
    steps = [one for one in derived.steps if one.id.startswith("assemble-rack")]
    assert steps
    for step in steps:
        said = step_text(step, derived, Formatter.of(derived.plan))
        words = re.sub(r"<[^>]+>", "", " ".join(map(str, (*said.actions, said.check))))
        assert "Knock each end home" in words
        assert not [one for one in ("masking tape", "clamps", "shoulders") if one in words]
        assert not step.clamps
