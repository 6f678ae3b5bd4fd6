"""Pockets in more than two sides of a part: each end and each edge is told, with its own count."""

from __future__ import annotations

from tests.book.test_wording import transcript
from tests.small_plans import derived_from

TOE = """
plan: {title: T, number: T-1, date: 2026-11-30, author: A. Maker, lengths: mm}
stock:
  ply: {material: birch plywood, nominal: 18 mm, actual: 18 mm}
assemblies:
  case:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 300, bottom: 0, top: 400, mirror: {x: 300}}
      deck: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 300, bottom: 80}
      toe: {name: Toe board, stock: ply, thickness: y, grain: x, left: side.right, right: side.mirrored.left, front: 50, bottom: 0, top: deck.bottom}
      lid: {name: Top, stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 290, top: 400}
      rail: {name: Low rail, stock: ply, thickness: y, grain: x, left: side.right, right: side.mirrored.left, back: 300, high: 80, bottom: 200}
      hang: {name: Hanging rail, stock: ply, thickness: y, grain: x, left: side.right, right: side.mirrored.left, back: 290, high: 80, top: lid.bottom}
    joints:
      - {butt: deck, to: side, with: [glue, {screws: {heads: filled}}]}
      - {rabbet: lid, in: side, depth: 9, with: [glue]}
      - {butt: toe, to: [side, deck], with: [glue, {pocket_screws: {count: 2, on: back}}]}
      - {butt: rail, to: side, with: [glue, {pocket_screws: {count: 2, on: front}}]}
      - {butt: hang, to: [side, lid], with: [glue, {pocket_screws: {count: 2, on: front}}]}
"""


def test_each_side_with_pockets_is_told() -> None:
    """A toe board takes six: two in each end, two up into the bottom. A rail has two in each end and nothing else."""
    line = next(one for one in transcript(derived_from(TOE)).splitlines() if "toe board" in one and "pockets" in one)
    assert "2 pockets in each end" in line
    assert "2 pockets in the top edge" in line
    assert "all on the back face" in line
    rail = next(one for one in transcript(derived_from(TOE)).splitlines() if "low rail" in one and "pockets" in one)
    assert "2 pockets in each end, on the front face" in rail
    assert "edge," not in rail.split("either")[0]


def test_nothing_is_nought_from_anything() -> None:
    """What touches a face is said to touch it."""
    words = transcript(derived_from(TOE))
    assert "Its left end touches the inside face of the left side" in words
    assert " 0 mm from" not in words
