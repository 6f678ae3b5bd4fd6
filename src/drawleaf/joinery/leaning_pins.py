"""Dowels where a part leans: square to the receiver's face, and so square to the sawn end that lies against it.

A dowelling jig that is set on the sawn end bores that way by itself. In the insert such a hole runs at a slant to the part and must stay
covered on every side; in the receiver it stands upright. Rules of thumb are common practice, no source.
"""

from __future__ import annotations

from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from drawleaf.joinery.family import Meeting, Terms
from drawleaf.joinery.leaning import Leaning
from drawleaf.joinery.pins import COVER, EVERY, MOST_SHARE, PLAY, dowel_row, sold_in, thickness_of
from drawleaf.joinery.planned import Asked, FasteningTerms, Planned, Result
from drawleaf.joinery.rows import row
from drawleaf.joinery.tenons import floored
from drawleaf.joinery.wording import say
from drawleaf.model.catalogue import FastenerKind, HardwareItem
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.looking_through import of_kinds
from drawleaf.model.place import Axis, Face, Point, Span
from drawleaf.model.plan import Bore, Fastener, Part
from drawleaf.model.shapes import Tilt, Vector
from drawleaf.units import ZERO, Length

Floats = NDArray[np.float64]
MOST_OF_THE_EDGE = Fraction(1, 2)
"""A dowel is at most half as thick as the wood that it stands in."""
WANTED = Fraction(2, 5)
HAIR = 0.01
"""Millimetres by which a thickness that is found in floats may miss."""


def plan_leaning_pins(leaning: Leaning, asked: Asked) -> Result:
    """The dowels of one meeting of which a part leans, with their holes in both parts."""
    meeting, terms, fastening = asked.meeting, asked.terms, asked.fastening
    if fastening.kind != "dowels" or terms.depth > ZERO:
        return (), (_not_here(meeting, fastening),)
    fitting = [one for one in of_kinds(asked.hardware, FastenerKind.DOWEL) if _is_dowel(one)]
    if fastening.item is not None:
        fitting = [fastening.item] if _is_dowel(fastening.item) else []
    for item in _by_preference(fitting, leaning, terms):
        planned = _dowels(meeting, leaning, fastening, item, asked.joint)
        if _covered(planned, meeting):
            return planned, ()
    return (), (_no_room(meeting, leaning, terms, fastening),)


def _is_dowel(item: HardwareItem) -> bool:
    return item.kind == FastenerKind.DOWEL and item.length is not None and item.diameter is not None


def _by_preference(items: list[HardwareItem], leaning: Leaning, terms: Terms) -> list[HardwareItem]:
    """Those nearest to two fifths of the wood's thickness first, of these the longest; a size of the plan's own unit before any other."""
    thick = leaning.area / leaning.length

    def preference(item: HardwareItem) -> tuple[bool, float, Fraction, str]:
        assert item.length is not None
        off = abs(thickness_of(item).mm - thick * float(WANTED))
        return (not sold_in(item, terms), round(off, 3), -item.length.exact_mm, item.id)

    return sorted(
        (one for one in items if thickness_of(one).mm <= thick * float(MOST_OF_THE_EDGE) + HAIR), key=preference
    )


def _dowels(
    meeting: Meeting, leaning: Leaning, fastening: FasteningTerms, item: HardwareItem, joint: str
) -> tuple[Planned, ...]:
    assert item.length is not None
    half = Fraction(leaning.length / 2).limit_denominator(1000)
    stretch = Span(Length.of_mm(-half), Length.of_mm(half))
    count = fastening.count or max(2, len(row(stretch, None, fastening.every or EVERY, fastening.ends)))
    most = _length(leaning.through) * MOST_SHARE
    into = min(item.length / 2, floored(most, Length.of_mm(1)))
    back = item.length - into
    normal = np.array(leaning.normal)
    slide = max(Axis, key=lambda axis: abs(leaning.along[axis.index]))
    ends = meeting.insert, meeting.receiver
    planned = []
    for place in row(stretch, count, None, fastening.ends):
        mouth = np.array(leaning.middle) + np.array(leaning.along) * place.mm
        start = _point(mouth - normal * back.mm)
        fastener = Fastener(item, start, _triple(normal), meeting.insert.id, meeting.receiver.id, joint)
        made = (
            (ends[0].id, _hole(ends[0], leaning.own_face, mouth, -normal, item, back + PLAY, joint, fastening)),
            (ends[1].id, _hole(ends[1], leaning.face, mouth, normal, item, into + PLAY, joint, fastening)),
        )
        planned.append(Planned(fastener, slide, Span(start.along(slide), start.along(slide)), made=made))
    return tuple(planned)


