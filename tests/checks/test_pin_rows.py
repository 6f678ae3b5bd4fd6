"""Rows for shelf pins that face each other stand opposite, whatever the depth of the two parts."""

from __future__ import annotations

import pytest
from tests.checks.conftest import figure, found
from tests.trade.plans import PINS

from drawleaf.model.checks import Verdict


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
    outcome = checked(PINS.format(deep=deep, mine=mine, theirs=theirs))
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


def test_what_stands_between_two_parts_parts_their_rows(checked) -> None:
    """A divider with rows of its own on both sides: each side answers to it, and not to the other side."""
    parts = "      divider: {stock: ply, thickness: x, grain: z, left: 200, front: 0, back: 300, bottom: floor.top, top: 600}\n    joints:\n"
    rows = (
        "      - {in: divider, shelf_pins: {face: left, rows: {front: 50, back: 50}, start: 82, spacing: 32, count: 6}}\n"
        "      - {in: divider, shelf_pins: {face: right, rows: {front: 60, back: 60}, start: 82, spacing: 32, count: 6}}\n"
    )
    plan = PINS.format(deep=300, mine="50", theirs="60").replace(
        "rows: {front: 50, back: 60}", "rows: {front: 60, back: 60}"
    )
    butt = "      - {butt: divider, to: floor, with: [glue]}\n    machining:\n"
    divided = plan.replace("    joints:\n", parts).replace("    machining:\n", butt) + rows
    outcome = checked(divided)
    assert outcome.derived is not None, outcome.diagnostics
    assert found(outcome, "pin-rows").verdict is Verdict.PASS
    assert found(checked(plan), "pin-rows").verdict is Verdict.ADVICE


def test_the_mend_works_when_typed(checked) -> None:
    outcome = checked(PINS.format(deep=292, mine="50", theirs="50"))
    remedy = found(outcome, "pin-rows").remedy
    told = dict(remedy.values)
    typed = f"{told['id']}.back - {told['id']}.front - {told['far'].mm:g}"
    assert "{high}: {id}.{high} - {id}.{low} - {far}" in remedy.template
    assert found(checked(PINS.format(deep=292, mine="50", theirs=typed)), "pin-rows").verdict is Verdict.PASS
