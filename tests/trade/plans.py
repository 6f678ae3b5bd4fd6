"""Small plans with places left open, for the rules of the trade and the checks that hold them."""

from __future__ import annotations

SHELF = """
stock:
  ply: {{material: birch plywood, nominal: 18 mm, actual: 18 mm}}
  board: {{material: {material}, nominal: 18 mm, actual: {thick} mm}}
assemblies:
  case:
    parts:
      side: {{stock: ply, thickness: x, grain: z, left: 0, front: 0, back: {deep}, bottom: 0, top: {high}, mirror: {{x: {span} / 2 + 18}}}}
      shelf: {{stock: board, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: {deep}, bottom: {up}}}
    joints:
      - {{{joint}, with: [{held}]}}
{more}
"""
SHELF_AS = {
    "material": "birch plywood",
    "thick": 18,
    "deep": 250,
    "high": 400,
    "span": 600,
    "up": 200,
    "joint": "butt: shelf, to: side",
    "held": "glue, {screws: {heads: filled}}",
    "more": "",
}


def shelf(**changed: object) -> dict[str, object]:
    """The shelf between two sides, with something changed."""
    return {**SHELF_AS, **changed}


STOOL = """
stock:
  pine: {{material: pine board, size: 1x6}}
  leg: {{material: construction lumber, size: 2x2}}
  wide: {{material: pine board, size: 1x12}}
assemblies:
  frame:
    parts:
      leg: {{stock: leg, thickness: x, full_width: y, grain: z, left: {inset}, front: 40, bottom: 0, top: {high}{lean}, mirror: {{x: 200}}, repeat: {{along: y, at: [0, 162]}}}}
      rail: {{stock: pine, thickness: y, full_width: z, grain: x, left: leg.right, right: leg.mirrored.left, front: 50, top: {high}, repeat: {{along: y, at: [0, 162]}}}}
    joints:
      - {{{joint}, with: [glue{held}]}}
  seat:
    parts:
      top: {{stock: wide, thickness: z, full_width: y, grain: x, left: 0, right: 400, front: 0, bottom: {high}}}
    joints:
      - {{butt: top, to: frame.rail, with: [glue]}}
checks: {{loads: [{{on: seat.top, load: {load}}}]}}
"""
UPRIGHT = {
    "inset": 30,
    "high": 300,
    "lean": "",
    "load": "standing",
    "joint": "butt: rail, to: leg",
    "held": ", {dowels: {count: 3}}",
}


def stool(**changed: object) -> dict[str, object]:
    """A low stool on upright legs, dowelled, for someone to stand on."""
    return {**UPRIGHT, **changed}


def splayed(degrees: int, **changed: object) -> dict[str, object]:
    """The same on legs that splay."""
    high = changed.get("high", 300)
    lean = f", lean: {{right: {degrees} deg}}, pivot: top, level_ends: {{bottom: 0, top: {high}}}"
    return {**UPRIGHT, "lean": lean, **changed}


TABLE = """
stock:
  oak: {{material: red oak board, size: 1x6}}
  rail: {{material: red oak board, size: 1x4}}
  leg: {{material: red oak board, size: 1x3}}
assemblies:
  base:
    parts:
      leg: {{stock: leg, thickness: x, full_width: y, grain: z, left: 0, front: 0, bottom: 0, top: 600, mirror: {{x: 400}}}}
      rear: {{stock: leg, thickness: x, full_width: y, grain: z, left: 0, back: {deep}, bottom: 0, top: 600, mirror: {{x: 400}}}}
      fr: {{stock: rail, thickness: z, full_width: y, grain: x, left: leg.right, right: leg.mirrored.left, front: 10, top: 600}}
      br: {{stock: rail, thickness: z, full_width: y, grain: x, left: rear.right, right: rear.mirrored.left, back: {deep} - 10, top: 600}}
      end: {{stock: rail, thickness: x, full_width: z, grain: y, left: 0, front: leg.back, back: rear.front, top: 600, mirror: {{x: 400}}}}
    joints:
      - {{butt: fr, to: leg, with: [glue]}}
      - {{butt: br, to: rear, with: [glue]}}
      - {{butt: end, to: [leg, rear], with: [{ends}]}}
  seat:
    parts:
      top: {{stock: oak, thickness: z, grain: x, left: 0, right: 800, front: 0, back: {deep}, bottom: 600, glue_up: {{strips: {strips}}}}}
    joints:
      - {{butt: top, to: base.fr, with: [{front}]}}
      - {{butt: top, to: base.br, with: [{back}]}}
"""
FAST = "{screws: {count: 3, through: base}}"
SLIDES = "{screws: {count: 3, through: base, slots: yes, item: pan-head screw 8 x 1-1/4}}"
TIED = "glue, {dowels: {count: 2}}"


