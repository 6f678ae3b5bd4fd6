"""What is measured over its diagonals when it is glued, and from which side one looks at them."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.model.place import Axis
from drawleaf.model.plan import Part, Plan
from drawleaf.units import ZERO, Length

THIN = Length.of_mm(9)
"""A sheet panel thinner than this closes a case: it goes on after the case is square, and holds it so."""
RING = 4
"""Corners of a ring: two parts that face each other, and two between them."""


def square_plane(plan: Plan, ids: Sequence[str]) -> Axis | None:
    """The axis that one looks along to see the corners of what these parts make: across a flat frame, a closing panel or a bottom; else
    across the ring of boards, or of rails between posts, that has most glued corners.

    None where nothing makes a ring, nor three sides of one between posts.
    """
    parts = [plan.part(one) for one in ids]
    flats = {part.thickness for part in parts}
    if len(parts) >= RING and len(flats) == 1:
        flat = flats.pop()
        return None if _is_stack(parts, flat) else flat
    return _across_panel(parts) or _across_ring(plan, parts)


def adds_corner(plan: Plan, standing: Sequence[str], new: Sequence[str], whole: Sequence[str]) -> bool:
    """Whether the new parts close a corner of the ring that the whole makes; True where a panel or a flat frame is squared, not a ring."""
    parts = [plan.part(one) for one in whole]
    plane = _across_ring(plan, parts)
    if plane is None or _across_panel(parts) or len({part.thickness for part in parts}) == 1:
        return True
    before, after = (_corners(plan, [plan.part(one) for one in ids], plane) for ids in (standing, (*standing, *new)))
    return after > before


def _is_stack(parts: Sequence[Part], flat: Axis) -> bool:
    """Whether the parts lie on one another, as strips that are glued to a thick top: it is as square as they were sawn."""
    deep = max(part.body.high.along(flat) for part in parts) - min(part.body.low.along(flat) for part in parts)
    return deep >= sum((part.body.extent(flat) for part in parts), ZERO)


def _across_panel(parts: Sequence[Part]) -> Axis | None:
    panels = [part for part in parts if part.stock.thickness < THIN]
    if not panels:
        return None
    normal = panels[0].thickness
    walls = [part for part in parts if part.thickness is not normal]
    ring = all(sum(part.thickness is axis for part in walls) >= 1 for axis in normal.others())
    return normal if ring and len(walls) >= 3 else None


def _across_ring(plan: Plan, parts: Sequence[Part]) -> Axis | None:
    """By the corners alone: those at posts count first, for legs stand as their rails are pulled. From the front where two ways have as many."""
    corners = {axis: _corners(plan, parts, axis) for axis in (Axis.Y, Axis.Z, Axis.X)}
    best = max(corners, key=lambda axis: corners[axis])
    return best if any(corners[best]) else None


def _corners(plan: Plan, parts: Sequence[Part], normal: Axis) -> tuple[int, int]:
    """How many glued corners there are in the plane across ``normal``: at posts, and of boards with boards. No corners where they make
    neither a ring nor a U between posts."""
    across = normal.others()
    by_id = {part.id: part for part in parts if part.tilt is None}
    mates: dict[str, set[str]] = {one: set() for one in by_id}
    for joint in plan.joints:
        if (
            joint.glued
            and joint.normal is None
            and not joint.family.square_end
            and {joint.insert, joint.receiver} <= mates.keys()
        ):
            mates[joint.insert].add(joint.receiver)
            mates[joint.receiver].add(joint.insert)
    posts = {one for one, part in by_id.items() if _is_post(part, normal)}
    walls = {one: part.thickness for one, part in by_id.items() if one not in posts and part.thickness in across}
    held = {one: {other for other in mates[one] & walls.keys() if walls[other] is not walls[one]} for one in walls}
    ring = [one for one in walls if len(held[one]) > 1]
    direct = sum(len(held[one] & set(ring)) for one in ring) // 2
    stood = {one: {walls[other] for other in mates[one] & walls.keys()} for one in posts}
    turned = sum(axes == set(across) for axes in stood.values())
    # A post at the end of one rail turns no corner, but the rail has no end to measure to without it.
    return sum(map(bool, stood.values())) if turned > 1 else 0, direct if direct >= RING else 0


def _is_post(part: Part, normal: Axis) -> bool:
    """Whether it stands along ``normal``, and is about as thick as it is wide."""
    one, other = (part.body.extent(axis) for axis in normal.others())
    return part.length_axis is normal and max(one, other) <= min(one, other) * 2
