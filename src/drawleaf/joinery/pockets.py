"""Pocket screws: a pocket bored at a slant into one part's face, a screw in it that comes out of that part's end.

The slant is 15 degrees; the screw leaves the end in the middle of the thickness; its head seats half a screw's length before the
end, so that half of it goes into the other part. Screw lengths by thickness, thread by wood: all common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from fractions import Fraction

from drawleaf.joinery.family import Meeting, Terms
from drawleaf.joinery.friendly import friendly
from drawleaf.joinery.planned import Asked, FasteningTerms, Planned, Result
from drawleaf.joinery.rows import row
from drawleaf.joinery.wording import say
from drawleaf.model.catalogue import FastenerKind, HardwareItem, Material
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.looking_through import of_kinds
from drawleaf.model.place import Face, Point
from drawleaf.model.plan import Bore, Fastener, Vector
from drawleaf.units import Length

SLANT = math.radians(15)
POCKET = Length.of_inches(Fraction(3, 8))
EDGE_COVER = Length.of_inches(Fraction(1, 16))
_LENGTHS = (
    (Length.of_mm(16), Length.of_inches(1)),
    (Length.of_mm(Fraction(223, 10)), Length.of_inches(Fraction(5, 4))),
    (Length.of_mm(32), Length.of_inches(Fraction(3, 2))),
    (Length.of_mm(45), Length.of_inches(Fraction(5, 2))),
)
"""The thickest stock for each length of screw: a little over 5/8, 7/8, 1-1/4 and 1-3/4 in, so that metric stock goes with its inch size."""


def plan_pockets(asked: Asked) -> Result:
    """Pocket screws from the insert's end into the receiver."""
    meeting, fastening = asked.meeting, asked.fastening
    found = _face_problem(meeting, fastening)
    if found is not None or fastening.on is None:
        return (), (found,) if found is not None else ()
    item, found = _item(meeting, asked.terms, fastening, asked.hardware)
    if item is None or item.length is None or found is not None:
        return (), (found,) if found is not None else ()
    across = meeting.run
    span = meeting.contact.span(across)
    planned = []
    places = row(span, fastening.count, fastening.every, fastening.ends)
    if fastening.ends is None:
        places = friendly(places, meeting.insert.body.span(across), asked.ruler)
    for place in places:
        bore, fastener = _pocket(meeting, meeting.side(fastening.on), place, item, asked.joint, fastening)
        planned.append(Planned(fastener, across, span, (meeting.insert.id, bore)))
    return tuple(planned), ()


def _other_way_round(meeting: Meeting) -> str:
    """What to write where the part that takes the other has an edge there, and the pockets go into that one."""
    other = meeting.receiver
    if other.thickness is meeting.axis:
        return "Use plain “screws”."
    first, second = (one.kind.rpartition(".")[2] for one in (other, meeting.insert))
    faces = f"“on: {other.thickness.low.value}” or “on: {other.thickness.high.value}”"
    return (
        f"The pockets go into the other one: write “butt: {first}, to: {second}”, and {faces}. Or use plain “screws”."
    )


def _face_problem(meeting: Meeting, fastening: FasteningTerms) -> Diagnostic | None:
    insert = meeting.insert
    faces = f"“{insert.thickness.low.value}” or “{insert.thickness.high.value}”"
    if not meeting.edge_on:
        return Diagnostic(
            "broad-face",
            f"“{insert.id}” meets “{meeting.receiver.id}” with its broad face; pocket screws come out of an end or an edge",
            fastening.position,
            mend=_other_way_round(meeting),
        )
    if fastening.on is None:
        return Diagnostic(
            "pocket-face",
            f"Nothing says which face of “{insert.id}” the pockets are bored in",
            fastening.position,
            "Pockets show, so you choose the side that nobody sees.",
            f"Add “on:” with {faces}.",
        )
    if fastening.on.axis is not insert.thickness:
        return Diagnostic(
            "pocket-face",
            f"The {fastening.on.value} of “{insert.id}” is an edge; pockets are bored in a broad face",
            fastening.position,
            mend=f"Write “on:” {faces}.",
        )
    return None


