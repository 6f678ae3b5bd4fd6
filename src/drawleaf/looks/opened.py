"""Doors ajar and drawers pulled out: how far what moves on its hardware is moved for a picture."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, radians, sin

import numpy as np

from drawleaf.looks.scene import Move, shift
from drawleaf.model.hardware_family import Carries
from drawleaf.model.plan import Fitting, Plan
from drawleaf.solids.build import Solids

_PULLED = 0.55
"""The share of its depth by which a drawer is pulled out."""
_AJAR = 68.0
"""Degrees by which a door is open."""


def opened(plan: Plan, solids: Solids) -> dict[str, Move]:
    """Every part and fitting that moves in use, by its id, with how it is moved."""
    carrying: dict[str, list[Fitting]] = {}
    for fitting in plan.fittings:
        if fitting.item.family.moves and fitting.moving:
            carrying.setdefault(fitting.moving, []).append(fitting)
    found: dict[str, Move] = {}
    for moving, fittings in carrying.items():
        parts = _parts_of(plan, moving)
        if not parts:
            continue
        drawer = fittings[0].item.family.carries is Carries.DRAWER
        move = _pulled(solids, parts, fittings[0]) if drawer else _swung(plan, solids, parts, fittings)
        if move is None:
            continue
        found |= dict.fromkeys(parts, move)
        # A knob goes with its door, a slide stays on the case.
        own = {fitting.id for fitting in fittings}
        riding = [one.id for one in plan.fittings if one.id not in own and one.parts and one.parts[0] in parts]
        found |= dict.fromkeys(riding, move)
    return found


def _parts_of(plan: Plan, moving: str) -> tuple[str, ...]:
    if any(part.id == moving for part in plan.parts):
        return (moving,)
    return tuple(part.id for part in plan.parts_in(moving))


def _box(solids: Solids, parts: Sequence[str]) -> np.ndarray:
    bounds = [box for part in parts if (box := solids.box(part)) is not None]
    return np.array([np.min([one[0] for one in bounds], axis=0), np.max([one[1] for one in bounds], axis=0)])


def _pulled(solids: Solids, parts: Sequence[str], slide: Fitting) -> Move | None:
    if slide.opens is None:
        return None
    box = _box(solids, parts)
    axis, side = slide.opens.axis.index, slide.opens.side
    by = [0.0, 0.0, 0.0]
    by[axis] = side * _PULLED * float(box[1, axis] - box[0, axis])
    return shift((by[0], by[1], by[2]))


def _swung(plan: Plan, solids: Solids, parts: Sequence[str], hinges: Sequence[Fitting]) -> Move | None:
    """Turned about the line of its hinges, away from the piece."""
    places = np.array([hinge.at.mm for hinge in hinges])
    box = _box(solids, parts)
    if len(hinges) > 1:
        axis = int(np.argmax(np.ptp(places, axis=0)))
    elif hinges[0].body is not None:
        axis = int(
            np.argmax(
                [
                    hinges[0].body.extent(one).mm
                    for one in (*plan.part(parts[0]).thickness.others(), plan.part(parts[0]).thickness)
                ]
            )
        )
        axis = (*plan.part(parts[0]).thickness.others(), plan.part(parts[0]).thickness)[axis].index
    else:
        return None
    pivot = places.mean(axis=0)
    thin = int(np.argmin(box[1] - box[0]))
    rest = [solids.box(part.id) for part in plan.parts if part.id not in parts]
    middle = np.mean([one.mean(axis=0) for one in rest if one is not None], axis=0)
    out = np.zeros(3)
    out[thin] = 1.0 if box.mean(axis=0)[thin] >= middle[thin] else -1.0
    pivot[thin] = box[1 if out[thin] > 0 else 0, thin]
    ways = [_turn(axis, pivot, way * _AJAR) for way in (1.0, -1.0)]
    centre = np.append(box.mean(axis=0), 1.0)
    return max(ways, key=lambda move: float((move @ centre)[:3] @ out))


def _turn(axis: int, pivot: np.ndarray, degrees: float) -> Move:
    c, s = cos(radians(degrees)), sin(radians(degrees))
    one, other = [number for number in range(3) if number != axis]
    made = np.eye(4)
    made[one, one], made[one, other], made[other, one], made[other, other] = c, -s, s, c
    made[:3, 3] = pivot - made[:3, :3] @ pivot
    return made
