"""Everything that derive hands to draw and book, in one value."""

from __future__ import annotations

from dataclasses import dataclass

from drawleaf.model.checks import CheckResult
from drawleaf.model.lists import (
    Audit,
    ConsumableRow,
    CutList,
    FinishRow,
    HardwareRow,
    Layouts,
    ShoppingList,
    Strip,
    ToolRow,
)
from drawleaf.model.plan import Plan
from drawleaf.model.steps import Schedule, Step


@dataclass(frozen=True, slots=True)
class Derived:
    """The plan with all its lists and steps."""

    plan: Plan
    cut_list: CutList
    layouts: Layouts
    hardware: tuple[HardwareRow, ...]
    consumables: tuple[ConsumableRow, ...]
    finishes: tuple[FinishRow, ...]
    shopping: ShoppingList
    tools: tuple[ToolRow, ...]
    steps: tuple[Step, ...]
    schedule: Schedule
    audit: Audit
    overall: tuple[float, float, float]
    mass_kg: float
    checks: tuple[CheckResult, ...] = ()
    strips: tuple[Strip, ...] = ()
    """Strips that loose tenons are cut off."""
