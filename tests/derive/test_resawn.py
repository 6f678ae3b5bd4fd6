"""Boards sawn in two on the bandsaw: parts from both halves where they are thick enough, else a rest with its size. Figures worked by hand."""

from __future__ import annotations

import re

from drawleaf.book.chapters.layouts import leftovers
from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.compiler import Choice, check_plan

SOURCE = """
plan: {title: Slats, number: S-1, date: 2026-11-20, author: A. Maker, lengths: mm}
shop: {tools: KIT}
stock:
  ash: {material: ash lumber, size: 27 mm, actual: ACTUAL, width: 140 mm}
assemblies:
  rack:
    parts:
      post: {stock: ash, thickness: z, grain: x, left: 0, wide: 1500, front: 0, deep: 140, bottom: 0}
      rail: {stock: ash, thickness: z, grain: x, left: 0, wide: 1500, front: post.back, deep: 140, bottom: 0}
      third: {stock: ash, thickness: z, grain: x, left: 0, wide: 1500, front: rail.back, deep: 140, bottom: 0}
    joints:
      - {butt: rail, to: post, with: [glue]}
      - {butt: third, to: rail, with: [glue]}
"""


def outcome_with(tmp_path, actual: str, kit: str = "full shop"):
    (tmp_path / "plan.yaml").write_text(SOURCE.replace("KIT", kit).replace("ACTUAL", actual))
    outcome = check_plan(tmp_path, Choice())
    assert not outcome.failed, [(one.code, one.message) for one in outcome.diagnostics]
    return outcome.derived


def plain(text: object) -> str:
    return re.sub("<[^>]+>", "", str(text)).replace("\u00a0", " ").replace("\u2009", " ")


def resaw_words(derived) -> str:
    return " ".join(
        plain(action) for action in step_text(derived.steps[0], derived, Formatter.of(derived.plan)).actions
    )


def test_both_halves_give_parts_where_they_are_thick_enough(tmp_path) -> None:
    """27 mm rough, one face planed by 2.5: 24.5. Twice 8 and 3.2 to plane and a cut of 1.6 are 24: two boards of three parts' length, not three."""
    derived = outcome_with(tmp_path, "8")
    boards = derived.layouts.boards
    assert [(board.number, board.leaf, board.leaves) for board in boards] == [(1, 1, 2), (2, 2, 2), (3, 1, 1)]
    (need,) = derived.layouts.needs
    assert [count for *_, count in need.buy] == [2]
    assert need.least == 2
    assert "boards 1 and 2 come from one" in resaw_words(derived)
    assert "Boards 1 and 2 are resawn from one." in plain(leftovers(boards[0], Formatter.of(derived.plan)))
    assert derived.audit.passed


def test_what_gives_no_part_is_told_with_its_size(tmp_path) -> None:
    """For 10 mm the first cut takes 10 + 3.2 + 1.6 of the 24.5: 9.7 are left, 6.6 once planed. Three boards are bought."""
    derived = outcome_with(tmp_path, "10")
    assert [(board.leaf, board.leaves) for board in derived.layouts.boards] == [(1, 1)] * 3
    assert [count for *_, count in derived.layouts.needs[0].buy] == [3]
    assert "does for parts up to 6.5 mm thick" in resaw_words(derived)
    assert "6.5 mm thick once planed" in plain(leftovers(derived.layouts.boards[0], Formatter.of(derived.plan)))
    (row,) = [row for row in derived.shopping.rows if row.name.startswith("Ash")]
    assert row.spare.startswith("Left over: 3 thin boards of ")
    assert row.spare.endswith("x 140 mm, good for 6.5 mm once planed")


def test_without_a_bandsaw_nothing_is_resawn(tmp_path) -> None:
    derived = outcome_with(tmp_path, "8, planed: at the yard", "common power tools")
    assert {(board.leaf, board.leaves, board.rest) for board in derived.layouts.boards} == {(1, 1, None)}
    assert [count for *_, count in derived.layouts.needs[0].buy] == [3]


def test_a_rest_too_thin_to_keep_is_not_told(tmp_path) -> None:
    """For 12 mm 24.5 - 12 - 3.2 - 1.6 leaves 7.7, 4.6 once planed: less than the quarter inch that is kept."""
    derived = outcome_with(tmp_path, "12")
    assert {board.rest for board in derived.layouts.boards} == {None}
    assert "thin board to keep." in resaw_words(derived)
