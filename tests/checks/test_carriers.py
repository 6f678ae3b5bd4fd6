"""Rails that carry a shelf sag over their own span: reckoned by hand, stopped where they are thin, and left out where something holds them all along."""

from __future__ import annotations

import pytest
from tests.checks.conftest import figure, found

from drawleaf.model.checks import Verdict

RACK = """
dimensions: {{wide: {wide}, low: {rail}}}
stock:
  ply: {{material: birch plywood, nominal: 18 mm, actual: 18 mm}}
  oak: {{material: red oak board, size: 1x6, actual: 20 mm}}
assemblies:
  rack:
    parts:
      side: {{stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 300, bottom: 0, top: 500, mirror: {{x: wide / 2 + 18}}}}
      rail: {{stock: oak, thickness: y, grain: x, left: side.right, right: side.mirrored.left, front: 0, bottom: 200, high: low, mirror: {{y: 150}}}}
      shelf: {{stock: ply, thickness: z, grain: x, left: side.right + 1, right: side.mirrored.left - 1, front: 0, back: 300, bottom: rail.top}}
{parts}
    joints:
      - {{butt: rail, to: side, with: [glue, {{dowels: {{count: 2, end_distance: 8 mm, item: dowel 6 x 30 mm}}}}]}}
      - {{butt: shelf, to: rail, with: [glue]}}
{joints}
checks: {{loads: [{{on: rack.shelf, load: 60 kg}}]}}
"""


def rack(checked, wide: int = 900, rail: int = 60, parts: str = "", joints: str = ""):
    return found(checked(RACK.format(wide=wide, rail=rail, parts=parts, joints=joints)), "shelf-sag", "rack.shelf")


def test_a_rail_by_hand(checked) -> None:
    """60 kg and the shelf's 898 x 300 x 18 mm of 680 kg/m3, half of it on each rail of 12,500 N/mm2 (red oak), 20 x 60 mm, 900 mm long,
    which weighs 706 kg/m3: W = (588.4 + 32.3) / 2 + 7.4 N, I = 360,000 mm4, sag 5 W L^3 / 384 E I."""
    result = rack(checked)
    material = 5 * ((588.4 + 32.3) / 2 + 7.4) * 900**3 / (384 * 12500 * 360000)
    assert figure(result, "sag of what carries it") == pytest.approx(1.5 * material, rel=0.02)
    assert "rail" in str(dict(result.words.values)["carrier"])
    assert result.verdict is Verdict.PASS


def test_a_low_rail_is_stopped_and_the_height_told_is_enough(checked) -> None:
    """The shelf itself is the same and spans the same."""
    low = rack(checked, rail=26)
    assert low.verdict is Verdict.STOP
    assert figure(low, "sag after years") == figure(rack(checked), "sag after years")
    assert low.remedy is not None
    assert rack(checked, rail=round(dict(low.remedy.values)["high"].mm)).verdict is Verdict.PASS


def test_a_rail_that_a_panel_holds_all_along_is_left_out(checked) -> None:
    """Glued to a board that goes down to the floor, it bends with that."""
    panel = "      panel: {stock: ply, thickness: y, grain: x, left: side.right, right: side.mirrored.left, front: rail.back, bottom: 0, top: rail.top, mirror: {y: 150}}"
    bare, held = rack(checked), rack(checked, parts=panel, joints="      - {butt: rail, to: panel, with: [glue]}")
    assert "carrier" in dict(bare.words.values)
    assert "carrier" not in dict(held.words.values)
