"""Dowels of parts that are sawn to an outline: their bodies have no pins in them, and the order must know them all the same."""

from __future__ import annotations

from tests.small_plans import derived_from

RACK = """
plan: {title: T, number: T-1, date: 2026-11-30, author: A. Maker, lengths: mm}
stock:
  board: {material: pine board, size: 1x6}
assemblies:
  rack:
    parts:
      side: {stock: board, thickness: x, full_width: y, grain: z, left: 0, front: 0, bottom: 0, top: 300, mirror: {x: 200}}
      top: {stock: board, thickness: z, full_width: y, grain: x, between: side, front: 0, top: 260}
      rail: {stock: board, thickness: y, grain: x, between: side, back: side.back, high: 80, top: top.bottom}
    joints:
      - {dado: top, in: side, depth: 6, with: [glue]}
      - {butt: rail, to: [side, top], with: [glue, {dowels: 2}]}
    machining: %s
checks: {waive: [{check: tip-over, reason: It hangs.}]}
"""
SHAPED = "[{in: side, shape: {face: left, outline: [{y: 30, z: 0}, {y: side.back, z: 0}, {y: side.back, z: 300}, {y: 0, z: 300}, {y: 0, z: 60}]}}]"


def arrivals(machining: str) -> list[str]:
    """What comes to the rack, part by part."""
    return [part for step in derived_from(RACK % machining).steps if step.scene for part in step.scene.new]


def test_a_rail_with_dowels_in_its_ends_never_comes_between_sides_that_stand() -> None:
    """The last to come is a side, whether the sides are square or sawn to a shape."""
    for machining in ("[]", SHAPED):
        last = [part for part in arrivals(machining) if part.startswith("rack.")][-1]
        assert last == "rack.side.mirrored", machining
