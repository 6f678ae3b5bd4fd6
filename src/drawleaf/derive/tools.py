"""The tool list: what the steps use, where, and what may stand in."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.model.catalogue import Tool
from drawleaf.model.lists import ToolRow
from drawleaf.model.plan import Plan
from drawleaf.model.steps import Step


def make_tools(plan: Plan, steps: Sequence[Step]) -> tuple[ToolRow, ...]:
    """One row for each tool, by the catalogue's groups and in its order."""
    used: dict[str, list[int]] = {}
    tools: dict[str, Tool] = {}
    for step in steps:
        for tool in step.tools:
            tools[tool.id] = tool
            used.setdefault(tool.id, []).append(step.number)
    places = {name: place for place, name in enumerate(plan.catalogue.tools)}
    rows = []
    for name in sorted(used, key=lambda name: places.get(name, len(places))):
        tool = tools[name]
        stand_ins = tuple(plan.catalogue.tools[other] for other in tool.stand_ins if other in plan.catalogue.tools)
        rows.append(ToolRow(tool, tuple(used[name]), stand_ins, tool.note))
    return tuple(rows)
