"""Laps of unequal stock: each loses half of what the two share, and what holds them fits the wood that is left."""

from __future__ import annotations

from tests.small_plans import outcome_from, plan_from

from drawleaf.model.plan import BoxCut
from drawleaf.units import Length

GATE = """
plan: {title: Gate, number: X-1, date: 2026-11-20, author: Nobody, lengths: in}
stock:
  post: {material: construction lumber, size: 2x4}
  rail: {material: pine board, size: 1x3}
assemblies:
  gate:
    parts:
      post: {stock: post, thickness: y, full_width: x, grain: z, left: 0, front: 0, bottom: 0, high: 30, mirror: {x: 15}}
      rail: {stock: rail, thickness: y, full_width: z, grain: x, left: 0, right: 30, front: 0, bottom: 4}
    joints:
      - {half_lap: rail, in: post, on: front, with: [glue, {screws: 2}]}
"""


def test_each_loses_half_of_what_they_share() -> None:
    """3/8 in out of the rail, 3/8 in out of the post, flush in front."""
    parts = {one.id: one for one in plan_from(GATE).parts}
    for part in ("gate.rail", "gate.post", "gate.post.mirrored"):
        cuts = [one for one in parts[part].features if isinstance(one, BoxCut)]
        assert {one.box.y.extent for one in cuts} == {Length.of_inches(3) / 8}, part


def test_screws_are_chosen_by_the_wood_that_a_lap_leaves() -> None:
    """Through 3/8 in of rail into 1-1/8 in of post: no longer than 1-3/8 in, so that no point comes out behind."""
    outcome = outcome_from(GATE)
    assert not [one.message for one in outcome.diagnostics if one.is_error and "fasten" in one.code]
    lengths = {two.item.length for one in plan_from(GATE).joints for two in one.fasteners}
    assert lengths
    assert all(one is not None and Length.of_inches(3) / 4 <= one <= Length.of_inches(11) / 8 for one in lengths)
