"""Tenons laid out: how thick, how wide, where between their shoulders, how long. Shared by mortise and tenon and breadboard end.

Rules of thumb, all common practice, no source: a third of the wood's thickness, to the nearest chisel; two thirds through the part that
receives it; a small shoulder at each edge, and a quarter of the width where the mortise would break out at the end of its part.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from drawleaf.joinery.channel import broken_through
from drawleaf.joinery.family import Meeting, Terms
from drawleaf.model.joint_family import CutKind
from drawleaf.model.place import Axis, Box, Face, Point, Span
from drawleaf.model.plan import BoxCut
from drawleaf.units import ZERO, Length

CHISELS: dict[Literal["in", "mm"], tuple[Length, ...]] = {
    "in": tuple(Length.of_inches(Fraction(size, 16)) for size in (2, 3, 4, 5, 6, 8, 10, 12, 16, 20, 24)),
    "mm": tuple(Length.of_mm(size) for size in (3, 4, 5, 6, 8, 10, 12, 15, 18, 20, 25, 30, 36)),
}
"""Widths that chisels and straight bits are sold in."""
_STEP = {"in": Length.of_inches(Fraction(1, 8)), "mm": Length.of_mm(1)}
_SHOULDER = {"in": Length.of_inches(Fraction(1, 4)), "mm": Length.of_mm(6)}
_FLOOR = {"in": Length.of_inches(Fraction(1, 16)), "mm": Length.of_mm(2)}
"""Room at the bottom of a blind mortise for glue and chips."""
_PEG_FROM_SHOULDER = Fraction(2, 5)
"""Where a peg crosses a blind tenon: this share of its length from the shoulder."""
_NEAR_END = Length.of_mm(13)
"""An edge of the insert that lies nearer than this to the end of the receiver lies at that end."""


@dataclass(frozen=True, slots=True)
class Tenons:
    """The tenons at one end of a part: ``across`` their thickness, ``widths`` along the joint one for each, ``length`` beyond the
    shoulder; ``haunches`` are the stretches beside them that stand ``haunch`` high."""

    axis_across: Axis
    axis_along: Axis
    across: Span
    widths: tuple[Span, ...]
    length: Length
    haunches: tuple[Span, ...] = ()
    haunch: Length = ZERO


def axes_of(meeting: Meeting) -> tuple[Axis, Axis]:
    """Across the tenon and along its width: a mortise runs with the grain of its part, else the tenon is thin as its wood is."""
    grain, others = meeting.receiver.grain, meeting.axis.others()
    turned = meeting.receiver.stock.material.solid and _square(meeting)
    along = grain if turned and grain in others else meeting.run
    return next(axis for axis in others if axis is not along), along


def _square(meeting: Meeting) -> bool:
    """Whether the insert is as wide as it is thick, so that its tenon may lie either way."""
    a, b = meeting.axis.others()
    return meeting.insert.seen.extent(a) == meeting.insert.seen.extent(b)


def tenon_length(meeting: Meeting, terms: Terms) -> Length:
    """Beyond the shoulder: as given, through the receiver, or two thirds of it to a round figure below."""
    wood = meeting.receiver.seen.extent(meeting.axis)
    if terms.depth:
        return terms.depth
    return wood if terms.through else floored(wood * Fraction(2, 3), _STEP[terms.unit])


def tenons_of(meeting: Meeting, terms: Terms) -> Tenons:
    """The tenons of a joint as its line and the rules of thumb lay them out. Widths may come out empty: ``problems`` say."""
    across, along = axes_of(meeting)
    thick = terms.thickness or nearest_chisel(meeting.insert.seen.extent(across) / 3, terms)
    room = meeting.insert.seen.span(across)
    place = _from_faces(room, across, terms, thick) or Span(room.middle - thick / 2, room.middle + thick / 2)
    contact = meeting.contact.span(along)
    low, high = (_shoulder(meeting, terms, face) for face in (along.low, along.high))
    whole = Span(contact.low + low, contact.high - high)
    count = terms.count or 1
    unit = whole.extent / (2 * count - 1)
    widths = tuple(Span(whole.low + unit * (2 * i), whole.low + unit * (2 * i + 1)) for i in range(count))
    haunches: tuple[Span, ...] = ()
    if terms.haunch is not None:
        sides = ((along.low, Span(contact.low, whole.low)), (along.high, Span(whole.high, contact.high)))
        haunches = tuple(span for face, span in sides if at_end(meeting, face) and span.extent.exact_mm > 0)
    return Tenons(across, along, place, widths, tenon_length(meeting, terms), haunches, terms.haunch or ZERO)


def _from_faces(room: Span, axis: Axis, terms: Terms, thick: Length) -> Span | None:
    for face, distance in terms.offset:
        if face is axis.low:
            return Span(room.low + distance, room.low + distance + thick)
        if face is axis.high:
            return Span(room.high - distance - thick, room.high - distance)
    return None


def _shoulder(meeting: Meeting, terms: Terms, face: Face) -> Length:
    """Wood beside the tenon at one edge."""
    for one, distance in terms.offset:
        if one is face:
            return distance
    if terms.shoulder is not None:
        return terms.shoulder
    width = meeting.contact.extent(face.axis)
    if at_end(meeting, face):
        share = Fraction(1, 3) if terms.haunch is not None else Fraction(1, 4)
        return floored(width * share, _STEP[terms.unit])
    return min(_SHOULDER[terms.unit], width / 8)


def at_end(meeting: Meeting, face: Face) -> bool:
    """Whether the insert's edge lies at the end of the receiver, so that the mortise must stay clear of it."""
    room = (meeting.receiver.seen.face(face) - meeting.insert.seen.face(face)) * face.side
    return meeting.receiver.grain in (face.axis, None) and room < _NEAR_END


