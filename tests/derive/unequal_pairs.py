"""Sources with two joints of one family whose figures differ: ``a`` and ``b`` are the figures of the two joints, ``c`` and ``d`` where their parts
stand or how they lean."""

from __future__ import annotations

HEAD = "plan: {title: Pair, number: T-1, date: 2026-11-20, author: A. Maker, lengths: mm}\n"
PEGS, DOWELS = (6, 8, 10), ("6 x 30", "8 x 30", "10 x 40")
"""Which of the three sizes a joint has goes by the remainder of its figure."""


def written(source: str, a: int, b: int, c: int, d: int) -> str:
    """The plan of such a source with its figures in it."""
    pegs, dowels = ((sizes[a % 3], sizes[b % 3]) for sizes in (PEGS, DOWELS))
    return HEAD + source.format(a=a, b=b, c=c, d=d, pegs=pegs, dowels=dowels)


MORTISED = """
stock:
  post: {{material: beech board, size: 45x95}}
  rail: {{material: beech board, size: 27x90}}
assemblies:
  frame:
    parts:
      post: {{stock: post, thickness: x, full_width: y, grain: z, left: 0, front: 0, bottom: 0, top: 700, mirror: {{x: 300}}}}
      rail: {{stock: rail, thickness: y, full_width: z, grain: x, left: post.right, right: post.mirrored.left, front: {c}, top: 690}}
      low: {{stock: rail, thickness: y, full_width: z, grain: x, left: post.right, right: post.mirrored.left, front: {d}, bottom: 100}}
    joints:
      - {{mortise_and_tenon: rail, in: post, depth: 15 + {a}, thickness: 8, clearance: 0, with: [glue]}}
      - {{mortise_and_tenon: low, in: post, depth: 15 + {b}, thickness: 8, clearance: 0, with: [glue]}}
"""

HOUSED = """
stock:
  ply: {{material: birch plywood, nominal: 18, actual: 18}}
  thin: {{material: birch plywood, nominal: 12, actual: 12}}
assemblies:
  rack:
    parts:
      side: {{stock: ply, thickness: x, grain: z, left: 0, front: 0, deep: 300, bottom: 0, top: 700, mirror: {{x: 250}}}}
      floor: {{stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 300, bottom: 25}}
      shelf: {{stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 25, back: 275, bottom: 200, lean: {{front: 10 deg + {c} deg}}}}
      upper: {{stock: thin, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 25, back: 275, bottom: 450, lean: {{front: 10 deg + {d} deg}}}}
    joints:
      - {{dado: floor, in: side, depth: 6, with: [glue]}}
      - {{housing: shelf, in: side, depth: 3 + {a}, with: [glue]}}
      - {{housing: upper, in: side, depth: 3 + {b}, with: [glue]}}
"""

GROOVED = """
stock:
  ply: {{material: birch plywood, nominal: 18, actual: 18}}
assemblies:
  case:
    parts:
      side: {{stock: ply, thickness: x, grain: z, left: 0, front: 0, deep: 300, bottom: 0, top: 700, mirror: {{x: 250}}}}
      floor: {{stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 300, bottom: 20 + {c}}}
      shelf: {{stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 300, bottom: 200 + {d}}}
    joints:
      - {{dado: floor, in: side, depth: 3 + {a}, with: [glue]}}
      - {{dado: shelf, in: side, depth: 3 + {b}, with: [glue]}}
"""

LAPPED = """
stock:
  one: {{material: birch plywood, nominal: 18, actual: 16 + 2 * {a}}}
  two: {{material: birch plywood, nominal: 18, actual: 16 + 2 * {b}}}
assemblies:
  grid:
    parts:
      post: {{stock: one, thickness: y, grain: z, left: 0, wide: 60, front: 0, bottom: 0, top: 500}}
      cross: {{stock: one, thickness: y, grain: x, left: 0, right: 250, front: 0, bottom: 100, high: 60}}
      stile: {{stock: two, thickness: y, grain: z, left: 300, wide: 70, front: 0, bottom: 0, top: 500}}
      bar: {{stock: two, thickness: y, grain: x, left: 150, right: 600, front: 0, bottom: 350, high: 70}}
    joints:
      - {{half_lap: cross, in: post, with: [glue]}}
      - {{half_lap: bar, in: stile, with: [glue]}}
"""

