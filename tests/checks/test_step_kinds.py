"""Checks point at the steps that they mean."""

from __future__ import annotations

from tests.conftest import ROOT

from drawleaf.checks.context import HANGING, RUNNING_IN
from drawleaf.model.steps import JOINING


def test_a_drawer_runs_in_on_any_slides_and_a_wall_is_no_hinge() -> None:
    """``hang-on-wall`` hangs the piece and no door; undermount slides have a step of their own."""
    assert set(RUNNING_IN) == {"hang-drawer", "hang-drawer-under"}
    assert set(HANGING) == {"hang-door", "hang-lid", "hang-cup-door"}


def test_every_kind_has_its_wording() -> None:
    steps = ROOT / "templates" / "steps"
    assert [kind for kind in (*HANGING, *RUNNING_IN, *JOINING) if not (steps / f"{kind}.j2").exists()] == []
