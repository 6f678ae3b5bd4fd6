"""What the piece weighs and how much room it takes."""

from __future__ import annotations

from drawleaf.model.place import Axis
from drawleaf.model.plan import Part, Plan
from drawleaf.solids.build import Solids


def mass_kg(plan: Plan, solids: Solids) -> float:
    """Kilograms of the wood alone, from the volume of the machined solids and the catalogue's densities; hardware and finish are left out."""
    return sum(part.stock.material.mass(solids.solid(part.id).volume) for part in plan.parts)


def about_kg(part: Part) -> float:
    """Kilograms of a part before its joints are cut: a little more than it weighs in the piece."""
    a, b, c = (side.mm for side in part.size)
    return part.stock.material.mass(a * b * c)


def overall_size(plan: Plan, solids: Solids) -> tuple[float, float, float]:
    """Width, depth and height of the block around all parts as they stand, in millimetres."""
    reaches = [_reach(part, solids) for part in plan.parts]
    width, depth, height = (
        max(one[axis.index][1] for one in reaches) - min(one[axis.index][0] for one in reaches) for axis in Axis
    )
    return width, depth, height


def _reach(part: Part, solids: Solids) -> list[tuple[float, float]]:
    """From where to where a part reaches on each axis. What leans is written as it would stand upright: its solid knows how it stands."""
    if part.tilt is None:
        return [(part.body.span(axis).low.mm, part.body.span(axis).high.mm) for axis in Axis]
    low, high = solids.solid(part.id).bounds
    return [(round(float(a), 3), round(float(b), 3)) for a, b in zip(low, high, strict=True)]
