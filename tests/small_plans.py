"""Plans written out in a test, resolved or compiled without a folder of their own."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory

from drawleaf.compiler import Choice, Outcome, check_plan, read_and_resolve
from drawleaf.model.derived import Derived
from drawleaf.model.plan import Plan

FRAMES = """
plan: {title: T, number: T-1, date: 2026-11-30, author: A. Maker, lengths: mm}
stock:
  oak: {material: red oak board, size: 1x2}
assemblies:
  first: {component: face frame, with: {wide: 300, high: 500, frame: oak}}
  tall: {component: face frame, with: {wide: 300, high: 600, frame: oak}, at: {x: 400}}
  bay_2: {component: face frame, with: {wide: 300, high: 500, frame: oak}, at: {x: 800}}
  bay_3: {component: face frame, with: {wide: 300, high: 500, frame: oak}, at: {x: 1200}}
checks: {waive: [{check: tip-over, reason: They hang in a case.}]}
"""
"""Four face frames, three of one size, under names of their own."""


def plan_from(text: str, choice: Choice | None = None) -> Plan:
    """The resolved plan of such a source."""
    with TemporaryDirectory() as folder:
        outcome, plan = read_and_resolve(_written(folder, text), choice or Choice())
    assert plan is not None, outcome.diagnostics
    return plan


def derived_from(text: str, choice: Choice | None = None) -> Derived:
    """Its lists and steps, whatever the workshop checks say of it."""
    with TemporaryDirectory() as folder:
        outcome = check_plan(_written(folder, text), choice or Choice())
    assert outcome.derived is not None, outcome.diagnostics
    return outcome.derived


def outcome_from(text: str, choice: Choice | None = None) -> Outcome:
    """All that checking such a source gives, its mistakes too."""
    with TemporaryDirectory() as folder:
        return check_plan(_written(folder, text), choice or Choice())


def _written(folder: str, text: str) -> Path:
    place = Path(folder) / "small"
    place.mkdir()
    (place / "plan.yaml").write_text(text, encoding="utf-8")
    return place
