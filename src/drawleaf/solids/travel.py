"""In which directions parts can leave their place in a straight line, without passing through what stands.

For the six axis directions the answer is exact on parts as boxes (``pieces.py``): a box that travels sweeps a longer box, and
that is free when it shares no volume with any box that stands. Touching is allowed: parts slide along one another.
``WAYS`` is the seam for slanting directions.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from drawleaf.model.plan import Bore, Joint, Plan, Vector
from drawleaf.solids.build import Solids
from drawleaf.solids.cutters import box_of
from drawleaf.solids.memos import Memo
from drawleaf.solids.passage import passes
from drawleaf.solids.pieces import pieces_of, pin_box, shaped
from drawleaf.solids.solid import Flags, Floats

WAYS: tuple[Vector, ...] = (
    (-1.0, 0.0, 0.0),
    (1.0, 0.0, 0.0),
    (0.0, -1.0, 0.0),
    (0.0, 1.0, 0.0),
    (0.0, 0.0, -1.0),
    (0.0, 0.0, 1.0),
)
"""The directions tried, in the order they are given back."""

SLANTING = 1.0 - 1e-6
"""A pin whose direction has no greater step along any axis stands at a slant."""

TOUCH = 1e-6
"""Millimetres by which parts may seem to overlap and still only touch (rounding of exact sizes to floats)."""


def free_directions(solids: Solids, moving: Sequence[str], standing: Sequence[str]) -> tuple[Vector, ...]:
    """The directions in which ``moving`` (part or fitting ids, kept together) can leave while ``standing`` stays."""
    blocked = np.zeros(len(WAYS), dtype=bool)
    for one in moving:
        for other in standing:
            blocked |= _blocked_pair(solids, one, other)
            if blocked.all():
                return ()
    return tuple(way for way, stopped in zip(WAYS, blocked, strict=True) if not stopped)


def blocking_table(solids: Solids, groups: Sequence[Sequence[str]], *, pinned: bool = False) -> Flags:
    """(G, G, 6) for all groups of parts at once: ``[i, j, way]`` is whether group i, leaving along that one of ``WAYS``, would pass through group j.

    ``pinned``: what dowels at a slant hold leaves along them alone.
    """
    pieces = [np.concatenate([_pieces(solids, one) for one in group]) for group in groups]
    everything = np.concatenate(pieces)
    starts = np.cumsum([0, *(len(one) for one in pieces[:-1])])
    table = np.zeros((len(groups), len(groups), len(WAYS)), dtype=bool)
    full = [place for place, one in enumerate(pieces) if len(one)]
    for i, mine in enumerate(pieces):
        if len(mine):
            passed = _blocked_by_each(mine, everything)
            table[i, full] = np.logical_or.reduceat(passed, starts[full], axis=0)
            table[i, i] = False
    _look_closer(solids, groups, table)
    if pinned:
        owner = {one: place for place, group in enumerate(groups) for one in group}
        for ends, way_out in _slanting_pins(solids).items():
            i, j = (owner.get(end) for end in ends)
            if i is not None and j is not None and i != j:
                table[i, j] |= np.arange(len(WAYS)) != way_out
    return table


def _look_closer(solids: Solids, groups: Sequence[Sequence[str]], table: Flags) -> None:
    """Boxes say too much of shaped parts: where only they stand in the way, the bodies themselves are asked. Changes ``table``."""
    uneven = {part.id for part in solids.plan.parts if shaped(part)}
    if not uneven:
        return
    for i, j in np.argwhere(table.any(axis=2)):
        if uneven.intersection(groups[i]) or uneven.intersection(groups[j]):
            blocked = np.zeros(len(WAYS), dtype=bool)
            for one in groups[int(i)]:
                for other in groups[int(j)]:
                    blocked |= _blocked_pair(solids, one, other)
            table[i, j] &= blocked


def _blocked_by_each(moving: Floats, standing: Floats) -> Flags:
    """(N, ways) for each standing box, whether any of the moving boxes would pass through it."""
    low, high = moving[:, None, 0], moving[:, None, 1]
    other_low, other_high = standing[None, :, 0], standing[None, :, 1]
    overlap = (np.minimum(high, other_high) - np.maximum(low, other_low)) > TOUCH
    blocked = np.zeros((len(standing), len(WAYS)), dtype=bool)
    for axis in range(3):
        a, b = (i for i in range(3) if i != axis)
        abreast = overlap[..., a] & overlap[..., b]
        blocked[:, 2 * axis] = (abreast & (high[..., axis] - other_low[..., axis] > TOUCH)).any(axis=0)
        blocked[:, 2 * axis + 1] = (abreast & (other_high[..., axis] - low[..., axis] > TOUCH)).any(axis=0)
    return blocked


def blockers(solids: Solids, moving: Sequence[str], standing: Sequence[str], direction: Vector) -> tuple[str, ...]:
    """Which of the standing parts are in the way of that travel, in the order given."""
    way = WAYS.index(direction)
    near = _abreast(solids, moving, standing, way // 2)
    return tuple(
        other
        for place, other in enumerate(standing)
        if any(
            _blocked_pair(solids, one, other)[way] for one, beside in zip(moving, near[:, place], strict=True) if beside
        )
    )


def _abreast(solids: Solids, moving: Sequence[str], standing: Sequence[str], axis: int) -> Flags:
    """(M, N) which pairs may block each other along the axis: their boxes overlap across it, or a slanting pin holds them in every way."""
    mine, theirs = (np.array([_hull(solids, one) for one in some]).reshape(-1, 2, 3) for some in (moving, standing))
    across = [a for a in range(3) if a != axis]
    overlap = np.minimum(mine[:, None, 1], theirs[None, :, 1]) - np.maximum(mine[:, None, 0], theirs[None, :, 0])
    near = np.asarray((overlap[..., across] > TOUCH).all(axis=2))
    rows, columns = ({one: place for place, one in enumerate(some)} for some in (moving, standing))
    for pair in (*_slanting_rods(solids), *_slanting_pins(solids)):
        for one, other in (pair, pair[::-1]):
            if one in rows and other in columns:
                near[rows[one], columns[other]] = True
    return near


def travel_distance(
    solids: Solids, moving: Sequence[str], standing: Sequence[str], direction: Vector, touching: bool = True
) -> float:
    """How far, in millimetres, the moving parts must go along ``direction`` until none of them is abreast of a standing part.

    Abreast: their outlines as seen along the direction overlap (or, unless ``touching`` is false, touch) and the one has not yet
    passed the far side of the other. 0 where they are clear already.
    """
    axis = int(np.argmax(np.abs(direction)))
    across = [a for a in range(3) if a != axis]
    slack = TOUCH if touching else -TOUCH
    farthest = 0.0
    for one in moving:
        mine = _extent(solids, one)
        for other in standing:
            theirs = _extent(solids, other)
            if all(mine[0, a] < theirs[1, a] + slack and theirs[0, a] < mine[1, a] + slack for a in across):
                way = theirs[1, axis] - mine[0, axis] if direction[axis] > 0 else mine[1, axis] - theirs[0, axis]
                farthest = max(farthest, float(way))
    return farthest


def travel_table(solids: Solids, groups: Sequence[Sequence[str]], *, touching: bool = True) -> Floats:
    """(G, G, 6) what ``travel_distance`` gives for each group past each other one along each of ``WAYS``, in millimetres; 0 past itself."""
    extents = [np.array([_extent(solids, one) for one in group]) for group in groups]
    everything = np.concatenate(extents)
    starts = np.cumsum([0, *(len(one) for one in extents[:-1])])
    slack = TOUCH if touching else -TOUCH
    table = np.zeros((len(groups), len(groups), len(WAYS)))
    for i, mine in enumerate(extents):
        low, high = mine[:, None, 0], mine[:, None, 1]
        other_low, other_high = everything[None, :, 0], everything[None, :, 1]
        beside = (low < other_high + slack) & (other_low < high + slack)
        for axis in range(3):
            a, b = (other for other in range(3) if other != axis)
            abreast = beside[..., a] & beside[..., b]
            for way, far in ((2 * axis, high - other_low), (2 * axis + 1, other_high - low)):
                past = np.where(abreast, far[..., axis], 0.0).max(axis=0)
                table[i, :, way] = np.maximum(np.maximum.reduceat(past, starts), 0.0)
        table[i, i] = 0.0
    return table


def slides(solids: Solids, moving: str, standing: Sequence[str], way: Vector) -> bool:
    """Whether one part can leave what stands along any direction, not of ``WAYS`` alone: its body is pushed along and weighed."""
    body = solids.body(moving)
    others = (solids.body(other) for other in standing)
    return body is not None and all(other is None or passes(body, other, way) for other in others)


def blocked_ways(moving: Floats, standing: Floats) -> Flags:
    """For each of ``WAYS``, whether any of the moving (N, 2, 3) boxes would pass through any of the standing ones."""
    return np.asarray(_blocked_by_each(moving, standing).any(axis=0))


_BLOCKED: Memo[tuple[str, str], Flags] = Memo()
"""(6,) whether the first body, leaving along each of ``WAYS``, would pass through the second."""
_SHAPED: Memo[str, bool] = Memo()
_PIECES: Memo[str, Floats] = Memo()
_HULLS: Memo[str, Floats] = Memo()
_PINS: Memo[None, dict[str, list[Floats]]] = Memo()
_SLANTING_RODS: Memo[None, dict[tuple[str, str], Vector]] = Memo()
_STRAIGHT_PINS: Memo[None, dict[frozenset[str], set[int]]] = Memo()
_SLANTING_PINS: Memo[None, dict[tuple[str, str], int]] = Memo()


def _blocked_pair(solids: Solids, one: str, other: str) -> Flags:
    known = _BLOCKED.all(solids.memos)
    if (one, other) not in known:
        rod = _slanting_rods(solids).get((one, other))
        blocked = _stopped(solids, one, other) if rod is None else _along_the_rod(solids, one, other, rod)
        known[one, other] = blocked
        # What stops one from going left stops the other from going right.
        known[other, one] = blocked.reshape(3, 2)[:, ::-1].reshape(-1)
    return known[one, other]


def _stopped(solids: Solids, one: str, other: str) -> Flags:
    """By the bodies of both, and by the dowels between them."""
    blocked = blocked_ways(_pieces(solids, one), _pieces(solids, other))
    if blocked.any() and (_is_shaped(solids, one) or _is_shaped(solids, other)):
        blocked = _closely(solids, one, other, blocked) | _held_by_pins(solids, one, other)
    way_out = _slanting_pins(solids).get((one, other))
    return blocked if way_out is None else blocked | (np.arange(len(WAYS)) != way_out)


def _closely(solids: Solids, one: str, other: str, blocked: Flags) -> Flags:
    """Of the ways that boxes block, those that the bodies block."""
    moving, standing = solids.body(one), solids.body(other)
    if moving is None or standing is None:
        return blocked
    return np.array([stopped and not passes(moving, standing, way) for way, stopped in zip(WAYS, blocked, strict=True)])


def _held_by_pins(solids: Solids, one: str, other: str) -> Flags:
    """Where bodies were asked, which have no pins: the ways that straight dowels and loose tenons between the two hold."""
    held = np.zeros(len(WAYS), dtype=bool)
    for axis in _straight_pins(solids).get(frozenset((one, other)), ()):
        held |= np.repeat(np.arange(3) != axis, 2)
    return held


def _straight_pins(solids: Solids) -> dict[frozenset[str], set[int]]:
    """By pairs of parts, the axes along which pins join them."""

    def make() -> dict[frozenset[str], set[int]]:
        found: dict[frozenset[str], set[int]] = {}
        for joint in solids.plan.joints:
            for fastener in joint.fasteners:
                way = np.abs(np.array(fastener.direction))
                if fastener.item.comes_along and way.max() >= SLANTING:
                    found.setdefault(frozenset((fastener.through, fastener.into)), set()).add(int(np.argmax(way)))
        return found

    return _STRAIGHT_PINS.get(solids.memos, None, make)


def _is_shaped(solids: Solids, an_id: str) -> bool:
    def make() -> bool:
        part = next((part for part in solids.plan.parts if part.id == an_id), None)
        return part is not None and shaped(part)

    return _SHAPED.get(solids.memos, an_id, make)


def _hull(solids: Solids, an_id: str) -> Floats:
    """(2, 3) the box around all that ``_pieces`` gives; a box of nothing where that is none."""

    def make() -> Floats:
        pieces = _pieces(solids, an_id)
        none = np.array([[np.inf] * 3, [-np.inf] * 3])
        return np.array([pieces[:, 0].min(axis=0), pieces[:, 1].max(axis=0)]) if len(pieces) else none

    return _HULLS.get(solids.memos, an_id, make)


def _pieces(solids: Solids, an_id: str) -> Floats:
    """(N, 2, 3) the boxes of a part, or the one box of a fitting (none where it has no body)."""

    def make() -> Floats:
        part = next((part for part in solids.plan.parts if part.id == an_id), None)
        if part is not None:
            return np.concatenate([pieces_of(part), *(box[None] for box in _pins(solids).get(an_id, []))])
        body = next(fitting for fitting in solids.plan.fittings if fitting.id == an_id).body
        return np.empty((0, 2, 3)) if body is None else box_of(body)[None]

    return _PIECES.get(solids.memos, an_id, make)


def _pins(solids: Solids) -> dict[str, list[Floats]]:
    """By part, the dowels and loose tenons that stand out of it: they say which way it comes."""

    def make() -> dict[str, list[Floats]]:
        found: dict[str, list[Floats]] = {}
        for joint in solids.plan.joints:
            for fastener in joint.fasteners:
                if fastener.item.comes_along:
                    found.setdefault(fastener.through, []).append(pin_box(fastener))
        return found

    return _PINS.get(solids.memos, None, make)


def _slanting_pins(solids: Solids) -> dict[tuple[str, str], int]:
    """By pairs of parts whose dowels stand at a slant to the piece, the one of ``WAYS`` nearest to them: along no other do the two part.
    So little off that way a splayed frame gives."""

    def make() -> dict[tuple[str, str], int]:
        found: dict[tuple[str, str], int] = {}
        for joint in solids.plan.joints:
            for fastener in joint.fasteners:
                way = np.array(fastener.direction)
                if fastener.item.comes_along and np.abs(way).max() < SLANTING:
                    ends = fastener.through, fastener.into
                    found[ends] = int(np.argmax(np.array(WAYS) @ -way))
                    found[ends[1], ends[0]] = int(np.argmax(np.array(WAYS) @ way))
        return found

    return _SLANTING_PINS.get(solids.memos, None, make)


def _slanting_rods(solids: Solids) -> dict[tuple[str, str], Vector]:
    """By pairs of parts of which one stands with a round end in a hole at a slant, the direction in which the first leaves the second."""

    def make() -> dict[tuple[str, str], Vector]:
        found: dict[tuple[str, str], Vector] = {}
        for joint in solids.plan.joints:
            way = round_end_way(solids.plan, joint)
            if way is not None:
                found[joint.insert, joint.receiver] = (-way[0], -way[1], -way[2])
                found[joint.receiver, joint.insert] = way
        return found

    return _SLANTING_RODS.get(solids.memos, None, make)


def _along_the_rod(solids: Solids, one: str, other: str, way: Vector) -> Flags:
    """Blocked but along the one of ``WAYS`` that is nearest to the rod, which is free where the body slides out along the rod itself."""
    free = slides(solids, one, (other,), way)
    return np.arange(len(WAYS)) != (int(np.argmax(np.array(WAYS) @ np.array(way))) if free else len(WAYS))


def round_end_way(plan: Plan, joint: Joint) -> Vector | None:
    """The direction in which a round end at a slant goes into its hole; None for any other joint."""
    if joint.normal is None or not joint.family.square_end:
        return None
    receiver = plan.part(joint.receiver)
    hole = next((one for one in receiver.features if isinstance(one, Bore) and one.row == joint.id), None)
    if hole is None:
        return None
    return hole.direction if receiver.tilt is None else receiver.tilt.out_direction(hole.direction)


def _extent(solids: Solids, an_id: str) -> Floats:
    """(2, 3) the box around a part or fitting; empty (high below low) where it has no body."""
    pieces = _pieces(solids, an_id)
    if not len(pieces):
        return np.array([[np.inf] * 3, [-np.inf] * 3])
    return np.array([pieces[:, 0].min(axis=0), pieces[:, 1].max(axis=0)])