def tenon_cuts(meeting: Meeting, tenons: Tenons, joint: str) -> list[tuple[str, BoxCut]]:
    """What is sawn away round the tenons: both cheeks, the edges (down to the haunch), and between two tenons."""
    insert, face = meeting.insert, meeting.face
    grown = Span.between(insert.seen.face(face), insert.body.face(face))
    end = insert.body.with_span(meeting.axis, grown)
    across, along = insert.body.span(tenons.axis_across), insert.body.span(tenons.axis_along)
    found: list[tuple[str, BoxCut]] = []

    def cut(box: Box, into: Face) -> None:
        if all(box.extent(axis).exact_mm > 0 for axis in Axis):
            opened = broken_through(box, insert.body, into)
            found.append((insert.id, BoxCut(CutKind.TENON, box, into, opened, joint, meeting.position)))

    for side, span in (
        (tenons.axis_across.low, Span(across.low, tenons.across.low)),
        (tenons.axis_across.high, Span(tenons.across.high, across.high)),
    ):
        cut(end.with_span(tenons.axis_across, span), side)
    first, last = tenons.widths[0], tenons.widths[-1]
    for side, span in (
        (tenons.axis_along.low, Span(along.low, first.low)),
        (tenons.axis_along.high, Span(last.high, along.high)),
    ):
        beside = end.with_span(tenons.axis_along, span)
        haunch = any(one.overlap(span) for one in tenons.haunches)
        cut(_beyond(beside, meeting, tenons.haunch) if haunch else beside, side)
    for one, other in zip(tenons.widths, tenons.widths[1:], strict=False):
        cut(end.with_span(tenons.axis_along, Span(one.high, other.low)), face)
    return found


def mortise_cuts(meeting: Meeting, terms: Terms, tenons: Tenons, joint: str) -> list[tuple[str, BoxCut]]:
    """The mortises in the receiver, and the shallow ones that take the haunches."""
    found = []
    for span in tenons.widths:
        depth = None if goes_through(meeting, tenons) else tenons.length + floor_of(terms)
        found.append(_mortise(meeting, tenons, span, depth, joint))
    found += [_mortise(meeting, tenons, span, tenons.haunch, joint, CutKind.HAUNCH) for span in tenons.haunches]
    return found


def _mortise(
    meeting: Meeting, tenons: Tenons, along: Span, depth: Length | None, joint: str, kind: CutKind = CutKind.MORTISE
) -> tuple[str, BoxCut]:
    receiver, into = meeting.receiver, meeting.face.opposite
    surface = receiver.seen.face(into)
    deep = receiver.body.face(into.opposite) if depth is None else surface - depth * into.side
    box = receiver.body.with_span(meeting.axis, Span.between(surface, deep))
    box = box.with_span(tenons.axis_across, tenons.across).with_span(tenons.axis_along, along)
    opened = broken_through(box, receiver.body, into)
    return receiver.id, BoxCut(kind, box, into, opened, joint, meeting.position)


def goes_through(meeting: Meeting, tenons: Tenons) -> bool:
    """Whether the tenon comes out on the far side."""
    return tenons.length >= meeting.receiver.seen.extent(meeting.axis)


def floor_of(terms: Terms) -> Length:
    """How much deeper a blind mortise is than its tenon is long."""
    return terms.play or _FLOOR[terms.unit]


def nearest_chisel(length: Length, terms: Terms) -> Length:
    """The chisel or bit whose width is nearest; the narrower of two."""
    return min(CHISELS[terms.unit], key=lambda size: (abs(size - length), size))


def floored(length: Length, step: Length) -> Length:
    """The multiple of a step at or below a length; the length itself where it is shorter than that."""
    return step * (length.ratio(step).__floor__()) if length >= step else length


def grown_box(meeting: Meeting) -> Box:
    """The part of the insert that stands beyond its seen face."""
    insert = meeting.insert
    return insert.body.with_span(
        meeting.axis, Span.between(insert.seen.face(meeting.face), insert.body.face(meeting.face))
    )


def peg_spots(meeting: Meeting, terms: Terms, count: int | None) -> tuple[tuple[Point, Face], ...]:
    """One peg through each tenon, two through a wide one; from the front where that shows, else from the outer face."""
    tenons = tenons_of(meeting, terms)
    reach = min(tenons.length, meeting.receiver.seen.extent(meeting.axis))
    depth = reach / 2 if goes_through(meeting, tenons) else reach * _PEG_FROM_SHOULDER
    at = meeting.insert.seen.face(meeting.face) + depth * meeting.face.side
    face = tenons.axis_across.low if tenons.axis_across is Axis.Y else tenons.axis_across.high
    spots = []
    for span in tenons.widths:
        several = count or (2 if span.extent > tenons.across.extent * 5 else 1)
        for index in range(several):
            place = span.low + span.extent * Fraction(2 * index + 1, 2 * several)
            point = meeting.contact.center.moved(meeting.axis, at).moved(tenons.axis_along, place)
            spots.append((point, face))
    return tuple(spots)


def _beyond(end: Box, meeting: Meeting, haunch: Length) -> Box:
    """The end of the insert from so far beyond the shoulder."""
    axis = meeting.axis
    span = end.span(axis)
    clipped = Span(span.low + haunch, span.high) if meeting.face.side > 0 else Span(span.low, span.high - haunch)
    return end.with_span(axis, clipped)
