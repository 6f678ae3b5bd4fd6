"""Screw heads that stay in sight on the finished piece: those that nothing covers and that look neither at a wall nor at the floor."""

from __future__ import annotations

from drawleaf.model.catalogue import FastenerKind
from drawleaf.model.near import Near
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Fastener, Part, Plan
from drawleaf.setting_out.screws import entered_face

HIDDEN = (Face.BACK, Face.BOTTOM)


def heads_in_sight(plan: Plan) -> tuple[str, ...]:
    """The parts with such heads, in the author's order."""
    parts = Near(plan.parts)
    found = {
        fastener.through
        for joint in plan.joints
        for fastener in joint.fasteners
        if fastener.item.kind == FastenerKind.WOOD_SCREW
        and not fastener.temporary
        and not fastener.sunk
        and in_sight(parts, fastener)
    }
    return tuple(part.id for part in plan.parts if part.id in found)


def in_sight(parts: Near, fastener: Fastener) -> bool:
    """Whether its head, or what covers it, lies on the front, a side or the top with nothing before it."""
    face = entered_face(fastener)
    if face in HIDDEN:
        return False
    line = {axis: (at := fastener.at.along(axis).mm, at) for axis in face.axis.others()}
    return not any(_stands_before(part, fastener, face) for part in parts.within(line) if part.id != fastener.through)


def _stands_before(part: Part, fastener: Fastener, face: Face) -> bool:
    """Whether a part lies straight out from the head, however far off: then one looks past it into the piece."""
    for axis in Axis:
        span, at = part.body.span(axis), fastener.at.along(axis)
        if axis is not face.axis:
            if not span.low < at < span.high:
                return False
        elif (span.high if face.side > 0 else span.low) == at or (
            (part.body.face(face) - at) * face.side
        ).exact_mm <= 0:
            return False
    return True
