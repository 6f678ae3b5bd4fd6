"""Small plans of what people sit and lie on and hang their coats on, with places left open, for the rules of the trade."""

from __future__ import annotations

LEDGE = """
stock:
  ply: {{material: birch plywood, nominal: 18 mm, actual: 18 mm}}
  bar: {{material: pine board, size: 1x2}}
assemblies:
  bench:
    parts:
      side: {{stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 360, bottom: 0, top: 430, mirror: {{x: 300}}}}
      seat: {{stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 360, top: 400}}
      batten: {{stock: bar, thickness: x, full_width: z, grain: y, left: side.right, front: 20, back: 340, top: seat.bottom, mirror: {{x: 300}}}}
      rail: {{stock: ply, thickness: y, grain: x, left: side.right, right: side.mirrored.left, back: 360, bottom: 60, high: 100}}
    joints:
      - {{butt: batten, to: side, with: [{held}]}}
      - {{butt: seat, to: batten, with: [glue]}}
      - {{butt: rail, to: side, with: [glue, {{dowels: {{count: 2}}}}]}}
checks: {{loads: [{{on: bench.seat, load: sitting}}]}}
"""

ENDS = """
stock:
  pine: {{material: pine board, size: 1x12}}
  rail: {{material: pine board, size: 1x4}}
assemblies:
  bench:
    parts:
      seat: {{stock: pine, thickness: z, full_width: y, grain: x, left: 0, right: 500, front: 0, top: 400}}
      side: {{stock: pine, thickness: x, full_width: y, grain: z, right: seat.left, front: 0, bottom: 0, top: 430, mirror: {{x: 250}}}}
      rail: {{stock: rail, thickness: y, full_width: z, grain: x, left: side.right, right: side.mirrored.left, back: seat.back, bottom: 60}}
    joints:
      - {{{joint}}}
      - {{butt: rail, to: side, with: [glue, {{dowels: {{count: 2}}}}]}}
checks: {{loads: [{{on: bench.seat, load: sitting}}]}}
"""

FOUR_LEGS = """
stock:
  seat: {{material: construction lumber, size: 2x6}}
  leg: {{material: construction lumber, size: 2x2}}
assemblies:
  stool:
    parts:
      top: {{stock: seat, thickness: z, full_width: y, grain: x, left: 0, right: 360, front: 0, top: 430}}
      leg: {{stock: leg, thickness: x, grain: z, full_width: y, left: 20, front: 8, bottom: 0, top: top.bottom, mirror: {{x: 180}}}}
      other: {{stock: leg, thickness: x, grain: z, full_width: y, left: 20, back: 132, bottom: 0, top: top.bottom, mirror: {{x: 180}}}}
    joints:
      - {{{joint}}}
      - {{{other}}}
checks: {{loads: [{{on: stool.top, load: sitting}}]}}
"""
TENONED = "mortise_and_tenon: {}, in: top, depth: 25, with: [glue]"


def four_legs(*, joint: str = "") -> dict[str, object]:
    """Four upright legs under a small seat, tenoned into it, or held as ``joint`` says."""
    if not joint:
        return {"joint": TENONED.format("leg"), "other": TENONED.format("other")}
    return {"joint": joint, "other": joint.replace("leg", "other", 1)}


RACK = """
stock:
  oak: {{material: red oak board, size: 1x4}}
assemblies:
  rack:
    parts:
      back: {{stock: oak, thickness: y, full_width: z, grain: x, left: 0, right: 400, front: 0, bottom: 0}}
    hardware:
      - {{item: coat hook, on: back, face: front, at: {{x: 50, z: 45}}}}
      - {{item: coat hook, on: back, face: front, at: {{x: 350, z: 45}}}}
{more}
"""

SLATS = """
stock:
  ply: {{material: birch plywood, nominal: {thick} mm, actual: {thick} mm}}
  side: {{material: construction lumber, size: 2x6}}
assemblies:
  bed:
    parts:
      side: {{stock: side, thickness: x, full_width: z, grain: y, left: 0, front: 0, back: 900, bottom: 0, mirror: {{x: 450}}}}
      slat: {{stock: ply, thickness: z, deep: 90, grain: x, left: 0, right: 900, front: 0, bottom: side.top, repeat: {{along: y, count: 6, spacing: {pitch}}}}}
    joints:
      - {{butt: slat, to: side, with: [glue]}}
checks: {{loads: [{{on: bed.slat, load: lying}}]}}
"""

BED = """
stock:
  post: {{material: construction lumber, size: 4x4}}
  rail: {{material: construction lumber, size: 2x6}}
  slat: {{material: construction lumber, size: 2x4}}
assemblies:
  ends:
    parts:
      post: {{stock: post, thickness: x, full_width: y, grain: z, left: 0, front: 0, bottom: 0, top: 500, mirror: {{y: 900}}}}
      other: {{stock: post, thickness: x, full_width: y, grain: z, left: 800, front: 0, bottom: 0, top: 500, mirror: {{y: 900}}}}
      board: {{stock: rail, thickness: y, grain: x, full_width: z, left: post.right, right: other.left, front: 20, top: 360, mirror: {{y: 900}}}}
    joints: [{{mortise_and_tenon: board, in: [post, other], depth: 60, with: [glue]}}]
  sides:
    loose: yes
    parts:
      rail: {{stock: rail, thickness: x, grain: y, full_width: z, left: 20, front: ends.post.back, back: ends.post.mirrored.front, top: 360}}
      far: {{stock: rail, thickness: x, grain: y, full_width: z, right: 870, front: ends.post.back, back: ends.post.mirrored.front, top: 360}}
      slat: {{stock: slat, thickness: z, full_width: y, grain: x, left: rail.left, right: far.right, front: 300, bottom: rail.top, repeat: {{along: y, count: 6, spacing: 220}}}}
    joints: [{{butt: slat, to: [rail, far], with: [{{screws: {{count: 1, heads: filled}}}}]}}]
    hardware: [{{item: {item}, on: ends, carries: sides{more}}}]
checks: {{loads: [{{on: sides.slat, load: lying}}]}}
"""
