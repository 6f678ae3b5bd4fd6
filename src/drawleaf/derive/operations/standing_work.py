"""Machining that the author wants in the standing piece: holes, notches and edges when what they wait for has been joined."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace

from drawleaf.derive.operations.drafts import Draft, Stage, Workshop
from drawleaf.derive.operations.machining import BORING, EDGING, NOTCHING, PIN_ROWS
from drawleaf.derive.operations.recesses import RECESSES
from drawleaf.derive.operations.shaping import cut_standing
from drawleaf.model.plan import Plan
from drawleaf.model.position import Position


def due_before(shop: Workshop, new: Collection[str]) -> frozenset[Position]:
    """The lines of machining that have to be cut before these parts come."""
    coming = set(new)
    return frozenset(one.line for one in shop.plan.order.standing if one.until & coming) - shop.stood


def work_standing(shop: Workshop, lines: frozenset[Position] | None = None, heading: str = "") -> None:
    """All that is cut in the standing piece and has not been, or what some lines ask for; under a heading of its own where it is given."""
    start = len(shop.drafts)
    cut_standing(shop, lines)
    if heading:
        shop.drafts[start:] = [replace(draft, heading=heading) for draft in shop.drafts[start:]]
    lines = shop.plan.order.lines_standing - shop.stood if lines is None else lines
    if not lines:
        return
    start = len(shop.drafts)
    shop.lines_now = lines
    for work in (PIN_ROWS, BORING, NOTCHING, EDGING, RECESSES):
        work.do(shop)
    shop.lines_now = frozenset()
    shop.stood |= lines
    for place in range(start, len(shop.drafts)):
        shop.drafts[place] = _standing(shop, shop.drafts[place], heading or shop.words.put(Stage.ASSEMBLE.heading))


def _standing(shop: Workshop, draft: Draft, heading: str) -> Draft:
    """The step among those that put the piece together, with what stands round its parts."""
    parts = draft.scene.new if draft.scene is not None else ()
    home = shop.plan.part(parts[0]).assembly if parts else None
    scene = None if draft.scene is None else replace(draft.scene, standing=_around(shop.plan, parts, home))
    return replace(draft, stage=Stage.ASSEMBLE, heading=heading, assembly=home, scene=scene)


def _around(plan: Plan, parts: Sequence[str], home: str | None) -> tuple[str, ...]:
    return tuple(part.id for part in plan.parts if part.assembly == home and part.id not in parts)
