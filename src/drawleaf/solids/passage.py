"""Whether a part that is no set of boxes can leave its place: it is pushed along, a little at a time, and weighed against what stands."""

from __future__ import annotations

import numpy as np
from manifold3d import Manifold

from drawleaf.model.plan import Vector
from drawleaf.solids.solid import Solid

FIRST_STEP = 0.5
"""Millimetres of the first push: what is caught in a joint is caught at once."""

STEP = 6.0
"""Millimetres between further looks: less than the thinnest board that could be stepped over."""

SHARED = 0.5
"""Cubic millimetres that two bodies that slide along one another may seem to share."""


def passes(moving: Solid, standing: Solid, way: Vector) -> bool:
    """Whether the moving body can leave along a direction without passing through the standing one."""
    if sorted(abs(step) for step in way) != [0.0, 0.0, 1.0]:
        return _passes_slanting(moving, standing, way)
    axis = int(np.argmax(np.abs(way)))
    mine, theirs = moving.bounds, standing.bounds
    across = [a for a in range(3) if a != axis]
    if any(mine[1, a] <= theirs[0, a] or theirs[1, a] <= mine[0, a] for a in across):
        return True
    gone = theirs[1, axis] - mine[0, axis] if way[axis] > 0 else mine[1, axis] - theirs[0, axis]
    if gone <= 0.0 or _pass_by(moving, standing, axis):
        return True
    meets = theirs[0, axis] - mine[1, axis] if way[axis] > 0 else mine[0, axis] - theirs[1, axis]
    start = max(0.0, float(meets)) + FIRST_STEP
    for by in np.arange(start, gone, STEP):
        if _shares(moving.manifold, standing.manifold, tuple(float(w * by) for w in way)):  # type: ignore[arg-type]
            return False
    return True


def _pass_by(moving: Solid, standing: Solid, axis: int) -> bool:
    """Whether the bodies lie so far aside of one another, seen along the way, that they share nothing wherever the one is on it."""
    deep = min(float(body.bounds[1, axis] - body.bounds[0, axis]) for body in (moving, standing))
    return (moving.silhouette(axis) ^ standing.silhouette(axis)).area() * deep <= SHARED


def _passes_slanting(moving: Solid, standing: Solid, way: Vector) -> bool:
    """The same along a slant: as far as the boxes around both can meet."""
    mine, theirs, step = moving.bounds, standing.bounds, np.array(way)
    # Along each axis, between which travels the two boxes overlap.
    since, until = 0.0, np.inf
    for axis in range(3):
        if abs(step[axis]) < 1e-9:
            if mine[1, axis] <= theirs[0, axis] or theirs[1, axis] <= mine[0, axis]:
                return True
            continue
        ends = sorted(((theirs[0, axis] - mine[1, axis]) / step[axis], (theirs[1, axis] - mine[0, axis]) / step[axis]))
        since, until = max(since, ends[0]), min(until, ends[1])
    return not any(
        _shares(moving.manifold, standing.manifold, tuple(float(w * by) for w in way))  # type: ignore[arg-type]
        for by in np.arange(since + FIRST_STEP, until, STEP)
    )


def _shares(moving: Manifold, standing: Manifold, shift: Vector) -> bool:
    common = moving.translate(shift) ^ standing
    return not common.is_empty() and common.volume() > SHARED
