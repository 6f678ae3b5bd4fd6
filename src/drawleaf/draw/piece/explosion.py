"""How far each part stands off in an exploded view, from what blocks what.

Parts are taken off one after another, each along a direction in which it can really leave what still stands. Put back in the
reverse order, each is set just far enough along that direction to be clear of what stands before it. A part keeps the
sideways place of the part it is joined to, so that shelf edging stays in front of its shelf.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np

from drawleaf.draw.sight.view import Vector
from drawleaf.model.plan import Plan
from drawleaf.solids.build import Solids
from drawleaf.solids.travel import WAYS, blocking_table, travel_table

_AGAINST_GRAIN = 0.25
"""How much a travel other than square to the part's face is disliked, as a share of the piece's size."""


@dataclass(frozen=True, slots=True)
class Moving:
    """Parts (and fittings) that move together."""

    id: str
    parts: tuple[str, ...]


Line = tuple[Vector, Vector]
"""From a place to where it stands off, in mm of the piece."""


@dataclass(frozen=True, slots=True)
class Way:
    """The lines along which a unit may be shown to come: through its joints, the middles first, and through its corners."""

    joints: tuple[Line, ...]
    corners: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Explosion:
    """Offsets of every part in mm of the piece, and the way of each moved unit."""

    offsets: Mapping[str, Vector]
    ways: tuple[Way, ...]


@dataclass(frozen=True, slots=True)
class _Removal:
    unit: Moving
    way: Vector


def explode(solids: Solids, units: Sequence[Moving]) -> Explosion:
    """Where all units stand off. The last one left (the one with most joints) keeps its place."""
    plan = solids.plan
    boxes = {unit.id: _box(solids, unit) for unit in units}
    size = _size(list(boxes.values()))
    removals, base = _take_apart(solids, list(units), boxes, size)
    gap = max(20.0, 0.06 * size)
    placed: dict[str, np.ndarray] = {base.id: np.zeros(3)}
    ways: list[Way] = []
    by_id = {unit.id: unit for unit in units}
    joined = _joined(plan, units)
    for removal in reversed(removals):
        parent = _parent(removal, joined[removal.unit.id], placed)
        offset = _stand_off(removal, parent, boxes, placed, gap)
        placed[removal.unit.id] = offset
        ways.append(_way(plan, removal.unit, parent, boxes, placed, by_id))
    offsets = {part: _triple(placed[unit.id]) for unit in units for part in unit.parts}
    return Explosion(offsets, tuple(ways))


def _take_apart(
    solids: Solids, units: list[Moving], boxes: Mapping[str, np.ndarray], size: float
) -> tuple[list[_Removal], Moving]:
    """Units in the order in which they come off, and the one that is left. What each has before it in each of ``WAYS``, and how far it must
    go past each other one, is worked out once."""
    joints = _joint_counts(solids.plan, units)
    center = np.mean([box.mean(axis=0) for box in boxes.values()], axis=0)
    groups = [unit.parts for unit in units]
    blocked, travels = blocking_table(solids, groups, pinned=True), travel_table(solids, groups, touching=False)
    leanings = np.array([_leanings(boxes[unit.id], center, size) for unit in units])
    left = list(range(len(units)))
    removals: list[_Removal] = []
    while len(left) > 1:
        base = max(left, key=lambda at: (joints[at], _volume(boxes[units[at].id])))
        stopped = np.logical_or.reduce(blocked[np.ix_(left, left)], axis=1)
        stopped[left.index(base)] = True
        costs = np.round(travels[np.ix_(left, left)].max(axis=1) / size + leanings[left], 6)
        costs[stopped] = np.inf
        place, turn = divmod(int(costs.argmin()), len(WAYS))
        if np.isfinite(costs[place, turn]):
            removal = _Removal(units[left[place]], WAYS[turn])
        else:
            removal = _forced([units[at] for at in left], units[base], boxes, center)
        removals.append(removal)
        left.remove(next(at for at in left if units[at] is removal.unit))
    return removals, units[left[0]]


def _leanings(box: np.ndarray, center: np.ndarray, size: float) -> list[float]:
    """For each of ``WAYS`` what is added to the travel: square to the face rather than endways; outwards rather than across the piece."""
    extent, out = box[1] - box[0], box.mean(axis=0) - center
    longest = max(extent.max(), 1e-9)
    return [
        _AGAINST_GRAIN * float(extent[int(np.argmax(np.abs(way)))] / longest)
        - 0.5 * (float(out @ np.array(way)) / size)
        for way in WAYS
    ]


def _forced(left: Sequence[Moving], base: Moving, boxes: Mapping[str, np.ndarray], center: np.ndarray) -> _Removal:
    """Nothing is free (units that clasp one another): the outermost goes straight out all the same."""
    unit = max((u for u in left if u is not base), key=lambda u: float(np.abs(boxes[u.id].mean(axis=0) - center).max()))
    out = boxes[unit.id].mean(axis=0) - center
    axis = int(np.argmax(np.abs(out)))
    way = [0.0, 0.0, 0.0]
    way[axis] = 1.0 if out[axis] >= 0 else -1.0
    return _Removal(unit, (way[0], way[1], way[2]))


def _parent(removal: _Removal, joined: set[str], placed: Mapping[str, np.ndarray]) -> str:
    """The unit already standing that this one is joined to: the one least moved aside; the base where none is."""
    standing = [unit_id for unit_id in placed if unit_id in joined]
    axis = int(np.argmax(np.abs(removal.way)))
    aside = [i for i in range(3) if i != axis]
    pool = standing or list(placed)[:1]
    return min(pool, key=lambda unit_id: round(float(np.abs(placed[unit_id][aside]).sum()), 3))


def _stand_off(
    removal: _Removal, parent: str, boxes: Mapping[str, np.ndarray], placed: Mapping[str, np.ndarray], gap: float
) -> np.ndarray:
    axis = int(np.argmax(np.abs(removal.way)))
    sign = removal.way[axis]
    offset = placed[parent].copy()
    offset[axis] = 0.0
    mine = boxes[removal.unit.id] + offset
    aside = [i for i in range(3) if i != axis]
    need = 0.0
    for other, moved in placed.items():
        box = boxes[other] + moved
        if all(mine[0, i] < box[1, i] - 1.0 and box[0, i] < mine[1, i] - 1.0 for i in aside):
            reach = box[1, axis] - mine[0, axis] if sign > 0 else mine[1, axis] - box[0, axis]
            need = max(need, float(reach) + gap)
    offset[axis] = sign * max(need, gap)
    return offset


def _way(
    plan: Plan,
    unit: Moving,
    parent: str,
    boxes: Mapping[str, np.ndarray],
    placed: Mapping[str, np.ndarray],
    units: Mapping[str, Moving],
) -> Way:
    """How a unit comes from its parent."""
    own, theirs = set(unit.parts), set(units[parent].parts)
    contacts = [
        joint.contact
        for joint in plan.joints
        if (joint.insert in own or joint.receiver in own) and (joint.insert in theirs or joint.receiver in theirs)
    ]
    box = boxes[unit.id]
    places = [np.array(contact.center.mm) for contact in contacts] or [box.mean(axis=0)]
    places += [np.array(corner) for contact in contacts for corner in contact.corners]

    def line(place: np.ndarray) -> Line:
        return _triple(place + placed[parent]), _triple(place + placed[unit.id])

    return Way(tuple(map(line, places)), tuple(line(np.array(corner)) for corner in product(*box.T)))


def _joint_counts(plan: Plan, units: Sequence[Moving]) -> list[int]:
    """How many joints tie each unit to something else."""
    owner = _owners(units)
    counts = dict.fromkeys((unit.id for unit in units), 0)
    for joint in plan.joints:
        a, b = owner.get(joint.insert), owner.get(joint.receiver)
        for one in {a, b} if a != b else ():
            if one is not None:
                counts[one] += 1
    return [counts[unit.id] for unit in units]


def _joined(plan: Plan, units: Sequence[Moving]) -> dict[str, set[str]]:
    """For each unit the others that joints tie it to."""
    owner = _owners(units)
    joined: dict[str, set[str]] = {unit.id: set() for unit in units}
    for joint in plan.joints:
        a, b = owner.get(joint.insert), owner.get(joint.receiver)
        if a is not None and b is not None and a != b:
            joined[a].add(b)
            joined[b].add(a)
    return joined


def _owners(units: Sequence[Moving]) -> dict[str, str]:
    return {part: unit.id for unit in units for part in unit.parts}


def _box(solids: Solids, unit: Moving) -> np.ndarray:
    """(2, 3) the box around all bodies of a unit."""
    bounds = [body.bounds for body in (solids.body(part) for part in unit.parts) if body is not None]
    return np.array([np.min([b[0] for b in bounds], axis=0), np.max([b[1] for b in bounds], axis=0)])


def _size(boxes: Sequence[np.ndarray]) -> float:
    low, high = np.min([b[0] for b in boxes], axis=0), np.max([b[1] for b in boxes], axis=0)
    return float(np.linalg.norm(high - low))


def _volume(box: np.ndarray) -> float:
    return float(np.prod(box[1] - box[0]))


def _triple(values: np.ndarray) -> Vector:
    return (float(values[0]), float(values[1]), float(values[2]))
