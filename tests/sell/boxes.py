"""A small open box in two revisions, for all that is sold after a compile."""

from __future__ import annotations

from functools import cache

from tests.small_plans import derived_from

from drawleaf.book.output.data import plan_json
from drawleaf.sell.piece import Compiled, compiled_from

BOX = """
plan: {title: Peg box, number: PB-1, date: 2026-11-24, author: R. Quill, lengths: in, revision: A, summary: A small open box for pegs.}
stock: {board: {material: pine board, size: 1x6}}
assemblies:
  box:
    name: Box
    parts:
      side: {name: Side, stock: board, thickness: x, grain: y, left: 0, front: 0, deep: 12, bottom: 0, high: 4, mirror: {x: 8}}
      front: {name: Front, stock: board, thickness: y, grain: x, left: side.right, right: side.mirrored.left, front: 0, bottom: 0, high: 4}
      shelf: {name: Shelf, stock: board, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: front.back, deep: 5, bottom: 2}
    joints:
      - {butt: front, to: side, with: [glue, {screws: {item: wood screw 8 x 1-1/2, count: 2}}]}
      - {dado: shelf, in: side, depth: 1/4, with: [glue]}
finish: [{sand: [120], to: all}]
"""


@cache
def compiled(text: str = BOX) -> Compiled:
    """A source as its ``plan.json`` tells it."""
    return compiled_from(plan_json(derived_from(text)))


def changed(*changes: tuple[str, str]) -> Compiled:
    """The box with some of its source replaced, as revision B."""
    text = BOX.replace("revision: A", "revision: B")
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return compiled(text)
