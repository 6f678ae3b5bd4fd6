"""The piece as triangles and edges for the turning view, and how far each part stands off when it comes apart."""

from __future__ import annotations

from typing import Any

import numpy as np

from drawleaf.draw.piece.explosion import Moving, explode
from drawleaf.model.derived import Derived
from drawleaf.model.plan import Assembly, Plan
from drawleaf.solids.build import Solids
from drawleaf.solids.solid import Solid

METAL = "#9aa0a6"
_WOOD = "#d9b98a"


def turning_view(derived: Derived, solids: Solids) -> dict[str, Any]:
    """Bodies with their corners in millimetres of the piece's frame, as JSON-ready values."""
    plan = derived.plan
    offsets = _offsets(plan, solids)
    numbers = {part.id: item.number for item in derived.cut_list.items for part in item.parts}
    bodies = [
        _body(part.id, f"{numbers[part.id]} {part.name}", part.stock.material.tint or _WOOD, solids.solid(part.id))
        | {"offset": _rounded(offsets.get(part.id, (0.0, 0.0, 0.0)))}
        for part in plan.parts
    ]
    for fitting in plan.fittings:
        solid = solids.fitting(fitting.id)
        if solid is not None:
            carrier = fitting.parts[0] if fitting.parts else ""
            bodies.append(
                _body(fitting.id, fitting.item.name, METAL, solid)
                | {"offset": _rounded(offsets.get(carrier, (0.0, 0.0, 0.0)))}
            )
    return {"bodies": bodies}


def _offsets(plan: Plan, solids: Solids) -> dict[str, tuple[float, float, float]]:
    """Assemblies stand off from one another, and within each its own parts."""
    tops = [assembly for assembly in plan.assemblies if assembly.parent is None]
    whole = [Moving(top.id, tuple(part.id for part in plan.parts_in(top.id))) for top in tops]
    moved = {part.id: np.zeros(3) for part in plan.parts}
    for units in ([unit for unit in whole if unit.parts], *(_inside(plan, assembly) for assembly in plan.assemblies)):
        if len(units) < 2:
            continue
        for part, offset in explode(solids, units).offsets.items():
            moved[part] = moved[part] + np.array(offset)
    return {part: (float(x), float(y), float(z)) for part, (x, y, z) in moved.items()}


def _inside(plan: Plan, assembly: Assembly) -> list[Moving]:
    own = [Moving(part, (part,)) for part in assembly.parts]
    inner = [Moving(child, tuple(part.id for part in plan.parts_in(child))) for child in assembly.children]
    return [unit for unit in (*own, *inner) if unit.parts]


def _body(an_id: str, name: str, tint: str, solid: Solid) -> dict[str, Any]:
    mesh = solid.mesh
    edges = solid.edges
    return {
        "id": an_id,
        "name": name,
        "tint": tint,
        "points": _rounded(mesh.vertices.reshape(-1)),
        "corners": mesh.corners.reshape(-1).tolist(),
        "edges": _rounded(edges.ends[~edges.smooth].reshape(-1)),
    }


def _rounded(values: Any) -> list[float]:
    return np.round(np.asarray(values, dtype=float), 2).tolist()
