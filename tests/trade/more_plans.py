"""Further small plans with places left open: a box, a crossing, a top with ends across it, a door and slides."""

from __future__ import annotations

BOX = """
stock:
  wood: {{material: beech board, size: 20x120}}
assemblies:
  box:
    parts:
      side: {{stock: wood, thickness: x, grain: y, left: 0, front: {front}, back: 200, bottom: 0, high: 100, mirror: {{x: 150}}}}
      end: {{stock: wood, thickness: y, grain: x, left: 0, right: 300, front: 0, bottom: 0, high: 100, mirror: {{y: 100}}}}
    joints:
      - {{{joint}, with: [glue]}}
checks: {{waive: [{{check: tip-over, reason: It is an example.}}]}}
"""
FINGERED = {"front": 0, "joint": "box_joint: side, in: end, finger_width: 20"}


def box(**changed: object) -> dict[str, object]:
    """An open box, its corners fingered."""
    return {**FINGERED, **changed}


CROSS = """
stock:
  stout: {{material: beech board, size: 27x140}}
assemblies:
  cross:
    parts:
      post: {{stock: stout, thickness: y, grain: z, left: 0, wide: 80, front: 0, bottom: 0, top: 500}}
      bar: {{stock: stout, thickness: {flat}, grain: x, left: -100, right: 300, front: 0, {deep}bottom: 250{high}}}
    joints:
      - {{half_lap: bar, in: post, with: [glue]}}
checks: {{waive: [{{check: tip-over, reason: It hangs on a wall.}}]}}
"""
IN_PLANE = {"flat": "y", "deep": "", "high": ", high: 60"}
ON_EDGE = {"flat": "z", "deep": "deep: 60, ", "high": ""}

BREADBOARD = """
stock:
  stout: {{material: beech board, size: 27x140}}
assemblies:
  top:
    parts:
      panel: {{stock: stout, thickness: z, grain: x, left: 80, right: 600, front: 0, back: 400, bottom: 0, glue_up: {{{strips}}}}}
      end: {{stock: stout, thickness: z, grain: y, left: 0, wide: 80, front: 0, back: 400, bottom: 0, mirror: {{x: 340}}}}
    joints:
      - {{{joint}, with: [pegs]}}
"""
ENDS = {"strips": "widest_strip: 130", "joint": "breadboard: panel, in: end"}


def breadboard(**changed: object) -> dict[str, object]:
    """A glued-up top with a breadboard end on each side."""
    return {**ENDS, **changed}


BAR = """
stock:
  pine: {{material: pine board, {size}}}
assemblies:
  bar:
    parts:
      rail: {{stock: pine, thickness: y, grain: {grain}, left: 0, right: {long}, front: 0, bottom: 0, high: {high}}}
      block: {{stock: pine, thickness: y, grain: x, left: 0, right: 200, back: rail.front, bottom: 0, high: 40}}
    joints:
      - {{butt: block, to: rail, with: [glue{held}]}}
    machining:
      - {{in: rail, {work}}}
finish: [{{sand: [{grits}], to: all}}]
checks: {{waive: [{{check: tip-over, reason: It is an example.}}]}}
"""
SOUND = {
    "size": "size: 1x3",
    "grain": "x",
    "long": 400,
    "high": 60,
    "held": "",
    "work": "round_over: {edges: [back-top], size: 3}",
    "grits": "120, 180",
}


def bar(**changed: object) -> dict[str, object]:
    """A board with a block on it."""
    return {**SOUND, **changed}
