"""How far each part stands off when the whole piece comes apart."""

from __future__ import annotations

import numpy as np

from drawleaf.draw.piece.exploded import units_inside
from drawleaf.draw.piece.explosion import Moving, explode
from drawleaf.draw.turnable.shapes import rounded
from drawleaf.model.turnable import Vector
from drawleaf.solids.build import Solids


def apart(solids: Solids) -> dict[str, Vector]:
    """By part and fitting, in millimetres: assemblies stand off from one another, and within each its own parts. A fitting goes with the part it is on."""
    plan = solids.plan
    tops = [assembly for assembly in plan.assemblies if assembly.parent is None]
    whole = [Moving(top.id, tuple(part.id for part in plan.parts_in(top.id))) for top in tops]
    moved = {part.id: np.zeros(3) for part in plan.parts}
    for units in (
        [unit for unit in whole if unit.parts],
        *(units_inside(plan, assembly) for assembly in plan.assemblies),
    ):
        if len(units) < 2:
            continue
        for part, offset in explode(solids, units).offsets.items():
            moved[part] = moved[part] + np.array(offset)
    found = {part: rounded(offset, 2) for part, offset in moved.items()}
    nowhere = (0.0, 0.0, 0.0)
    return found | {one.id: found[one.parts[0]] if one.parts else nowhere for one in plan.fittings}
