"""Parts with the clearance holes and slots of their screws bored in them. The plan's solids go without: they follow from the fasteners."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from drawleaf.model.catalogue import SCREWS
from drawleaf.model.place import Axis, Box, Face, Span
from drawleaf.model.plan import Bore, BoxCut, Fastener, Feature, Part, Plan, in_own_frame
from drawleaf.setting_out.screws import SLOT_HOLES, clearance_hole, entered_face
from drawleaf.units import Length

SCREW_HOLE, SLOT = "screw hole", "slot"
"""Kinds of the features that stand for clearance holes."""


def screws_through(plan: Plan, part: Part) -> tuple[Fastener, ...]:
    """The screws for which clearance holes are bored in a part."""
    return tuple(
        one
        for joint in plan.joints
        for one in joint.fasteners
        if one.through == part.id and one.item.kind in SCREWS and one.item.gauge is not None
    )


def screws_into(plan: Plan, part: Part) -> tuple[Fastener, ...]:
    """The screws for which pilot holes are bored in a part, through the clearance holes of another."""
    return tuple(
        one
        for joint in plan.joints
        for one in joint.fasteners
        if one.into == part.id and one.item.kind in SCREWS and one.item.gauge is not None
    )


def bored_for(plan: Plan, part: Part, screws: tuple[Fastener, ...]) -> Part:
    """The part with holes for these screws among its features."""
    return replace(
        part,
        features=(*part.features, *(one for screw in screws for one in _holes(plan, part, in_own_frame(part, screw)))),
    )


def slot_axis(plan: Plan, screw: Fastener) -> Axis:
    """The way a slot runs: across the grain of the board that moves."""
    return plan.part(screw.into).width_axis


def _holes(plan: Plan, part: Part, screw: Fastener) -> list[Feature]:
    """One hole; for a slot the holes at its ends and what stands between them."""
    assert screw.item.gauge is not None
    wide, face = clearance_hole(screw.item.gauge), entered_face(screw)
    way = slot_axis(plan, screw)
    if not screw.slotted or way is face.axis:
        hole = Bore(SCREW_HOLE, face, screw.mouth, screw.direction, wide, None, None, part.position)
        if screw.counterbore is None:
            return [hole]
        return [replace(hole, diameter=screw.counterbore, depth=screw.sunk), hole]
    middle, apart = screw.at.along(way), wide * Fraction(SLOT_HOLES - 1, 2)
    ends = [
        Bore(SCREW_HOLE, face, screw.at.moved(way, middle + by), screw.direction, wide, None, None, part.position)
        for by in (-apart, apart)
    ]
    box = part.body.with_span(way, Span(middle - apart, middle + apart))
    other = next(axis for axis in face.axis.others() if axis is not way)
    return [*ends, _between(box, other, screw.at.along(other), wide, part, face)]


def _between(box: Box, across: Axis, at: Length, wide: Length, part: Part, face: Face) -> BoxCut:
    half = wide * Fraction(1, 2)
    box = box.with_span(across, Span(at - half, at + half))
    return BoxCut(SLOT, box, face, (face.axis.low, face.axis.high), None, part.position)
