"""Hinges enough for a door: by its height, by its weight."""

from __future__ import annotations

import pytest
from tests.checks.conftest import found

from drawleaf.joinery.hinge_counts import usual_hinges
from drawleaf.model.checks import Verdict

CUPBOARD = """
stock:
  ply: {{material: birch plywood, nominal: 18 mm, actual: 18 mm}}
assemblies:
  case:
    parts:
      side: {{stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 300 mm, bottom: 0, top: 1810 mm, mirror: {{x: 250 mm}}}}
      shelf: {{stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 20 mm, back: 300 mm, bottom: 20 mm, repeat: {{along: z, at: [0 mm, 1750 mm]}}}}
    joints:
      - {{butt: shelf, to: side, with: [glue, screws]}}
    hardware:
      - {{item: anti-tip strap, on: shelf.2, face: back, at: {{x: 250 mm, z: 1778 mm}}}}
  door:
    parts:
      leaf: {{stock: ply, thickness: y, grain: z, left: case.side.right + 2 mm, right: case.side.mirrored.left - 2 mm, front: 0, bottom: 5 mm, high: 1800 mm}}
    hardware:
      - {{item: butt hinge 2-1/2 in, on: case.side.original, carries: door{count}}}
"""


@pytest.mark.parametrize(
    ("count", "verdict"), [("", Verdict.PASS), (", count: 3", Verdict.ADVICE), (", count: 2", Verdict.STOP)]
)
def test_a_high_door(checked, count: str, verdict: Verdict) -> None:
    """A door 1.8 m high hangs on four hinges: that many are taken where no count is given, three are told, two stop the plan."""
    result = found(checked(CUPBOARD.format(count=count)), "hinge-count")
    assert result.verdict is verdict
    assert [one.value for one in result.figures if one.name == "usual"] == [4]


def test_counts_rise_with_height_and_weight() -> None:
    """Two up to 1 m and 7 kg; the graver of the two decides."""
    assert [usual_hinges(height) for height in (600, 1000, 1001, 1600, 2100)] == [2, 2, 3, 4, 5]
    assert [usual_hinges(600, mass) for mass in (3, 7.1, 15, 25)] == [2, 3, 4, 5]
    assert usual_hinges(1600, 3) == usual_hinges(600, 15) == 4
