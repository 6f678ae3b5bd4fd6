"""What the piece weighs and how much room it takes."""

from __future__ import annotations

from drawleaf.model.place import Axis
from drawleaf.model.plan import Plan
from drawleaf.solids.build import Solids

CUBIC_MM_IN_CUBIC_M = 1e9


def mass_kg(plan: Plan, solids: Solids) -> float:
    """Wood alone, from the volume of the machined solids and the catalogue's densities; hardware and finish are left out."""
    return sum(solids.solid(part.id).volume / CUBIC_MM_IN_CUBIC_M * part.stock.material.density for part in plan.parts)


def overall_size(plan: Plan) -> tuple[float, float, float]:
    """Width, depth and height of the block around all parts, in millimetres."""
    spans = [
        (
            min(part.body.span(axis).low.mm for part in plan.parts),
            max(part.body.span(axis).high.mm for part in plan.parts),
        )
        for axis in Axis
    ]
    width, depth, height = (high - low for low, high in spans)
    return width, depth, height
