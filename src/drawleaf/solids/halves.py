"""The piece sawn through by a plane, for sections: what lies behind the plane, and what the saw would have met."""

from __future__ import annotations

from drawleaf.model.place import Axis
from drawleaf.solids.build import Solids
from drawleaf.solids.solid import Solid


def half(solids: Solids, axis: Axis, at: float, side: int) -> tuple[Solids, frozenset[str]]:
    """All parts and bought items cut at ``at`` millimetres on ``axis``; the low (-1) or the high (+1) half is kept.

    Gives the solids of that half and the ids of what has something there; nothing else may be asked of them.
    """
    normal = [0.0, 0.0, 0.0]
    normal[axis.index] = float(side)
    toward = (normal[0], normal[1], normal[2])
    made: dict[str, Solid | None] = {}
    ids: list[str] = []
    for part in solids.plan.parts:
        made[part.id] = _kept(solids.solid(part.id), toward, at * side)
        ids += [part.id] if made[part.id] else []
    for fitting in solids.plan.fittings:
        body = solids.fitting(fitting.id)
        kept = _kept(body, toward, at * side) if body else None
        made[f"fitting:{fitting.id}"] = kept
        ids += [fitting.id] if kept else []
    return Solids(solids.plan, made=made, sawn=True), frozenset(ids)


def _kept(solid: Solid, normal: tuple[float, float, float], offset: float) -> Solid | None:
    low, high = solid.bounds @ normal
    if min(low, high) >= offset:
        return solid
    if max(low, high) <= offset + 1e-9:
        return None
    kept = solid.manifold.trim_by_plane(normal, offset)
    return None if kept.is_empty() else Solid(kept, solid.curves)
