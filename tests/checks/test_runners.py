"""A drawer on runners of wood against its opening, in the dampest weeks; its floor is no shelf."""

from __future__ import annotations

import pytest
from tests.checks.conftest import figure, found
from tests.trade.plans import CHEST

from drawleaf.model.checks import Verdict

OAK, PLY = "red oak board, size: 1x8", "birch plywood, nominal: 18 mm, actual: 18 mm"


@pytest.mark.parametrize(
    ("beside", "above", "wood", "verdict"),
    [
        (1, 5, OAK, Verdict.PASS),
        (1, 1, OAK, Verdict.STOP),
        (1, 2, OAK, Verdict.ADVICE),
        (1, 1, PLY, Verdict.PASS),
        (0, 5, OAK, Verdict.STOP),
        (6, 5, OAK, Verdict.ADVICE),
    ],
)
def test_a_drawer_on_wood(checked, beside: float, above: float, wood: str, verdict: Verdict) -> None:
    """Red oak swells by 0.0177 of its height: 160 mm by some 2.8 mm; plywood does not."""
    outcome = checked(CHEST.format(beside=beside, above=above, wood=wood))
    assert outcome.derived is not None, outcome.diagnostics
    (one,) = [each for each in outcome.derived.checks if each.title == "Drawers on wood"]
    assert one.verdict is verdict, one
    assert figure(one, "room above") == pytest.approx(above, abs=0.01)
    if wood == OAK:
        assert figure(one, "swells") == pytest.approx((164 - above) * 0.0177, rel=0.02)


def test_its_floor_carries_what_a_drawer_holds(checked) -> None:
    """Six millimetres of plywood 340 mm wide are no shelf for books, but a drawer's floor all the same."""
    outcome = checked(CHEST.format(beside=1, above=5, wood=OAK))
    floors = [one for one in outcome.derived.checks if one.check == "shelf-sag" and "drawer.floor" in one.parts]
    assert floors
    assert all("full drawer" in str(one) or "drawer holds" in str(one) for one in floors)
    assert all(one.verdict is not Verdict.STOP for one in floors)
    assert found(outcome, "drawer-fit").verdict is Verdict.PASS
