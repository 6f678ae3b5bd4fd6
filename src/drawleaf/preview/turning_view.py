"""The piece as triangles and edges for the turning view, and how far each part stands off when it comes apart."""

from __future__ import annotations

from typing import Any

import numpy as np

from drawleaf.draw.turnable.apart import apart
from drawleaf.model.derived import Derived
from drawleaf.solids.build import Solids
from drawleaf.solids.solid import Solid

METAL = "#9aa0a6"
_WOOD = "#d9b98a"


def turning_view(derived: Derived, solids: Solids) -> dict[str, Any]:
    """Bodies with their corners in millimetres of the piece's frame, as JSON-ready values."""
    plan = derived.plan
    offsets = apart(solids)
    numbers = {part.id: item.number for item in derived.cut_list.items for part in item.parts}
    bodies = [
        _body(part.id, f"{numbers[part.id]} {part.name}", part.stock.material.tint or _WOOD, solids.solid(part.id))
        | {"offset": _rounded(offsets[part.id])}
        for part in plan.parts
    ]
    for fitting in plan.fittings:
        solid = solids.fitting(fitting.id)
        if solid is not None:
            bodies.append(
                _body(fitting.id, fitting.item.name, METAL, solid) | {"offset": _rounded(offsets[fitting.id])}
            )
    return {"bodies": bodies}


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
