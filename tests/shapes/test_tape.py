"""Edge tape brings its own glue: it is cut with scissors, ironed on and trimmed."""

from __future__ import annotations

from shape_trials import derived_of, words_of

TAPED = """\
assemblies:
  shelf:
    loose: yes
    parts:
      board: {stock: ply, thickness: z, grain: x, left: 0, right: 24, front: 0, back: 10, bottom: 5}
      tape: {stock: tape, thickness: y, grain: x, left: 0, right: 24, back: 0, bottom: board.bottom, top: board.top}
    joints:
      - {butt: tape, to: board, with: [glue]}
"""


def test_it_is_neither_ripped_nor_clamped_nor_glued() -> None:
    derived = derived_of(TAPED)
    kinds = {op.kind for step in derived.steps for op in step.operations}
    assert {"cut-tape", "join"} <= kinds
    assert not {"rip", "crosscut"} & kinds
    step = next(step for step in derived.steps if any(op.joints and op.kind == "join" for op in step.operations))
    assert step.clamps == ()
    assert step.wait_hours == 0
    assert "hot iron" in {caution.id for caution in step.cautions}
    assert "wood glue" not in {row.item.id for row in derived.consumables}


def test_it_is_cut_longer_than_its_edge_and_says_where_it_goes() -> None:
    """24 in and an inch to trim."""
    assert "25 in long" in " ".join(" ".join(words_of(TAPED, "cut-tape")).split())
    derived = derived_of(TAPED)
    step = next(step for step in derived.steps if any(op.joints for op in step.operations if op.kind == "join"))
    said = " ".join(words_of(TAPED, step.id))
    assert "on the front edge of the board" in " ".join(said.split())
