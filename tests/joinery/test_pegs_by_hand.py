"""Where pegs cross tenons, worked by hand in millimetres."""

from __future__ import annotations

import pytest
from tests.small_plans import plan_from

SOURCE = """
plan: {title: Pegs, number: T-1, date: 2026-11-20, author: A. Maker, lengths: mm}
stock:
  post: {material: beech board, size: 45x95}
  rail: {material: beech board, size: 27x90}
assemblies:
  frame:
    parts:
      post: {stock: post, thickness: y, full_width: x, grain: z, left: 0, front: 0, bottom: 0, top: 700}
      rail: {stock: rail, thickness: y, full_width: z, grain: x, left: post.right, right: 400, front: 9, top: 600}
    joints:
      - {mortise_and_tenon: rail, in: post, TENON, thickness: 8, clearance: 0, with: [glue, PEGS]}
"""


@pytest.mark.parametrize(
    ("tenon", "pegs", "spots"),
    [
        ("depth: 40", "pegs", {(79.0, 535.5), (79.0, 574.5)}),
        ("depth: 60", "pegs", {(71.0, 535.5), (71.0, 574.5)}),
        ("through: yes", "pegs", {(47.5, 535.5), (47.5, 574.5)}),
        ("depth: 40", "{pegs: {count: 1}}", {(79.0, 555.0)}),
        ("depth: 40, count: 2", "pegs", {(79.0, 529.0), (79.0, 581.0)}),
    ],
)
def test_a_peg_is_two_fifths_of_a_blind_tenon_from_its_shoulder(
    tenon: str, pegs: str, spots: set[tuple[float, float]]
) -> None:
    """The shoulder is at x 95. A rail 90 high with 6 mm of shoulder above and below has a tenon 78 high: two pegs where it is over five times as high
    as thick, at a quarter and three quarters of it. Through the post, in the middle of it. Two tenons have a gap of their own width (26) between
    them."""
    plan = plan_from(SOURCE.replace("TENON", tenon).replace("PEGS", pegs))
    found = {(one.at.x.mm, one.at.z.mm) for joint in plan.joints for one in joint.fasteners}
    assert found == spots
    assert {one.direction for joint in plan.joints for one in joint.fasteners} == {(0.0, 1.0, 0.0)}
