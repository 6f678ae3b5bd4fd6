"""Rows for shelf pins that face each other stand opposite, whatever the depth of the two parts."""

from __future__ import annotations

import pytest
from tests.checks.conftest import figure, found

from drawleaf.model.checks import Verdict

CASE = """
stock:
  ply: {{material: birch plywood, nominal: 18 mm, actual: 18 mm}}
assemblies:
  case:
    parts:
      side: {{stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 300, bottom: 0, top: 600}}
      other: {{stock: ply, thickness: x, grain: z, left: 418, front: 0, back: {deep}, bottom: 0, top: 600}}
      floor: {{stock: ply, thickness: z, grain: x, left: side.right, right: other.left, front: 0, back: 280, bottom: 0}}
    joints:
      - {{butt: floor, to: [side, other], with: [glue, {{screws: {{heads: filled}}}}]}}
    machining:
      - {{in: side, shelf_pins: {{face: right, rows: {{front: 50, back: {mine}}}, start: 100, spacing: 32, count: 6}}}}
      - {{in: other, shelf_pins: {{face: left, rows: {{front: 50, back: {theirs}}}, start: 100, spacing: 32, count: 6}}}}
"""


@pytest.mark.parametrize(
    ("deep", "mine", "theirs", "off"),
    [
        (300, "50", "50", 0),
        (292, "50", "50", 8),
        (292, "side.back - 250", "other.back - 250", 0),
        (292, "50", "100", 0),
    ],
)
def test_rows_that_face_each_other(checked, deep: int, mine: str, theirs: str, off: float) -> None:
    """Measured from the backs of parts of two depths they stand 8 mm out of line; 58 mm apart they are meant to."""
    outcome = checked(CASE.format(deep=deep, mine=mine, theirs=theirs))
    assert outcome.derived is not None, outcome.diagnostics
    if theirs == "100":
        assert not [
            one for one in outcome.derived.checks if one.check == "pin-rows" and one.verdict is not Verdict.PASS
        ]
        return
    one = found(outcome, "pin-rows")
    assert one.verdict is (Verdict.ADVICE if off else Verdict.PASS)
    if off:
        assert figure(one, "out of line") == pytest.approx(off)
