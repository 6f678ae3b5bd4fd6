"""Tiny plans for tests of outlines, mitres and mouldings, compiled once for each text."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

from drawleaf.compiler import Choice, Outcome, check_plan
from drawleaf.model.derived import Derived

HEAD = """\
plan: {title: Trial, number: T-1, date: 2026-11-20, author: A. Maker, lengths: in}
stock:
  ply: {material: birch plywood, nominal: 1/2, actual: 1/2}
  board: {material: red oak board, size: 1x6}
  strip: {material: red oak board, size: 1x2}
  wide: {material: red oak board, size: 1x4}
  post: {material: beech board, size: 45x70}
  tape: {material: birch edge banding, size: 13/16 wide}
  crown: {material: pine cornice moulding, size: 2-1/4 cornice}
  own: {material: red oak board, size: 1x3, profile: foot}
  rod: {material: hardwood dowel rod, size: 1 rod}
profiles:
  foot: {points: [{out: 0, up: 0}, {out: 3/4, up: 0}, {out: 3/4, up: 1-3/4, arc: -1/2}, {out: 1/4, up: 2-1/4}, {out: 1/4, up: 2-1/2}, {out: 0, up: 2-1/2}]}
"""

FRAME = """\
assemblies:
  frame:
    parts:
      rail: {stock: strip, thickness: y, full_width: z, grain: x, left: 0, right: 20, front: 0, bottom: 0, mirror: {z: 8}}
      stile: {stock: strip, thickness: y, full_width: x, grain: z, bottom: 0, top: 16, front: 0, left: 0, mirror: {x: 10}}
    joints:
      - {mitre: rail, in: stile, with: [glue]}
"""

BOX = """\
assemblies:
  box:
    parts:
      long: {stock: board, thickness: y, grain: x, left: 0, right: 14, front: 0, bottom: 0, high: 5, mirror: {y: 5}}
      short: {stock: board, thickness: x, grain: y, front: 0, back: 10, left: 0, bottom: 0, high: 5, mirror: {x: 7}}
    joints:
      - {mitre: long, in: short, spline: {thickness: 1/8, depth: 1/4}, with: [glue]}
"""

CASE = """\
assemblies:
  case:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 12, bottom: 0, top: 14, mirror: {x: 12}}
      deck: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 12, top: 14}
      front_crown: {stock: STOCK, thickness: y, full_width: z, grain: x, left: -3/4, right: 24-3/4, back: 0, top: 14}
      end_crown: {stock: STOCK, thickness: x, full_width: z, grain: y, right: 0, front: front_crown.front, back: 12, top: 14, mirror: {x: 12}}
    joints:
      - {rabbet: deck, in: side, depth: 1/4, with: [glue]}
      - {mitre: front_crown, in: end_crown, with: [glue]}
      - {butt: front_crown, to: side, with: [{brads: {count: 2}}]}
      - {butt: end_crown, to: side, with: [{brads: {spacing: 5}}]}
"""

TRAY = """\
assemblies:
  tray:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 8, bottom: 0, top: 9, mirror: {x: 8}}
      front: {stock: ply, thickness: y, grain: x, left: side.right, right: side.mirrored.left, front: 0, bottom: 0, top: 5, mirror: {y: 4}}
      inner: {stock: ply, thickness: y, grain: x, left: side.right, right: side.mirrored.left, front: 4, bottom: 0, top: 5}
    joints:
      - {butt: [front, inner], to: side, with: [glue, {screws: {count: 2}}]}
    machining:
      - in: side
        shape: {face: left, outline: [{y: 0, z: 0}, {y: 8, z: 0}, {y: 8, z: 5}, {y: 6, z: 9, round: 1/2}, {y: 2, z: 9, round: 1/2}, {y: 0, z: 5}]}
      - {in: side, cutout: {face: left, at: {y: 4, z: 7-3/4}, deep: 3-1/2, high: 1-1/4, round: 5/8}}
      - {in: [front.mirrored, inner], cutout: {face: back, at: {x: 4, z: 2-1/2}, wide: 2, high: 1-1/2, round: 1/4, after_assembly: yes}}
"""


@cache
def outcome_of(text: str) -> Outcome:
    """The outcome of checking a plan of that text below the common head."""
    with TemporaryDirectory() as folder:
        (Path(folder) / "plan.yaml").write_text(HEAD + text, encoding="utf-8")
        return check_plan(Path(folder), Choice())


def derived_of(text: str):
    """The derived plan; fails where there are errors."""
    outcome = outcome_of(text)
    assert outcome.derived is not None, [one.message for one in outcome.diagnostics]
    return outcome.derived


def words_of(text: str, step_id: str) -> Sequence[str]:
    """The actions of a step as plain text, of a plan of that text below the common head."""
    return words_in(derived_of(text), step_id)


def words_in(derived: Derived, step_id: str) -> Sequence[str]:
    """The actions of a step as plain text."""
    import re

    from drawleaf.book.words.format import Formatter
    from drawleaf.book.words.wording import step_text

    step = next(step for step in derived.steps if step_id in (step.id, *step.also))
    said = step_text(step, derived, Formatter.of(derived.plan))
    return [re.sub(r"<[^>]+>", "", str(action)) for action in (*said.setup, *said.actions)]
