"""A top as high as a seat with no load named for it is pointed out to its author, and to nobody else."""

from __future__ import annotations

import pytest
from tests.small_plans import plan_from
from tests.trade.rule import HEAD

from drawleaf.checks.unloaded import unloaded_lines, unloaded_seats

BENCH = """
stock:
  oak: {material: birch plywood, nominal: 18 mm, actual: 18 mm}
assemblies:
  bench:
    parts:
      side: {stock: oak, thickness: x, grain: z, left: 0, front: 0, deep: 280, bottom: 0, top: %s, mirror: {x: 300}}
      seat: {stock: oak, thickness: z, grain: x, left: 0, right: 600, front: 0, deep: 280, bottom: side.top}
    joints: [{butt: seat, to: side, with: [glue, {screws: {heads: filled}}]}]
%s"""
LOAD = "checks: {loads: [{on: bench.seat, load: %s}]}\n"
HUTCH = """  hutch:
    parts:
      wall: {stock: oak, thickness: x, grain: z, left: 0, front: 0, deep: 280, bottom: bench.seat.top, high: 300, mirror: {x: 300}}
      lid: {stock: oak, thickness: z, grain: x, left: 0, right: 600, front: 0, deep: 280, bottom: wall.top}
    joints: [{butt: lid, to: wall, with: [glue, {screws: {heads: filled}}]}, {butt: wall, to: bench.seat, with: [glue, {screws: {heads: filled}}]}]
"""


@pytest.mark.parametrize(
    ("high", "more", "told"),
    [
        (420, "", True),
        (420, LOAD % "sitting", False),
        (420, LOAD % "20 kg", False),
        (700, "", False),
        (200, "", False),
        (420, HUTCH, False),
    ],
    ids=["bench", "someone sits", "a pot stands on it", "table", "step", "a shelf over it"],
)
def test_a_free_top_at_the_height_of_a_seat(high: int, more: str, told: bool) -> None:
    plan = plan_from(HEAD + BENCH % (high, more))
    assert [part.id for group in unloaded_seats(plan) for part in group] == (["bench.seat"] if told else [])


def test_the_line_that_it_gives_works() -> None:
    plan = plan_from(HEAD + BENCH % (420, ""))
    (line,) = unloaded_lines(plan)
    assert line.startswith("note The seat is 438 mm high")
    written = line.split("“")[1].split("”")[0]
    assert not list(unloaded_lines(plan_from(HEAD + BENCH % (420, f"checks: {{{written}}}\n"))))
