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
    """Whether the moving body can leave along an axis direction without passing through the standing one."""
    axis = int(np.argmax(np.abs(way)))
    mine, theirs = moving.bounds, standing.bounds
    across = [a for a in range(3) if a != axis]
    if any(mine[1, a] <= theirs[0, a] or theirs[1, a] <= mine[0, a] for a in across):
        return True
    gone = theirs[1, axis] - mine[0, axis] if way[axis] > 0 else mine[1, axis] - theirs[0, axis]
    if gone <= 0.0:
        return True
    meets = theirs[0, axis] - mine[1, axis] if way[axis] > 0 else mine[0, axis] - theirs[1, axis]
    start = max(0.0, float(meets)) + FIRST_STEP
    for by in np.arange(start, gone, STEP):
        if _shares(moving.manifold, standing.manifold, tuple(float(w * by) for w in way)):  # type: ignore[arg-type]
            return False
    return True


def _shares(moving: Manifold, standing: Manifold, shift: Vector) -> bool:
    common = moving.translate(shift) ^ standing
    return not common.is_empty() and common.volume() > SHARED
