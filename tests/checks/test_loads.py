"""Loads in plans: any unit of weight, in all or on each metre or square metre; what is none is told where it stands."""

from __future__ import annotations

import pytest

from drawleaf.model.checks import Load
from drawleaf.resolve.checking import NAMED_LOADS

POUND_FORCE, FOOT, GRAVITY = 4.4482216152605, 0.3048, 9.80665  # N, m, m/s2: NIST SP 811 (from memory)


def load_of(case, written: str) -> Load:
    outcome = case(more=f"checks: {{loads: [{{on: case.shelf, load: {written}}}]}}")
    assert outcome.derived is not None, outcome.diagnostics
    return outcome.derived.plan.checks.loads[0]


@pytest.mark.parametrize(
    ("written", "kind", "newtons"),
    [
        ("40 lb/ft2", "area", 40 * POUND_FORCE / FOOT**2),
        ("40 lbf/ft^2", "area", 40 * POUND_FORCE / FOOT**2),
        ("2 kN/m^2", "area", 2000),
        ("20 kg/m2", "area", 20 * GRAVITY),
        ("30 lb/ft", "line", 30 * POUND_FORCE / FOOT),
        ("60 kg/m", "line", 60 * GRAVITY),
        ("50 LB", "total", 50 * POUND_FORCE),
        ("25 kg", "total", 25 * GRAVITY),
        ("100 N", "total", 100),
    ],
)
def test_a_load_is_a_force_or_the_weight_of_a_mass(case, written: str, kind: str, newtons: float) -> None:
    load = load_of(case, written)
    assert load.kind == kind
    assert load.value == pytest.approx(newtons, rel=1e-12)


@pytest.mark.parametrize(
    ("written", "cause", "mend"),
    [
        ("25", "It has no unit.", "Write a figure with its unit: 40 lb/ft2, 60 kg/m or 25 kg."),
        ("25 kg/m3", "It is a density; a load is a weight, in all or on each metre or square metre.", "Write a figure"),
        ("25 stone", "There is no unit “stone”.", "Write a figure"),
        ("0 kg", "Nothing would stand there.", "Write a figure"),
        ("boks", "", "Did you mean “books”?"),
        ("lots", "", "Write one of " + ", ".join(NAMED_LOADS) + ", or a figure: 40 lb/ft2"),
    ],
)
def test_what_is_no_load_is_told_where_it_stands(case, written: str, cause: str, mend: str) -> None:
    outcome = case(more=f"checks:\n  loads:\n    - on: case.shelf\n      load: {written}")
    told = [one for one in outcome.diagnostics if one.code == "unknown-load"]
    assert [(one.message, one.cause) for one in told] == [(f"“{written}” is no load", cause)]
    assert told[0].mend.startswith(mend)
    assert told[0].position is not None
    source = outcome.texts[told[0].position.file]
    assert source.splitlines()[told[0].position.line - 1].strip() == f"load: {written}"
