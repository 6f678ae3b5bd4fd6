"""What a picture of the whole piece shows, and in which colours."""

from __future__ import annotations

from drawleaf.draw.paper.style import wood_tint
from drawleaf.model.plan import Plan

METAL = "#8d9297"


def everything(plan: Plan) -> tuple[str, ...]:
    """All parts and all bought items that have a body."""
    return (*(part.id for part in plan.parts), *(fitting.id for fitting in plan.fittings if fitting.body))


def tints(plan: Plan) -> dict[str, str]:
    """The soft colour of every part."""
    return {part.id: wood_tint(part.stock.material.id, part.stock.material.tint) for part in plan.parts}