TAILED = """
stock:
  side: {{material: birch plywood, nominal: 12, actual: 12}}
  one: {{material: birch plywood, nominal: 18, actual: 12 + {a}}}
  two: {{material: birch plywood, nominal: 18, actual: 12 + {b}}}
assemblies:
  box:
    parts:
      side: {{stock: side, thickness: x, grain: y, left: 0, front: 0, deep: 300, bottom: 0, high: 120, mirror: {{x: 200}}}}
      front: {{stock: one, thickness: y, grain: x, left: 0, right: 400, front: 0, bottom: 0, high: 120}}
      back: {{stock: two, thickness: y, grain: x, left: 0, right: 400, back: 300, bottom: 0, high: 120}}
    joints:
      - {{dovetail: side, in: [front, back], with: [glue]}}
"""

TONGUED = """
stock:
  wood: {{material: beech board, size: 20x120}}
assemblies:
  panel:
    parts:
      low: {{stock: wood, thickness: y, grain: x, left: 0, right: 400, front: 0, high: 90, bottom: 0}}
      middle: {{stock: wood, thickness: y, grain: x, left: 0, right: 400, front: 0, high: 90, bottom: low.top}}
      high: {{stock: wood, thickness: y, grain: x, left: 0, right: 400, front: 0, high: 90, bottom: middle.top}}
    joints:
      - {{tongue: middle, in: low, depth: 4 + {a}, thickness: 9, with: [glue]}}
      - {{tongue: high, in: middle, depth: 4 + {b}, thickness: 9, with: [glue]}}
"""

TOPPED = """
stock:
  wood: {{material: beech board, size: 27x120}}
assemblies:
  tops:
    parts:
      one: {{stock: wood, thickness: z, grain: x, left: 80, right: 600, front: 0, back: 400, bottom: 0, glue_up: {{widest_strip: 110}}}}
      end: {{stock: wood, thickness: z, grain: y, left: 0, wide: 80, front: 0, back: 400, bottom: 0}}
      two: {{stock: wood, thickness: z, grain: x, left: 80, right: 600, front: 500, back: 900, bottom: 0, glue_up: {{widest_strip: 110}}}}
      other: {{stock: wood, thickness: z, grain: y, left: 0, wide: 80, front: 500, back: 900, bottom: 0}}
    joints:
      - {{breadboard: one, in: end, depth: 30 + {a}, haunch: 10, with: [pegs]}}
      - {{breadboard: two, in: other, depth: 30 + {b}, haunch: 10, with: [pegs]}}
"""

BRIDLED = """
stock:
  wood: {{material: beech board, size: 27x60}}
assemblies:
  frame:
    parts:
      stile: {{stock: wood, thickness: y, full_width: x, grain: z, left: 0, front: 0, bottom: 0, high: 400}}
      rail: {{stock: wood, thickness: y, full_width: z, grain: x, left: 0, right: 300, front: 0, top: 400}}
      other: {{stock: wood, thickness: y, full_width: x, grain: z, left: 400, front: 0, bottom: 0, high: 400}}
      bar: {{stock: wood, thickness: y, full_width: z, grain: x, left: 400, right: 700, front: 0, top: 400}}
    joints:
      - {{bridle: rail, in: stile, thickness: 6 + {a}, with: [glue]}}
      - {{bridle: bar, in: other, thickness: 6 + {b}, with: [glue]}}
"""

SLID = """
stock:
  board: {{material: beech board, size: 20x140}}
assemblies:
  rack:
    parts:
      side: {{stock: board, thickness: x, full_width: y, grain: z, left: 0, front: 0, bottom: 0, top: 600, mirror: {{x: 300}}}}
      shelf: {{stock: board, thickness: z, full_width: y, grain: x, left: side.right, right: side.mirrored.left, front: 0, bottom: 100 + {c}}}
      upper: {{stock: board, thickness: z, full_width: y, grain: x, left: side.right, right: side.mirrored.left, front: 0, bottom: 400 + {d}}}
    joints:
      - {{sliding_dovetail: shelf, in: side, depth: 4 + {a}, with: [glue]}}
      - {{sliding_dovetail: upper, in: side, depth: 4 + {b}, with: [glue]}}
"""

RODDED = """
stock:
  board: {{material: beech board, size: 20x140}}
  rod: {{material: hardwood dowel rod, size: 25 rod}}
assemblies:
  rail:
    parts:
      side: {{stock: board, thickness: x, full_width: y, grain: z, left: 0, front: 0, bottom: 0, top: 600, mirror: {{x: 300}}}}
      bar: {{stock: rod, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 50, deep: 25, bottom: 100}}
      rung: {{stock: rod, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 50, deep: 25, bottom: 400}}
    joints:
      - {{round_tenon: bar, in: side, depth: 8 + {a}, with: [glue]}}
      - {{round_tenon: rung, in: side, depth: 8 + {b}, with: [glue]}}
"""

