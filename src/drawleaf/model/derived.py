"""Everything that derive hands to draw and book, in one value."""

from __future__ import annotations

from dataclasses import dataclass, field

from drawleaf.model.checks import CheckResult
from drawleaf.model.helps import HelpRow
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
from drawleaf.model.plan import Feature, Plan
from drawleaf.model.revised import Revised
from drawleaf.model.steps import HardwareUse, Schedule, Step
from drawleaf.model.tools import Tool


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
    ways: tuple[OtherWay, ...] = ()
    revised: Revised | None = None
    """What changed since a revision that was sold, where that is marked."""
    helps: tuple[HelpRow, ...] = ()
    """Scraps to make that hold or guide the work."""
    _cuts: dict[str, list[tuple[int, Feature]]] = field(default_factory=dict, init=False, repr=False, compare=False)
    """What steps cut, by part, noted when it is first asked for."""

    def cuts_in(self, part_id: str) -> list[tuple[int, Feature]]:
        """What is cut into a part, each with the number of the step that does it, in their order."""
        if not self._cuts:
            for step in self.steps:
                for part, feature in (one for operation in step.operations for one in operation.features):
                    self._cuts.setdefault(part, []).append((step.number, feature))
        return self._cuts.get(part_id, [])


@dataclass(frozen=True, slots=True)
class OtherWay:
    """A joint, machining or hardware done in another way, worked out like the first.

    ``name`` is what it is called; ``in_place_of`` the numbers of the steps of the plan whose work it replaces; ``steps`` what is done
    instead, of the ``derived`` plan with this way in it. ``sized`` are the ids of parts that are cut at another size; ``more`` and ``fewer``
    what is bought besides and what is not; ``tools`` what is needed besides.
    """

    id: str
    name: str
    in_place_of: tuple[int, ...]
    steps: tuple[Step, ...]
    derived: Derived
    sized: tuple[str, ...]
    more: tuple[HardwareUse, ...]
    fewer: tuple[HardwareUse, ...]
    tools: tuple[Tool, ...]
    checks: tuple[CheckResult, ...] = ()
    """What the workshop checks found of it and not of the plan as it stands."""
