"""Whether work is done with everything lying upside down: a top is screwed on from below, legs are glued with their ends level on the bench;
the whole can be turned over by one person."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.derive.shop.limits import CARRY_KG
from drawleaf.derive.shop.weights import about_kg
from drawleaf.model.place import Axis
from drawleaf.model.plan import Fastener, Plan
from drawleaf.model.pose import Pose
from drawleaf.setting_out.feet import is_upright, legs_of, tops_level
from drawleaf.setting_out.lying import lies_flat

_UP = 0.99
"""A screw whose direction rises by so much of its length is driven from below."""


def pose_of(plan: Plan, new: Sequence[str], standing: Sequence[str], fasteners: Sequence[Fastener]) -> Pose:
    """Upside down where the one part that comes lies flat on everything, every screw goes up into it, and the whole is light enough to turn."""
    driven = [fastener for fastener in fasteners if not fastener.item.pin]
    if len(new) != 1 or not driven or not all(one.into == new[0] and one.direction[2] > _UP for one in driven):
        return Pose.UPRIGHT
    top, others = plan.part(new[0]), [plan.part(part) for part in standing]
    over = top.thickness is Axis.Z and all(part.body.z.high <= top.body.z.high for part in others)
    weight = sum(about_kg(part) for part in (top, *others))
    return Pose.OVER if over and weight <= CARRY_KG else Pose.UPRIGHT


def legs_up(plan: Plan, new: Sequence[str], standing: Sequence[str]) -> Pose:
    """Upside down where the last of the legs come, and all that stands then ends in one level plane at the top."""
    if not any(is_upright(plan.part(part)) for part in new):
        return Pose.UPRIGHT
    legs, parts = legs_of(plan), [plan.part(part) for part in dict.fromkeys((*standing, *new))]
    if not legs.intersection(new) or not legs <= {part.id for part in parts} or lies_flat(parts):
        return Pose.UPRIGHT
    return Pose.OVER if tops_level(parts) and sum(map(about_kg, parts)) <= CARRY_KG else Pose.UPRIGHT