def _hole(
    part: Part,
    face: Face,
    mouth: Floats,
    way: Floats,
    item: HardwareItem,
    depth: Length,
    joint: str,
    fastening: FasteningTerms,
) -> Bore:
    """A hole as it is bored in the loose part: in the part's own upright frame."""
    at, direction = _triple(mouth), _triple(way)
    if part.tilt is not None:
        at, direction = part.tilt.back(at), _clean(part.tilt, direction)
    bore = item.diameter or ZERO
    return Bore("dowel hole", face, _point(np.array(at)), direction, bore, depth, dowel_row(joint), fastening.position)


def _clean(tilt: Tilt, direction: Vector) -> Vector:
    """A direction in the part's frame without the dust of turning: what stands square there is square."""
    x, y, z = (round(step, 9) + 0.0 for step in tilt.back_direction(direction))
    return (x, y, z)


def _covered(planned: tuple[Planned, ...], meeting: Meeting) -> bool:
    """Whether every hole has wood before its end and beside it, in both parts."""
    bodies = {part.id: part.body for part in (meeting.insert, meeting.receiver)}
    for one in planned:
        for part, hole in one.made:
            assert isinstance(hole, Bore)
            assert hole.depth is not None
            end = np.array(hole.start.mm) + np.array(hole.direction) * hole.depth.mm
            need = hole.diameter.mm / 2.0
            for axis in Axis:
                span, along = bodies[part].span(axis), axis is hole.face.axis
                beside = COVER.mm if along else need + COVER.mm / 2.0
                places = (float(end[axis.index]),) if along else (float(end[axis.index]), hole.start.mm[axis.index])
                low = along and hole.face.side < 0
                high = along and hole.face.side > 0
                if any(
                    (not low and at - span.low.mm < beside) or (not high and span.high.mm - at < beside)
                    for at in places
                ):
                    return False
    return bool(planned)


def _not_here(meeting: Meeting, fastening: FasteningTerms) -> Diagnostic:
    return Diagnostic(
        "leaning-drive",
        f"Where “{meeting.insert.id}” meets “{meeting.receiver.id}” at an angle, {fastening.kind} cannot hold the joint",
        fastening.position,
        "Dowels stand square to the face there; other pins have no place in a butt that leans.",
        "Write “dowels” with a butt, or screws through the part with the face.",
    )


def _no_room(meeting: Meeting, leaning: Leaning, terms: Terms, fastening: FasteningTerms) -> Diagnostic:
    named = f"“{fastening.item.id}” does not" if fastening.item is not None else "No dowel in shared/hardware does"
    wide, thick = (say(_length(round(one, 2)), terms.unit) for one in (leaning.length, leaning.area / leaning.length))
    return Diagnostic(
        "no-dowel-fits",
        f"{named} fit between “{meeting.insert.id}” and “{meeting.receiver.id}”",
        fastening.position,
        f"They meet over {wide} × {thick}, at an angle; a dowel stands square to the face and must stay inside both parts.",
        "Name a shorter or thinner “item”, move the row with “end_distance”, or let the parts meet over more wood.",
    )


def _point(place: Floats) -> Point:
    """To a thousandth of a millimetre, so that mirrored parts are bored alike."""
    x, y, z = (_length(round(float(value), 3)) for value in place)
    return Point(x, y, z)


def _triple(vector: Floats) -> Vector:
    x, y, z = (float(value) + 0.0 for value in vector)
    return (x, y, z)


def _length(mm: float) -> Length:
    return Length.of_mm(Fraction(mm).limit_denominator(10**6))