def table(**changed: object) -> dict[str, object]:
    """A solid top on the rails of a frame whose ends tie them together, with something changed."""
    return {"deep": 280, "strips": 4, "ends": TIED, "front": FAST, "back": SLIDES, **changed}


STRIPS = """
stock:
  oak: {{material: red oak board, size: 1x4}}
  bar: {{material: birch plywood, nominal: 18 mm, actual: 18 mm}}
assemblies:
  block:
    parts:
      strip: {{stock: oak, thickness: y, full_width: z, grain: x, left: 0, right: 600, front: 0, top: 100, repeat: {{along: y, spacing: 19.05 mm, count: {count}}}}}
      bar: {{stock: bar, thickness: x, grain: y, left: 100, front: 0, back: {count} * 19.05 mm, high: 60, top: strip.1.bottom, repeat: {{along: x, at: [0, 300]}}}}
    joints:
      - {{butt: strip, to: strip, with: [glue]}}
      - {{butt: strip, to: bar, with: [glue]}}
"""

FRAME = """
stock:
  oak: {{material: red oak board, size: {size}}}
assemblies:
  frame:
    parts:
      stile: {{stock: oak, thickness: y, grain: z, left: 0, wide: {wide}, front: 0, bottom: 0, top: 700, mirror: {{x: 300}}}}
      rail: {{stock: oak, thickness: y, grain: x, {ends}, front: 0, high: {wide}, top: 700, mirror: {{z: 350}}}}
    joints:
      - {{{joint}, with: [glue{held}]}}
checks: {{waive: [{{check: tip-over, reason: It hangs in a door.}}]}}
"""
BUTTED = "left: stile.right, right: stile.mirrored.left"
MITRED = "left: 0, right: 600"


def frame(**changed: object) -> dict[str, object]:
    """A frame of four, its rails tenoned into its stiles."""
    tenoned = {"ends": BUTTED, "joint": "mortise_and_tenon: rail, in: stile", "wide": 60, "size": "1x6", "held": ""}
    return {**tenoned, **changed}


PANEL = """
stock:
  oak: {{material: red oak board, size: 1x6}}
  ply: {{material: birch plywood, nominal: 18 mm, actual: 36 mm}}
assemblies:
  door:
    parts:
      stile: {{stock: ply, thickness: y, grain: z, left: 0, wide: 60, front: 0, bottom: 0, top: 500, mirror: {{x: 250}}}}
      panel: {{stock: oak, thickness: y, grain: z, left: stile.right, right: stile.mirrored.left, front: 8, bottom: 0, top: 500, glue_up: {{strips: 4}}}}
    joints:
      - {{{joint}{held}}}
checks: {{waive: [{{check: tip-over, reason: It hangs in a door.}}]}}
"""
BLOCK = """
stock:
  pine: {{material: pine board, size: 1x3}}
assemblies:
  block:
    parts:
      rail: {{stock: pine, thickness: y, grain: x, left: 0, right: 300, front: 0, bottom: 0, high: 40}}
      block: {{stock: pine, thickness: y, grain: x, left: 0, right: {long}, back: rail.front, bottom: 0, high: 40}}
    joints:
      - {{butt: block, to: rail, with: [glue{held}]}}
    machining:
      - {{in: block, round_over: {{edges: [front-top], size: 3}}}}
"""

