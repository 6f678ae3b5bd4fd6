"""Whether a screw can be driven: the line behind its head must be clear of what stands, for the length of a driver."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from drawleaf.model.place import Axis
from drawleaf.model.plan import Fastener, Plan
from drawleaf.solids.solid import Floats

DRIVER_MM = 100.0
"""Room for a bit and the nose of a drill behind a screw head (a right-angle driver needs less): common practice, no source."""
SLACK_MM = 0.5


def reach_test(plan: Plan) -> Callable[[tuple[str, ...], tuple[str, ...]], bool]:
    """A test for the order search: can all fasteners between ``moving`` and ``standing`` be driven with all of these in place?

    What is in the way of each fastener is found once, for all parts together.
    """
    ids = [part.id for part in plan.parts]
    spans = [[(part.body.span(axis).low.mm, part.body.span(axis).high.mm) for axis in Axis] for part in plan.parts]
    bodies = np.array(spans, dtype=float).reshape(len(ids), 3, 2)
    by_part: dict[str, list[tuple[Fastener, frozenset[str]]]] = {part: [] for part in ids}
    for joint in plan.joints:
        for fastener in joint.fasteners:
            if fastener.item.comes_along:
                continue  # a dowel comes in with its part: nothing drives it
            ends = (fastener.through, fastener.into)
            hit = np.nonzero(_in_the_way(fastener, bodies))[0]
            held = fastener, frozenset(ids[i] for i in hit).difference(ends)
            for end in ends:
                by_part[end].append(held)

    def reach(moving: tuple[str, ...], standing: tuple[str, ...]) -> bool:
        held = [one for part in moving for one in by_part[part]]
        if not held:
            return True
        there = set(standing)
        present = there.union(moving)
        return all(
            others.isdisjoint(present)
            for fastener, others in held
            if fastener.through in there or fastener.into in there
        )

    return reach


def _in_the_way(fastener: Fastener, bodies: Floats) -> np.ndarray:
    """For each block, whether the driver's line, from the head backwards, enters it."""
    near = np.full(len(bodies), SLACK_MM)
    far = np.full(len(bodies), DRIVER_MM)
    inside = np.ones(len(bodies), dtype=bool)
    for axis, (start, step) in enumerate(zip(fastener.at.mm, fastener.direction, strict=True)):
        low, high = bodies[:, axis, 0] + SLACK_MM, bodies[:, axis, 1] - SLACK_MM
        if abs(step) < 1e-9:
            inside &= (low < start) & (start < high)
            continue
        a, b = (start - low) / step, (start - high) / step
        near, far = np.maximum(near, np.minimum(a, b)), np.minimum(far, np.maximum(a, b))
    return inside & (near < far)
