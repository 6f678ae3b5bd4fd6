"""Whether a screw can be driven: the line behind its head must be clear of what stands, for the length of a driver."""

from __future__ import annotations

from collections.abc import Callable

from drawleaf.model.place import Axis
from drawleaf.model.plan import Fastener, Plan

DRIVER_MM = 100.0
"""Room for a bit and the nose of a drill behind a screw head (a right-angle driver needs less): common practice, no source."""
SLACK_MM = 0.5


def reach_test(plan: Plan) -> Callable[[tuple[str, ...], tuple[str, ...]], bool]:
    """A test for the order search: can all fasteners between ``moving`` and ``standing`` be driven with all of these in place?"""
    bodies = {
        part.id: tuple((part.body.span(axis).low.mm, part.body.span(axis).high.mm) for axis in Axis)
        for part in plan.parts
    }
    by_part: dict[str, list[Fastener]] = {part.id: [] for part in plan.parts}
    for joint in plan.joints:
        for fastener in joint.fasteners:
            by_part[fastener.through].append(fastener)
            by_part[fastener.into].append(fastener)

    def reach(moving: tuple[str, ...], standing: tuple[str, ...]) -> bool:
        there = set(standing)
        for fastener in (fastener for part in moving for fastener in by_part[part]):
            ends = (fastener.through, fastener.into)
            if not any(end in there for end in ends):
                continue
            others = (part for part in (*moving, *standing) if part not in ends)
            if any(_in_the_way(fastener, bodies[part]) for part in others):
                return False
        return True

    return reach


def _in_the_way(fastener: Fastener, body: tuple[tuple[float, float], ...]) -> bool:
    """Whether the driver's line, from the head backwards, enters the block."""
    near, far = SLACK_MM, DRIVER_MM
    for start, step, (low, high) in zip(fastener.at.mm, fastener.direction, body, strict=True):
        low, high = low + SLACK_MM, high - SLACK_MM
        if abs(step) < 1e-9:
            if not low < start < high:
                return False
            continue
        a, b = (start - low) / step, (start - high) / step
        near, far = max(near, min(a, b)), min(far, max(a, b))
    return near < far
