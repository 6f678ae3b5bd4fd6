"""Parts that cross on edge, and boards in a row: what is told is typed, and one line is enough."""

from __future__ import annotations

import re

from tests.small_plans import outcome_from, plan_from

HEAD = "plan: {title: Piece, number: P-1, date: 2026-11-30, author: A. Maker, lengths: in}\n"
CRATE = (
    HEAD
    + """\
stock: {ply: {material: birch plywood, nominal: 1/4, actual: 1/4}}
assemblies:
  crate:
    parts:
      long: {stock: ply, grain: x, left: 0, right: 20, front: 6, bottom: 0, high: 4}
      short: {stock: ply, grain: y, left: 5, front: 0, back: 12, bottom: 0, high: 4, repeat: {along: x, at: [0, 9]}}
    joints: [{half_lap: short, in: long}]
"""
)


def test_dividers_that_cross_are_told_their_slots() -> None:
    """All lines of the messages typed in, the plan is good: each part loses half of what they share."""
    found = [one for one in outcome_from(CRATE).diagnostics if one.is_error]
    assert {one.code for one in found} == {"lap-across"}
    lines = dict.fromkeys(line for one in found for line in re.findall(r"“- (\{in: .*?\}\})”", one.mend))
    assert len(lines) == 4
    typed = CRATE.replace("half_lap: short, in: long", "butt: short, to: long")
    outcome = outcome_from(typed + "    machining:\n" + "".join(f"      - {line}\n" for line in lines))
    assert [one for one in outcome.diagnostics if one.is_error] == []
    assert outcome.derived is not None
    assert outcome.derived.audit.passed


ROW = (
    HEAD
    + """\
stock: {b: {material: pine board, size: 1x6}}
assemblies:
  panel:
    parts:
      slat: {stock: b, thickness: y, grain: z, left: 0, wide: 5-1/4, back: 1, bottom: 0, top: 30, repeat: {along: x, spacing: 5-1/4, count: 4}}
    joints: [{tongue: slat, in: slat, depth: 1/4, clearance: 1/16}]
"""
)


def test_boards_in_a_row_are_each_let_into_the_next() -> None:
    """Three tongues among four boards, all on the same side."""
    pairs = [(one.insert[-1], one.receiver[-1]) for one in plan_from(ROW).joints]
    assert pairs == [("1", "2"), ("2", "3"), ("3", "4")]
