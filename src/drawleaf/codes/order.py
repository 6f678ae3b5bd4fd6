"""Codes of the order of work that an author asks for with “after” and “before”."""

from __future__ import annotations

from drawleaf.codes.samples import HEAD
from drawleaf.model.code import Code, Example, slip

_DADO = "{dado: floor, in: side,"
_ROUND = "{in: rail, round_over: {edges: [front-bottom], size: 1/8}}"
_TWO = "{butt: rail, to: side, with: [glue, {pocket_screws: {count: 2, on: bottom}}]}\n      - {rabbet: back, in: side,"
_TRAY = (
    HEAD
    + """\
stock:
  ply: {material: birch plywood, nominal: 1/2, actual: 1/2}
assemblies:
  tray:
    parts:
      side: {stock: ply, thickness: x, grain: y, left: 0, front: 0, deep: 12, bottom: 0, high: 6, mirror: {x: 10}}
      end: {stock: ply, thickness: y, grain: x, left: side.right, right: side.mirrored.left, front: 0, bottom: 0, high: 6, mirror: {y: 6}}
      floor: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: end.back, back: end.mirrored.front, bottom: 1/2}
    joints:
      - {butt: end, to: side, with: [glue, {screws: {count: 2, heads: filled}}]}
      - {groove: floor, in: [side, end], depth: 1/4, after: [side, end]}
"""
)

CODES = (
    Code(
        "mark-nothing",
        "A line is to be marked from its mate, and makes nothing that can be.",
        "Dowel holes can be marked so, and the recess opposite a magnet or a leaf hinge.",
        "Leave “mark” out.",
        slip(_DADO, "{dado: floor, in: side, mark: from_mate,"),
    ),
    Code(
        "order-itself",
        "A joint is to come before or after one of the parts that it joins.",
        "A part cannot wait for itself.",
        "Name another part.",
        slip(_DADO, "{dado: floor, in: side, after: floor,"),
    ),
    Code(
        "order-cycle",
        "Lines with “after” and “before” wait for each other.",
        "Each of the parts would have to come before the other.",
        "Take one of the lines' “after” or “before” out.",
        slip(
            _TWO,
            _TWO.replace("to: side,", "to: side, after: back,").replace("in: side,", "in: side, after: rail,"),
        ),
    ),
    Code(
        "order-impossible",
        "The order that is asked for cannot be built: a part would be shut out, or belongs to a piece that is built sooner or later.",
        "What goes into grooves all round must come before the last side does.",
        "Take the “after” or “before” out, or let the joint that is in the way run out.",
        Example(wrong=_TRAY),
    ),
    Code(
        "order-loose-work",
        "Work that is done on a loose part is to wait until it is joined.",
        "A saw follows an outline, and cuts an end at an angle, only while the part lies free.",
        "Leave “after” out.",
        slip(_ROUND, "{in: rail, after: side, taper: {edge: front, toward: left, start: 2, narrow_by: 1/4}}"),
    ),
    Code(
        "order-too-late",
        "Something is to be cut after a loose assembly has come to the piece.",
        "Drawers, doors and loose parts come when the finish is dry, and all cutting is done before that.",
        "Leave “after” out, or join the assembly to the rest.",
        slip(
            "  drawer:\n    loose: yes",
            "    machining:\n      - {in: side, after: drawer, round_over: {edges: [front-top], size: 1/8}}\n  drawer:\n    loose: yes",
            sample="chest",
        ),
    ),
    Code(
        "order-both",
        "A line asks for work before assembly and after it.",
        "A coat or a piece of hardware goes on once.",
        "Leave one of the two out.",
        slip(
            "{apply: danish oil, coats: 2, to: crate, but: crate.back}",
            "{apply: danish oil, coats: 2, to: crate, but: crate.back, before_assembly: yes, after: crate.side}",
        ),
    ),
)
