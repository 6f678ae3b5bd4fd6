"""Mouldings at the saw and the router: which edge stands on the table, to which hand a mitre is sawn, which bits run the section."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction
from math import ceil

import numpy as np

from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Part
from drawleaf.model.shapes import Corner, show_face
from drawleaf.setting_out.outlines import stretches
from drawleaf.units import ZERO, Length

CLOSE = 1e-6
PASS = Length.of_inches(Fraction(1, 8))
"""What a router bit takes at a time. Common practice, no source."""
RIM = Length.of_inches(Fraction(1, 8))
"""The least that a bearing needs to run on. Common practice, no source."""


class Bit(Enum):
    """A bit with a bearing that cuts one curve along an edge."""

    COVE = "cove"
    ROUND_OVER = "round-over"


@dataclass(frozen=True, slots=True)
class BitCut:
    """One curve of a section cut in one set-up from the face: the bit's radius, how deep it is set, how many passes, and how much of the
    edge is left for the bearing. ``edge`` is the edge of the part that it runs along."""

    bit: Bit
    radius: Length
    depth: Length
    passes: int
    rim: Length
    edge: Face


def flat_at(part: Part, face: Face) -> Length:
    """How wide a moulding lies on one of its edges."""
    assert part.section is not None
    at = part.body.face(face)
    across = part.thickness
    total = ZERO
    for one, other in stretches(part.section.outline):
        if not one.turn and _at(part, one, face.axis) == at == _at(part, other, face.axis):
            total += abs(_at(part, one, across) - _at(part, other, across))
    return total


def down_edge(part: Part) -> Face:
    """The edge that a moulding stands on at the saw: the wider, squarer one."""
    low, high = part.width_axis.low, part.width_axis.high
    return low if flat_at(part, low) >= flat_at(part, high) else high


def swings_right(part: Part, end: Face) -> bool:
    """Whether the saw's handle is swung to the right for the mitre at this end, the moulding standing on its ``down_edge`` with its back
    to the fence and its show face to you: the end that is then at your right."""
    assert part.section is not None
    out = show_face(part.section, part.thickness).normal
    up = down_edge(part).opposite.normal
    return bool(np.dot(np.cross(up, out), end.normal) > 0)


def bit_cuts(part: Part) -> tuple[BitCut, ...] | None:
    """The set-ups that run the whole section with bits that have a bearing; None where it needs more than those."""
    assert part.section is not None
    show = show_face(part.section, part.thickness)
    face_at, back_at = part.body.face(show), part.body.face(show.opposite)
    found: list[BitCut] = []
    for one, other in stretches(part.section.outline):
        if not one.turn:
            if _slopes(one, other):
                return None
            continue
        rise = [abs(_at(part, one, axis) - _at(part, other, axis)) for axis in (part.thickness, part.width_axis)]
        edge = next((face for face in _edges(part) if part.body.face(face) in _ends(part, one, other)), None)
        if abs(abs(one.turn) - 90.0) > CLOSE or rise[0] != rise[1] or edge is None:
            return None
        deep = max(abs(face_at - _at(part, end, part.thickness)) for end in (one, other))
        rim = abs(face_at - back_at) - deep
        if rim < RIM:
            return None
        bit = Bit.COVE if one.turn < 0 else Bit.ROUND_OVER
        found.append(BitCut(bit, rise[0], deep, ceil(deep.ratio(PASS)), rim, edge))
    edges = [cut.edge for cut in found]
    return tuple(found) if found and len(set(edges)) == len(edges) else None


def _edges(part: Part) -> tuple[Face, Face]:
    return part.width_axis.low, part.width_axis.high


def _ends(part: Part, *corners: Corner) -> list[Length]:
    return [_at(part, corner, part.width_axis) for corner in corners]


def _slopes(one: Corner, other: Corner) -> bool:
    return one.u != other.u and one.v != other.v


def _at(part: Part, corner: Corner, axis: Axis) -> Length:
    assert part.section is not None
    return corner.u if axis is part.section.outline.axis.others()[0] else corner.v
