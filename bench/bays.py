"""Plans that grow: a wall of so many bookcase bays, all alike but for a drawer in every fourth.

Each bay is a case (sides, bottom, fixed shelf and top in dadoes and rabbets, a back let in, rows of pin holes), a face frame with pocket
screws, a loose edged shelf on pins, and a strap to the wall. Bays are screwed side to side.
"""

from __future__ import annotations

import sys
from pathlib import Path

HEAD = """plan:
  title: Wall of {count} bays
  number: BW-{count}
  date: 2026-11-25
  author: Fern Lane Workshop
  contact: plans@fernlane.example
  copyright: © 2026 Fern Lane Workshop
  terms: For one private workshop.
  summary: Bookcase bays side to side along a wall.
  skill: some experience
  lengths: in
dimensions: {{bay: 24, depth: 12, height: 72}}
stock:
  case: {{material: birch plywood, nominal: 3/4, actual: 23/32}}
  thin: {{material: birch plywood, nominal: 1/4, actual: 5.2 mm}}
  drawer: {{material: birch plywood, nominal: 1/2, actual: 15/32}}
  frame: {{material: maple board, size: 1x2}}
  face: {{material: maple board, size: 1x6}}
assemblies:
"""
BAY = """  case_{n}:
    name: Case {n}
    at: {{x: {x}}}
    parts:
      side: {{stock: case, thickness: x, grain: z, left: 0, front: 0, back: depth, bottom: 0, top: height, mirror: {{x: bay / 2}}}}
      bottom: {{stock: case, thickness: z, grain: x, between: side, front: 0, back: back.front, bottom: 3}}
      fixed: {{name: Fixed shelf, like: bottom, bottom: 30}}
      top: {{like: bottom, bottom: height - 23/32}}
      back: {{name: Back panel, stock: thin, thickness: y, grain: z, between: side, back: depth, bottom: bottom.bottom, top: height}}
{spacer}    joints:
      - {{dado: [bottom, fixed], in: side, depth: 1/4, with: [glue, {{brads: every 5}}]}}
      - {{rabbet: top, in: side, depth: 3/8, with: [glue, {{brads: every 5}}]}}
      - {{rabbet: back, in: side, depth: 3/8, with: [glue, {{brads: every 8}}]}}
      - {{butt: back, to: [bottom, fixed, top], with: [glue, {{brads: every 8}}]}}
{held}{screwed}    machining:
      - {{in: side.original, shelf_pins: {{face: right, rows: {{front: 2, back: 2}}, start: 36, spacing: 2, count: 16}}}}
      - {{in: side.mirrored, shelf_pins: {{face: left, rows: {{front: 2, back: 2}}, start: 36, spacing: 2, count: 16}}}}
    hardware: [{{item: anti-tip strap, on: back, backing: top, face: back, at: {{x: bay / 2, z: top.bottom + 3/8}}}}]
  frame_{n}:
    name: Face frame {n}
    at: {{x: {x}}}
    parts:
      stile: {{stock: frame, thickness: y, grain: z, left: 0, wide: 1-7/16, back: 0, bottom: 0, top: height, mirror: {{x: bay / 2}}}}
      rail_top: {{name: Top rail, stock: frame, thickness: y, full_width: z, grain: x, between: stile, back: 0, top: height}}
      rail_bottom: {{name: Bottom rail, like: rail_top, top: case_{n}.bottom.top}}
    joints:
      - {{butt: [rail_top, rail_bottom], to: stile, with: [glue, {{pocket_screws: {{count: 2, on: back}}}}]}}
      - {{butt: frame_{n}, to: [case_{n}.side, case_{n}.bottom, case_{n}.top], with: [glue, {{brads: every 8}}]}}
  shelf_{n}:
    name: Shelf {n}
    loose: yes
    component: edged shelf
    with: {{wide: case_{n}.side.mirrored.left - case_{n}.side.original.right, deep: case_{n}.back.front - 1/2, sheet: case, edge: frame}}
    at: {{x: case_{n}.side.original.right, y: 1/4, z: 50 + 1/8}}
    hardware: [{{item: shelf pin 1/4, on: shelf}}]
"""
SCREWED = (
    "      - {{butt: case_{n}.side.original, to: case_{before}.side.mirrored, with: [{{screws: {{count: 4}}}}]}}\n"
)
SPACER = "      spacer: {{name: Slide spacer, stock: case, thickness: x, grain: y, left: side.right, front: 0, deep: 11, bottom: bottom.top, high: 3, mirror: {{x: bay / 2}}}}\n"
HELD = "      - {{butt: spacer, to: side, with: [{{screws: {{count: 3}}}}]}}\n"
DRAWER = """  drawer_{n}:
    name: Drawer {n}
    loose: yes
    component: drawer box
    with: {{wide: case_{n}.spacer.mirrored.left - case_{n}.spacer.original.right - 1, deep: 10, high: 4, box: drawer, floor: thin}}
    at: {{x: case_{n}.spacer.original.right + 1/2, y: 0, z: case_{n}.bottom.top + 3/8}}
    parts:
      face: {{name: Drawer front, stock: face, thickness: y, grain: x, left: frame_{n}.stile.original.right + 3/32, right: frame_{n}.stile.mirrored.left - 3/32, back: 0, bottom: case_{n}.bottom.top + 3/32, high: 5}}
    joints: [{{butt: face, to: box_front, with: [{{screws: {{count: 4, through: box_front}}}}]}}]
    machining: [{{in: [face, box_front], finger_hole: {{face: front, at: {{middle_of: face}}, diameter: 1-1/4}}}}]
    hardware: [{{item: side-mount slides 10 in, on: [case_{n}.spacer.original, case_{n}.spacer.mirrored], carries: drawer_{n}, at: {{y: 1/8, z: case_{n}.bottom.top + 1}}}}]
"""
TAIL = """finish:
  - {sand: [120, 180], to: all}
  - {apply: water-based polyurethane satin, coats: 2, to: all}
checks:
  waive: [{check: heavy-lift, reason: Bays are carried one by one and screwed together where they stand.}]
"""


def source(count: int) -> str:
    """The plan of a wall of so many bays."""
    text = HEAD.format(count=count)
    for n in range(1, count + 1):
        screwed = SCREWED.format(n=n, before=n - 1) if n > 1 else ""
        drawer = n % 4 == 1
        spacer, held = (SPACER.format(), HELD.format()) if drawer else ("", "")
        text += BAY.format(n=n, x=f"{n - 1} * bay", screwed=screwed, spacer=spacer, held=held)
        if drawer:
            text += DRAWER.format(n=n)
    return text + TAIL


def write(count: int, folder: Path) -> Path:
    """The plan in a folder of its own below ``folder``. Raises OSError where it cannot be written."""
    place = folder / f"bays-{count}"
    place.mkdir(parents=True, exist_ok=True)
    (place / "plan.yaml").write_text(source(count), encoding="utf-8")
    return place


if __name__ == "__main__":
    for count in map(int, sys.argv[2:]):
        sys.stdout.write(f"{write(count, Path(sys.argv[1]))}\n")
