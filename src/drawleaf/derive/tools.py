"""The tool list: what the steps use, where, and what may stand in."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.derive.bits import bit_words
from drawleaf.derive.part_words import listed
from drawleaf.model.catalogue import Tool
from drawleaf.model.lists import ToolRow
from drawleaf.model.plan import Plan
from drawleaf.model.steps import Step
from drawleaf.units import Length

CLAMPS = ("clamps", "bar clamps")


def make_tools(plan: Plan, steps: Sequence[Step]) -> tuple[ToolRow, ...]:
    """One row for each tool, by the catalogue's groups and in its order."""
    used: dict[str, list[int]] = {}
    tools: dict[str, Tool] = {}
    for step in steps:
        for tool in step.tools:
            tools[tool.id] = tool
            used.setdefault(tool.id, []).append(step.number)
    borrowed = {tool.id for step in steps for op in step.operations for tool in op.method.borrow}
    places = {name: place for place, name in enumerate(plan.catalogue.tools)}
    rows = []
    for name in sorted(used, key=lambda name: places.get(name, len(places))):
        tool = tools[name]
        stand_ins = tuple(plan.catalogue.tools[other] for other in tool.stand_ins if other in plan.catalogue.tools)
        why = _clamp_words(plan, steps, name) if name in CLAMPS else bit_words(plan, steps, name)
        rows.append(ToolRow(tool, tuple(used[name]), stand_ins, why or tool.note, name in borrowed))
    return tuple(rows)


def _clamp_words(plan: Plan, steps: Sequence[Step], name: str) -> str:
    """How many of which size are on the work at once: ``12 that open 24 in (step 27)``; the most for each size."""
    most: dict[Length, tuple[int, int]] = {}
    for step in steps:
        if not any(tool.id == name for tool in step.tools):
            continue
        for use in step.clamps:
            if use.count > most.get(use.opening, (0, 0))[0]:
                most[use.opening] = use.count, step.number
    words = [
        f"{count} that open {plan.lengths.text(opening)} (step {number})"
        for opening, (count, number) in sorted(most.items(), key=lambda one: one[0])
    ]
    return f"At once: {listed(words)}." if words else ""
