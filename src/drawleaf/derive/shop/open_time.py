"""Whether glue stays open as long as it takes to spread it and close what it is spread on; if not, in how many goes one works.

How long spreading takes is our own estimate for someone who is new to it, no measurement: a quarter of a minute to begin at each place,
a minute for a square foot, a quarter of a minute to set a piece on its mark and close it.
"""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.derive.shop.areas import glued_area, seam_area
from drawleaf.derive.shop.times import open_minutes
from drawleaf.model.plan import Joint, Part, Plan
from drawleaf.model.steps import Operation
from drawleaf.setting_out.wood_joints import takes_glue
from drawleaf.units.measures import convert

EACH_PLACE, EACH_SQUARE_FOOT, EACH_PIECE = 0.25, 1.0, 0.25


def gluing_minutes(area: float, places: int, pieces: int) -> float:
    """From the first glue to the last piece closed; ``area`` in square metres."""
    return EACH_PLACE * places + EACH_SQUARE_FOOT * convert(area, "m^2", "ft^2") + EACH_PIECE * pieces


def panel_goes(plan: Plan, part: Part) -> tuple[int, ...]:
    """How many strips of a panel are glued in each go, the goes being glued together when they have set; all in one where there is time."""
    if part.glue_up is None:
        return ()
    strips = part.glue_up.strips
    seam = seam_area(part) / max(strips - 1, 1)
    goes = 1
    while goes < strips // 2 and _panel_minutes(seam, -(-strips // goes)) > open_minutes(plan.catalogue):
        goes += 1
    share, over = divmod(strips, goes)
    return tuple(share + (place < over) for place in range(goes))


def _panel_minutes(seam: float, strips: int) -> float:
    return gluing_minutes(seam * (strips - 1), strips - 1, strips)


def joint_goes(plan: Plan, operation: Operation) -> tuple[tuple[str, ...], ...]:
    """The parts that an operation brings, by the goes that they are glued in; one go where there is time for all.

    A part that takes too long by itself is a go of its own: ``too_long`` reports it.
    """
    if _tied(plan, operation):
        return (operation.parts,)
    goes: list[list[str]] = []
    for part in operation.parts:
        if goes and _join_minutes(operation, [*goes[-1], part]) <= open_minutes(plan.catalogue):
            goes[-1].append(part)
        else:
            goes.append([part])
    return tuple(tuple(go) for go in goes)


def too_long(plan: Plan, operation: Operation, parts: Sequence[str]) -> bool:
    """Whether these parts, brought in one go, take longer than the glue stays open."""
    return _join_minutes(operation, parts, 1 if _tied(plan, operation) else None) > open_minutes(plan.catalogue)


def _tied(plan: Plan, operation: Operation) -> bool:
    """Whether the parts that come hang together already: a frame, a box."""
    own = set(operation.parts)
    return any(own.issuperset((joint.insert, joint.receiver)) for joint in plan.joints)


def _join_minutes(operation: Operation, parts: Sequence[str], pieces: int | None = None) -> float:
    glued = [joint for joint in operation.joints if takes_glue(joint) and _brought(operation, joint) in parts]
    return gluing_minutes(sum(map(glued_area, glued)), len(glued), pieces or len(parts)) if glued else 0.0


def _brought(operation: Operation, joint: Joint) -> str:
    """The part of a joint that comes to the other."""
    return joint.insert if joint.insert in operation.parts else joint.receiver
