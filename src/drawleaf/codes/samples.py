"""The three small plans in which the catalogue's examples are slips."""

from __future__ import annotations

HEAD = """\
plan: {title: Crate, number: T-1, date: 2026-11-20, author: A. Maker, lengths: in}
"""

CRATE = (
    HEAD
    + """\
dimensions: {width: 20, depth: 10, height: 12, dado: 1/4}
counts: {slats: 4}
stock:
  ply: {material: birch plywood, nominal: 3/4, actual: 3/4}
  thin: {material: birch plywood, nominal: 1/4, actual: 1/4}
  board: {material: pine board, size: 1x4}
assemblies:
  crate:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: depth, bottom: 0, top: height, mirror: {x: width / 2}}
      floor: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: back.front, bottom: 1}
      rail: {stock: board, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, deep: 3, top: height}
      back: {stock: thin, thickness: y, grain: x, left: side.right, right: side.mirrored.left, back: depth, bottom: floor.bottom, top: height}
      lid: {stock: board, thickness: z, grain: x, left: 0, right: width, front: 0, back: depth, bottom: height, glue_up: {strips: slats}}
    joints:
      - {dado: floor, in: side, depth: dado, with: [glue, {screws: {count: 2}}]}
      - {butt: rail, to: side, with: [glue, {pocket_screws: {count: 2, on: bottom}}]}
      - {rabbet: back, in: side, depth: dado, with: [{brads: {spacing: 5}}]}
      - {butt: back, to: floor, with: [{brads: {spacing: 6}}]}
      - {butt: lid, to: rail, with: [{screws: {count: 2, through: rail}}]}
    machining:
      - {in: side.original, shelf_pins: {face: right, rows: {front: 2}, start: 4, spacing: 1, count: 5}}
      - {in: floor, bore: {face: top, at: {x: 5, y: 5}, diameter: 1}}
      - {in: rail, round_over: {edges: [front-bottom], size: 1/8}}
    hardware:
      - {item: knob, on: rail, face: front, at: {x: 10, z: height - 3/8}}
finish:
  - {sand: [120, 180], to: all}
  - {apply: danish oil, coats: 2, to: crate, but: crate.back}
notes:
  - {part: crate.side, text: Mind the grain.}
checks:
  loads: [{on: crate.floor, load: books}]
editions:
  metric: {units: mm}
"""
)

CHEST = (
    HEAD
    + """\
stock:
  ply: {material: birch plywood, nominal: 1/2, actual: 1/2}
  thin: {material: birch plywood, nominal: 1/4, actual: 1/4}
assemblies:
  case:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, deep: 14, bottom: 0, high: 8, mirror: {x: 8}}
      deck: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, deep: 14, bottom: 0}
    joints:
      - {butt: deck, to: side, with: [glue, {screws: {count: 3}}]}
  drawer:
    loose: yes
    component: drawer box
    with: {wide: 14, deep: 12, high: 4, box: ply, floor: thin}
    at: {x: 1, y: 0, z: 2}
    hardware:
      - {item: side-mount slides 12 in, on: [case.side, case.side.mirrored], carries: drawer, at: {y: 1/8, z: 4}}
"""
)

RACK = """\
plan: {title: Rack, number: T-1, date: 2026-11-20, author: A. Maker, lengths: mm}
stock:
  wood: {material: beech board, size: 20x120}
  stout: {material: beech board, size: 27x140}
assemblies:
  rack:
    parts:
      post: {stock: stout, thickness: y, grain: z, left: 0, wide: 80, front: 0, bottom: 0, top: 500, mirror: {x: 300}}
      rail: {stock: stout, thickness: y, grain: x, left: post.right, right: post.mirrored.left, front: 0, bottom: 400, top: 480}
      low: {stock: stout, thickness: y, grain: x, left: post.right, right: post.mirrored.left, front: 0, bottom: 100, high: 70}
      cross: {stock: stout, thickness: y, grain: x, left: 0, right: 600, front: 0, bottom: 250, high: 60}
    joints:
      - {mortise_and_tenon: rail, in: post, with: [glue, pegs]}
      - {butt: low, to: post, with: [glue, {dowels: {item: dowel 8 x 40 mm, count: 2}}]}
      - {half_lap: cross, in: post, with: [glue]}
  frame:
    loose: yes
    at: {x: 0, y: 300, z: 0}
    parts:
      stile: {stock: wood, thickness: y, grain: z, left: 0, wide: 60, front: 0, bottom: 0, high: 400}
      rail: {stock: wood, thickness: y, grain: x, left: 0, right: 300, front: 0, top: 400, high: 60}
    joints:
      - {bridle: rail, in: stile, with: [glue]}
  box:
    loose: yes
    at: {x: 0, y: 500, z: 0}
    parts:
      side: {stock: wood, thickness: x, grain: y, left: 0, front: 0, deep: 200, bottom: 0, high: 100, mirror: {x: 150}}
      front: {stock: wood, thickness: y, grain: x, left: 0, right: 300, front: 0, bottom: 0, high: 100}
      back: {stock: wood, thickness: y, grain: x, left: 0, right: 300, back: 200, bottom: 0, high: 100}
    joints:
      - {box_joint: side, in: front, finger_width: 20, with: [glue]}
      - {dovetail: side, in: back, count: 2, with: [glue]}
  top:
    loose: yes
    at: {x: 400, y: 500, z: 300}
    parts:
      panel: {stock: stout, thickness: z, grain: x, left: 80, right: 600, front: 0, back: 400, bottom: 0, glue_up: {widest_strip: 130}}
      end: {stock: stout, thickness: z, grain: y, left: 0, wide: 80, front: 0, back: 400, bottom: 0, mirror: {x: 340}}
    joints:
      - {breadboard: panel, in: end, with: [pegs]}
"""

TRAY = (
    HEAD
    + """\
stock:
  board: {material: red oak board, size: 1x6}
  rod: {material: hardwood dowel rod, size: 1 rod}
assemblies:
  tray:
    parts:
      long: {stock: board, thickness: y, grain: x, left: 0, right: 12, front: 0, bottom: 0, high: 5, mirror: {y: 4}}
      short: {stock: board, thickness: x, grain: y, front: 0, back: 8, left: 0, bottom: 0, high: 5, mirror: {x: 6}}
      bar: {stock: rod, thickness: z, grain: x, left: short.right, right: short.mirrored.left, front: 3-1/2, deep: 1, bottom: 2}
    joints:
      - {mitre: long, in: short, with: [glue]}
      - {round_tenon: bar, in: short, depth: 1/2, with: [glue]}
    machining:
      - {in: long.original, shape: {face: front, outline: [{x: 0, z: 0}, {x: 12, z: 0}, {x: 12, z: 5}, {x: 0, z: 5}]}}
      - {in: long.original, cutout: {face: front, at: {x: 6, z: 3}, wide: 3, high: 1, round: 1/2}}
"""
)

SAMPLES = {"crate": CRATE, "chest": CHEST, "rack": RACK, "tray": TRAY}