PINS = """
stock:
  ply: {{material: birch plywood, nominal: 18 mm, actual: 18 mm}}
assemblies:
  case:
    parts:
      side: {{stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 300, bottom: 0, top: 600}}
      other: {{stock: ply, thickness: x, grain: z, left: 418, front: 0, back: {deep}, bottom: 0, top: 600}}
      floor: {{stock: ply, thickness: z, grain: x, left: side.right, right: other.left, front: 0, back: 280, bottom: 0}}
    joints:
      - {{butt: floor, to: [side, other], with: [glue, {{screws: {{heads: filled}}}}]}}
    machining:
      - {{in: side, shelf_pins: {{face: right, rows: {{front: 50, back: {mine}}}, start: 100, spacing: 32, count: 6}}}}
      - {{in: other, shelf_pins: {{face: left, rows: {{front: 50, back: {theirs}}}, start: 100, spacing: 32, count: 6}}}}
"""
HOOK = """
stock:
  oak: {{material: red oak board, size: 1x4}}
assemblies:
  rack:
    parts:
      back: {{stock: oak, thickness: y, full_width: z, grain: x, left: 0, right: 300, front: 0, bottom: 0}}
      cleat: {{stock: oak, thickness: y, full_width: z, grain: x, left: 0, right: 300, front: back.back, bottom: 0}}
    joints:
      - {{butt: cleat, to: back, with: [glue, {{screws: {{count: 3, through: back, rows: {{bottom: 45}}}}}}]}}
    hardware:
      - {{item: coat hook, on: back, face: front, at: {{x: {x}, z: 45}}}}
"""
CHEST = """
stock:
  ply: {{material: birch plywood, nominal: 18 mm, actual: 18 mm}}
  thin: {{material: birch plywood, nominal: 6 mm, actual: 6 mm}}
  oak: {{material: {wood}}}
assemblies:
  case:
    parts:
      side: {{stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 300, bottom: 0, top: 200, mirror: {{x: 200}}}}
      low: {{stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 300, bottom: 0}}
      high: {{stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 300, top: 200}}
    joints:
      - {{butt: [low, high], to: side, with: [glue, {{screws: {{heads: filled}}}}]}}
  drawer:
    loose: yes
    parts:
      wall: {{stock: oak, thickness: x, grain: y, left: case.side.right + {beside}, front: 0, back: 280, bottom: 18, top: 182 - {above}, mirror: {{x: 200}}}}
      end: {{stock: oak, thickness: y, grain: x, left: wall.right, right: wall.mirrored.left, front: 0, bottom: 18, top: 182 - {above}, mirror: {{y: 140}}}}
      floor: {{stock: thin, thickness: z, grain: x, left: wall.right, right: wall.mirrored.left, front: end.back, back: end.mirrored.front, bottom: 28}}
    joints:
      - {{butt: end, to: wall, with: [glue, {{dowels: {{count: 2}}}}]}}
      - {{groove: floor, in: [wall, end], depth: 5}}
"""

WIDE_CHEST = CHEST.replace("mirror: {{x: 200}}", "mirror: {{x: {middle}}}")
"""The same, as wide as one says."""

DOWELLED = """
stock:
  oak: {{material: red oak board, size: 1x3}}
assemblies:
  frame:
    parts:
      stile: {{stock: oak, thickness: y, full_width: x, grain: z, left: 0, front: 0, bottom: 0, top: 400, mirror: {{x: {long} / 2}}}}
      rail: {{stock: oak, thickness: y, full_width: z, grain: x, left: stile.right, right: stile.mirrored.left, front: 0, top: 400}}
    joints:
      - {{butt: rail, to: stile, with: [glue, {{dowels: {{count: 2}}}}]}}
checks: {{waive: [{{check: tip-over, reason: It hangs in a door.}}]}}
"""
SLAB = """
{shop}
stock:
  ply: {{material: birch plywood, nominal: 18 mm, actual: 18 mm}}
assemblies:
  slab:
    parts:
      under: {{stock: ply, thickness: z, grain: x, left: 0, right: {long}, front: 0, back: 700, bottom: 0}}
      over: {{stock: ply, thickness: z, grain: x, left: 0, right: {long}, front: 0, back: 700, bottom: under.top}}
    joints:
      - {{butt: over, to: under, with: [glue]}}
"""

STAINED = (
    SHELF
    + """
finish:
  - {{sand: [120, 180], to: all}}
{schedule}
"""
)

STAINED_DOOR = (
    PANEL.replace("{joint}{held}", "groove: panel, in: stile, depth: 10, clearance: 4")
    + """
finish:
{schedule}
"""
)

LOOSE = """
stock:
  ply: {{material: birch plywood, nominal: 18 mm, actual: 18 mm}}
  wide: {{material: {wood}}}
assemblies:
  case:
    parts:
      side: {{stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 250, bottom: 0, top: 400, mirror: {{x: 300}}}}
      deck: {{stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 250, bottom: 0, mirror: {{z: 200}}}}
    joints:
      - {{butt: deck, to: side, with: [glue, {{screws: {{heads: filled}}}}]}}
    machining:
      - {{in: side, shelf_pins: {{face: right, rows: {{front: 50, back: 60}}, start: 164, spacing: 32, count: 3}}}}
  shelf:
    loose: yes
    parts:
      board: {{stock: wide, thickness: z, {lies}, left: case.side.right + {play}, right: case.side.mirrored.left - {play}, front: 20, back: 220, bottom: 200}}
"""
LOOSE_AS = {"wood": "birch plywood, nominal: 18 mm, actual: 18 mm", "lies": "grain: x", "play": 1}


def loose(**changed: object) -> dict[str, object]:
    """A loose shelf on pins in a case."""
    return {**LOOSE_AS, **changed}
