"""What a drawer without slides runs on: the lower edges of its sides, and the wood of the piece below them."""

from __future__ import annotations

from collections.abc import Collection

from drawleaf.model.place import Axis
from drawleaf.model.plan import Part, Plan

TOUCH_MM = 0.3
"""Faces nearer than this touch."""


def runway(plan: Plan, box: Collection[str]) -> tuple[Part, ...]:
    """The sides of a box and what lies under them, in the plan's order; ``box`` are its parts' ids. Empty where it has no sides."""
    sides = [part for part in plan.parts if part.id in box and part.thickness is not Axis.Z]
    if not sides:
        return ()
    low = min(part.seen.z.low.mm for part in sides)
    lowest = [part for part in sides if part.seen.z.low.mm - low < TOUCH_MM]

    def carries(part: Part) -> bool:
        return (
            part.id not in box
            and abs(part.seen.z.high.mm - low) < TOUCH_MM
            and any(
                part.seen.x.overlap(side.seen.x) is not None and part.seen.y.overlap(side.seen.y) is not None
                for side in lowest
            )
        )

    return tuple(part for part in plan.parts if part in lowest or carries(part))
