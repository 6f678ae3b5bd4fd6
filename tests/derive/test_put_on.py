"""A finish is put on as the author says: brushed, padded or sprayed; what is wiped on is wiped."""

from __future__ import annotations

import pytest

from drawleaf.model.derived import Derived
from drawleaf.model.steps import Step
from small_plans import derived_from, outcome_from

BOARD = """\
plan: {title: Board, number: B-1, date: 2026-11-30, author: A. Maker, lengths: in}
stock:
  ply: {material: birch plywood, nominal: 3/4, actual: 3/4}
assemblies:
  box:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 10, bottom: 0, top: 12, mirror: {x: 10}}
      floor: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 10, bottom: 0}
      top: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 10, top: 12}
    joints:
      - {rabbet: [floor, top], in: side, depth: 1/4, with: [glue]}
finish:
  - {apply: shellac, coats: 2, to: box.floor, before_assembly: yes}
  - {apply: water-based polyurethane satin, coats: 2, BY}
"""


def coats(derived: Derived) -> list[Step]:
    return [step for step in derived.steps if any(op.kind == "coat" for op in step.operations)]


@pytest.mark.parametrize(
    ("by", "verb", "tool"),
    [("brush", "Brush on", "brush"), ("spray", "Spray on", "spray gun"), ("pad", "Rub on", "foam pad")],
)
def test_the_author_says_how(by: str, verb: str, tool: str) -> None:
    last = coats(derived_from(BOARD.replace("BY", f"by: {by}")))[-1]
    assert last.title.startswith(verb)
    assert last.operations[0].method.tools[0].id == tool
    assert tool not in {way.tools[0].id for way in last.operations[0].others}


def test_some_parts_are_coated_before_they_are_joined() -> None:
    derived = derived_from(BOARD.replace("BY", "by: brush"))
    first, *_ = coats(derived)
    joined = next(step.number for step in derived.steps if any(op.kind == "join" for op in step.operations))
    assert first.number < joined
    assert first.operations[0].parts == ("box.floor",)


def test_what_is_wiped_on_is_not_sprayed() -> None:
    (wrong,) = outcome_from(
        BOARD.replace("apply: water-based polyurethane satin", "apply: danish oil").replace("BY", "by: spray")
    ).diagnostics
    assert (wrong.code, wrong.mend) == ("finish-method", "Leave “by” out.")