SPLINED = """
stock:
  wood: {{material: beech board, size: 20x60}}
  thin: {{material: birch plywood, nominal: 3, actual: 3}}
assemblies:
  frames:
    parts:
      one: {{stock: wood, thickness: y, full_width: z, grain: x, left: 0, right: 300, front: 0, bottom: 0}}
      post: {{stock: wood, thickness: y, full_width: x, grain: z, left: 0, front: 0, bottom: 0, top: 300}}
      two: {{stock: wood, thickness: y, full_width: z, grain: x, left: 400, right: 700, front: 0, bottom: 0}}
      stile: {{stock: wood, thickness: y, full_width: x, grain: z, left: 400, front: 0, bottom: 0, top: 300}}
    joints:
      - {{mitre: one, in: post, spline: {{stock: thin, depth: 6 + {a}}}, with: [glue]}}
      - {{mitre: two, in: stile, spline: {{stock: thin, depth: 6 + {b}}}, with: [glue]}}
"""

_CORNERED = """
stock:
  thin: {{material: birch plywood, nominal: 12, actual: 12 + {a}}}
  thick: {{material: birch plywood, nominal: 18, actual: 12 + {b}}}
assemblies:
  box:
    parts:
      side: {{stock: thin, thickness: x, grain: y, left: 0, front: 0, deep: 300, bottom: 0, high: 120, mirror: {{x: 200}}}}
      end: {{stock: thick, thickness: y, grain: x, left: 0, right: 400, front: 0, bottom: 0, high: 120, mirror: {{y: 150}}}}
    joints:
      - {{FAMILY: side, in: [end, end.mirrored], with: [glue]}}
"""

_POSTS = """
stock:
  post: {{material: beech board, size: 45x95}}
  rail: {{material: beech board, size: 27x90}}
assemblies:
  frame:
    parts:
      post: {{stock: post, thickness: y, full_width: x, grain: z, left: 0, front: 0, bottom: 0, top: 700, mirror: {{x: 300}}}}
      rail: {{stock: rail, thickness: y, full_width: z, grain: x, left: post.right, right: post.mirrored.left, front: 9, top: 600}}
      low: {{stock: rail, thickness: y, full_width: z, grain: x, left: post.right, right: post.mirrored.left, front: 9, bottom: 100}}
    joints:
"""

PEGGED = (
    _POSTS
    + """\
      - {{mortise_and_tenon: rail, in: post, depth: 40, thickness: 8, with: [glue, {{pegs: {{item: peg {pegs[0]} x 100 mm}}}}]}}
      - {{mortise_and_tenon: low, in: post, depth: 40, thickness: 8, with: [glue, {{pegs: {{item: peg {pegs[1]} x 100 mm}}}}]}}
"""
)
DOWELLED = (
    _POSTS
    + """\
      - {{butt: rail, to: post, with: [glue, {{dowels: {{item: dowel {dowels[0]} mm, count: 2}}}}]}}
      - {{butt: low, to: post, with: [glue, {{dowels: {{item: dowel {dowels[1]} mm, count: 2}}}}]}}
"""
)

_BACKED = """
stock:
  ply: {{material: birch plywood, nominal: 18, actual: 18}}
  thin: {{material: birch plywood, nominal: 6, actual: 6}}
assemblies:
  one:
    parts:
      side: {{stock: ply, thickness: x, grain: z, left: 0, front: 0, deep: 300, bottom: 0, top: 700, mirror: {{x: 250}}}}
      shelf: {{stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, deep: 200, bottom: 330}}
      back: {{stock: thin, thickness: y, grain: x, left: side.right, right: side.mirrored.left, PLACE, bottom: 0, top: 700}}
    joints:
      - {{butt: shelf, to: side, with: [glue, screws]}}
      - {{FAMILY: back, in: side, depth: 4 + {a}}}
  two:
    parts:
      side: {{stock: ply, thickness: x, grain: z, left: 600, front: 0, deep: 300, bottom: 0, top: 700, mirror: {{x: 850}}}}
      shelf: {{stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, deep: 200, bottom: 330}}
      back: {{stock: thin, thickness: y, grain: x, left: side.right, right: side.mirrored.left, PLACE, bottom: 0, top: 700}}
    joints:
      - {{butt: shelf, to: side, with: [glue, screws]}}
      - {{FAMILY: back, in: side, depth: 4 + {b}}}
"""
"""Two cases, each with a back in a channel of its own depth."""

FINGERED, DOVETAILED = (_CORNERED.replace("FAMILY", one) for one in ("box_joint", "dovetail"))
RABBETED = _BACKED.replace("FAMILY", "rabbet").replace("PLACE", "back: 300")
PANELLED = _BACKED.replace("FAMILY", "groove").replace("PLACE", "front: 250")
