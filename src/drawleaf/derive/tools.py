"""The tool list: what the steps use, where, and what may stand in."""

from __future__ import annotations

from collections.abc import Container, Sequence

from drawleaf.derive.shop.bits import bit_words
from drawleaf.derive.shop.clamps import clamps_of
from drawleaf.english import listed
from drawleaf.model.lists import ToolRow
from drawleaf.model.looking_through import in_their_order, named_by_a_way
from drawleaf.model.plan import Plan
from drawleaf.model.steps import ClampUse, Step
from drawleaf.model.tools import Clamp, Tool
from drawleaf.units import Length

BAR_WORK = ("glue-up", "square")


def make_tools(plan: Plan, steps: Sequence[Step]) -> tuple[ToolRow, ...]:
    """One row for each tool, by the catalogue's groups and in its order."""
    used: dict[str, list[int]] = {}
    tools: dict[str, Tool] = {}
    for step in steps:
        for tool in step.tools:
            tools[tool.id] = tool
            used.setdefault(tool.id, []).append(step.number)
    borrowed = {tool.id for step in steps for op in step.operations for tool in op.method.borrow}
    equals = frozenset(other for tool in tools.values() for other in tool.stand_ins)
    named = named_by_a_way(plan.catalogue.methods, equals)
    rows = []
    for name in in_their_order(plan.catalogue.tools, frozenset(used)):
        tool = tools[name]
        stand_ins = _stand_ins(plan, steps, tool, named)
        why = _clamp_words(plan, steps, tool) if tool.clamp is not None else bit_words(plan, steps, name)
        rows.append(ToolRow(tool, tuple(used[name]), stand_ins, why or tool.note, name in borrowed))
    return tuple(rows)


def _stand_ins(plan: Plan, steps: Sequence[Step], tool: Tool, named: Container[str]) -> tuple[Tool, ...]:
    """What may stand in for it in all that it does here: an equal that no way of working names (another square; ``named`` are the others),
    or what the other ways of every one of its operations take instead. A hand saw stands in for a jigsaw along a line, never in a curve."""
    catalogue = plan.catalogue
    uses = [op for step in steps for op in step.operations if tool in op.method.tools]
    offered = [
        {one.id for way in op.others if tool not in way.tools for one in way.tools if one not in op.method.tools}
        for op in uses
    ]
    return tuple(
        catalogue.tools[other]
        for other in tool.stand_ins
        if other in catalogue.tools and (other not in named or all(other in ways for ways in offered))
    )


def _clamp_words(plan: Plan, steps: Sequence[Step], tool: Tool) -> str:
    """How many of which size are on the work at once: ``12 that open 24 in (step 27)``; the most for each size."""
    most: dict[Length, tuple[int, int]] = {}
    for step in steps:
        for use in _clamps_of_sort(plan, step, tool):
            if use.count > most.get(use.opening, (0, 0))[0]:
                most[use.opening] = use.count, step.number
    words = [
        f"{count} that {'opens' if count == 1 else 'open'} {plan.lengths.text(opening)} (step {number})"
        for opening, (count, number) in sorted(most.items(), key=lambda one: one[0])
    ]
    return f"At once: {listed(words)}." if words else ""


def _clamps_of_sort(plan: Plan, step: Step, clamp: Tool) -> Sequence[ClampUse]:
    """The clamps of a step that share a name: bar clamps lie across panels and along diagonals, plain ones do the rest."""
    mine = {tool.id for tool in step.tools if tool.clamp is not None}
    if clamp.id not in mine:
        return ()
    if len(mine) == 1:
        return step.clamps
    bars = clamp.clamp is Clamp.BAR
    return clamps_of(plan, [op for op in step.once.operations if (op.kind in BAR_WORK) is bars])
