"""Screws on the line of a slide's holes: its own screws would meet them."""

from __future__ import annotations

import pytest
from tests.conftest import outcome_of
from tests.trade.plans import HOOK

from drawleaf.checks.context import Bench
from drawleaf.checks.under_hardware import under_hardware
from drawleaf.compiler import Choice, check_plan
from drawleaf.model.checks import Verdict
from drawleaf.solids.build import build_solids

ROW = "rows: {bottom: 3/8}"


@pytest.mark.parametrize(("plan", "spacers"), [("record-cabinet", 2), ("boot-bench", 1)])
@pytest.mark.parametrize("aside", [True, False])
def test_spacers_screwed_on_the_slides_line(edited_plan, plan: str, spacers: int, aside: bool) -> None:
    """A row of its own keeps clear of the slide's holes; screws on the spacer's middle line are told for each spacer."""
    if aside:
        derived = outcome_of(plan).derived
    else:
        derived = check_plan(edited_plan(plan, (f"count: 3, {ROW}", "count: 3")), Choice()).derived
    assert derived is not None
    told = [one for one in derived.checks if one.title == "Screws under hardware"]
    assert [one.verdict for one in told] == ([] if aside else [Verdict.ADVICE] * spacers)


@pytest.mark.parametrize(("x", "met"), [(150, True), (90, False)])
def test_a_hook_over_a_screw(checked, x: int, met: bool) -> None:
    """A hook's plate over the middle screw of three, and one between two of them."""
    outcome = checked(HOOK.format(x=x))
    assert outcome.derived is not None, outcome.diagnostics
    bench = Bench(outcome.derived, build_solids(outcome.derived.plan))
    fitting = bench.plan.fittings[0]
    assert fitting.body is not None
    assert bool(list(under_hardware(bench, "screws"))) is met