def _item(
    meeting: Meeting, terms: Terms, fastening: FasteningTerms, hardware: Mapping[str, HardwareItem]
) -> tuple[HardwareItem | None, Diagnostic | None]:
    item = fastening.item
    thickness = meeting.insert.seen.extent(meeting.insert.thickness)
    if item is None:
        wanted = pocket_length(thickness)
        thread = "fine" if _hard(meeting.receiver.stock.material) else "coarse"
        items = [one for one in of_kinds(hardware, FastenerKind.POCKET_SCREW) if one.length == wanted]
        item = next((one for one in items if thread in one.id), items[0] if items else None)
    if item is None or item.length is None:
        return None, Diagnostic(
            "no-screw-fits",
            f"No pocket screw in the catalogue suits “{meeting.insert.id}”, which is {say(thickness, terms.unit)} thick",
            fastening.position,
            "Pocket screws are made for stock of 1/2 in to 1-3/4 in.",
            "Name one with “item:”, or fasten with plain screws.",
        )
    enters = Length(_exact(item.length.mm / 2 * math.cos(SLANT)))
    room = meeting.receiver.body.extent(meeting.axis)
    if enters + EDGE_COVER > room:
        return None, Diagnostic(
            "screw-pokes-through",
            f"{item.name}: its point would come out of “{meeting.receiver.id}”",
            fastening.position,
            f"It enters by {say(enters, terms.unit)}, and “{meeting.receiver.id}” is {say(room, terms.unit)} there.",
            "Take a shorter screw with “item:”.",
        )
    return item, None


def pocket_length(thickness: Length) -> Length | None:
    """How long a pocket screw for stock of that thickness is: 1 in for 1/2, 1-1/4 for 3/4, 1-1/2 for 1, 2-1/2 for 1-1/2; None where it is
    thicker than any is made for."""
    return next((length for limit, length in _LENGTHS if thickness <= limit), None)


def _hard(material: Material) -> bool:
    return material.solid and material.hard


def _pocket(
    meeting: Meeting, on: Face, place: Length, item: HardwareItem, joint: str, fastening: FasteningTerms
) -> tuple[Bore, Fastener]:
    """The bore and the screw at one place along the joint."""
    insert = meeting.insert
    thickness = insert.seen.extent(insert.thickness).mm
    length = item.length.mm if item.length else 0.0
    direction = _slanted(meeting.face, on)
    # Along the screw's axis, from where it meets the face to where it leaves the end at half the thickness.
    way = thickness / 2 / math.sin(SLANT)
    seat = length / 2
    end = meeting.insert.body.face(meeting.face).mm
    middle = insert.seen.span(insert.thickness).middle.mm

    def back(distance: float) -> Point:
        coordinates = {
            meeting.axis: end - direction[meeting.axis.index] * distance,
            insert.thickness: middle - direction[insert.thickness.index] * distance,
        }
        point = meeting.contact.center.moved(meeting.run, place)
        for axis, value in coordinates.items():
            point = point.moved(axis, Length(_exact(value)))
        return point

    start = back(way).moved(on.axis, insert.seen.face(on))
    depth = Length(_exact(way - seat))
    bore = Bore("pocket", on, start, direction, POCKET, depth, f"{joint}-pockets", fastening.position)
    fastener = Fastener(item, back(seat), direction, insert.id, meeting.receiver.id, joint)
    return bore, fastener


def _slanted(end: Face, on: Face) -> Vector:
    """Towards the other part, and a little into the thickness."""
    vector = [0.0, 0.0, 0.0]
    vector[end.axis.index] = end.side * math.cos(SLANT)
    vector[on.axis.index] = -on.side * math.sin(SLANT)
    return (vector[0], vector[1], vector[2])


def _exact(mm: float) -> Fraction:
    """A slanted coordinate, which no fraction gives exactly, to a thousandth of a millimetre."""
    return Fraction(round(mm * 1000), 1000)
