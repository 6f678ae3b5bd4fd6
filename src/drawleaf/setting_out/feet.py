"""What a piece stands on, what people stand on, and whether it can be put together upside down."""

from __future__ import annotations

from collections.abc import Iterable

from drawleaf.model.catalogue import FinishKind
from drawleaf.model.place import Axis
from drawleaf.model.plan import FinishCoat, Part, Plan

LEGS = 3
"""So many feet side by side rock, or find out a floor that does."""
LEVEL_MM = 0.2
"""Ends nearer than this to one plane lie in it."""


def legs_of(plan: Plan) -> frozenset[str]:
    """The upright solid parts that reach the floor, where there are three or more of them; none for what hangs or stands on sheets and rails."""
    if plan.hangs:
        return frozenset()
    floor = min((part.seen.z.low.mm for part in plan.parts), default=0.0)
    loose = {one.id for one in plan.assemblies if one.loose}
    legs = [
        part
        for part in plan.parts
        if is_upright(part) and part.assembly not in loose and part.seen.z.low.mm - floor < LEVEL_MM
    ]
    ids = frozenset(part.id for part in legs)
    others = any(part.seen.z.low.mm - floor < LEVEL_MM and part.id not in ids for part in plan.parts)
    return ids if len(legs) >= LEGS and not others else frozenset()


def is_upright(part: Part) -> bool:
    """Whether it is solid wood that stands on end, as a leg does."""
    return part.length_axis is Axis.Z and part.stock.material.solid


def stands_bare(plan: Plan) -> bool:
    """Whether a piece stands on its own wood: nothing under it takes up an uneven floor."""
    return not plan.hangs and all(fitting.item.family.foot is None for fitting in plan.fittings)


def tops_level(parts: Iterable[Part]) -> bool:
    """Whether all these parts end in one level plane at the top, so that they can be put together upside down on a flat one."""
    tops = [part.seen.z.high.mm for part in parts]
    return bool(tops) and max(tops) - min(tops) < LEVEL_MM


def trodden(plan: Plan, coat: FinishCoat) -> tuple[str, ...]:
    """The parts that people stand on, as the author says, and that this line of the finish leaves under a smooth film."""
    if coat.product is None or coat.product.kind is not FinishKind.TOPCOAT:
        return ()
    stood = {part for load in plan.checks.loads if load.word == "standing" for part in load.parts}
    later = plan.finish[plan.finish.index(coat) + 1 :] if coat in plan.finish else ()
    covered = {part for one in later if one.product is not None for part in one.parts}
    return tuple(part for part in coat.parts if part in stood and part not in covered)
