"""Pins: dowels and loose tenons hidden between two parts, both bored or mortised for them; pegs through a tenon.

Unlike screws they have real holes in both parts, which the part drawings dimension. Rules of thumb are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from drawleaf.joinery.family import Family, Meeting, Pegged, Terms
from drawleaf.joinery.friendly import Ruler, friendly
from drawleaf.joinery.loose_tenons import made_tenon
from drawleaf.joinery.planned import Asked, FasteningTerms, Planned, Result
from drawleaf.joinery.rows import row
from drawleaf.joinery.tenons import floored
from drawleaf.joinery.wording import say
from drawleaf.model.catalogue import FastenerKind, HardwareItem
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.joint_family import CutKind
from drawleaf.model.looking_through import of_kinds
from drawleaf.model.place import Axis, Face, Point, Span
from drawleaf.model.plan import Bore, BoxCut, Fastener, Feature, Part
from drawleaf.units import ZERO, Length

EVERY = Length.of_inches(4)
"""So far apart at most."""
PLAY = Length.of_mm(2)
"""So much deeper than the pin reaches, both holes together have twice this: room for glue."""
COVER = Length.of_mm(3)
"""Wood left under a blind hole."""
MOST_SHARE = Fraction(2, 3)


def plan_pins(family: Family, asked: Asked) -> Result:
    """The dowels, loose tenons or pegs of one meeting with their holes."""
    meeting, terms, fastening = asked.meeting, asked.terms, asked.fastening
    if fastening.kind == "pegs":
        return _pegs(family, asked)
    if meeting.insert.body.face(meeting.face) != meeting.insert.seen.face(meeting.face) or meeting.overlap is not None:
        return (), (_let_in(meeting, fastening),)
    kind = FastenerKind.LOOSE_TENON if fastening.kind == "tenons" else FastenerKind.DOWEL
    item = fastening.item or (
        _made(meeting, terms) if fastening.kind == "tenons" else _chosen(meeting, terms, asked.hardware)
    )
    if item is None or item.length is None or item.kind != kind:
        return (), (_no_pin(meeting, terms, fastening, kind),)
    if kind == FastenerKind.LOOSE_TENON:
        return _loose(meeting, terms, fastening, item, asked.joint)
    return _dowels(meeting, terms, fastening, item, asked.joint, asked.ruler)


def _axes(meeting: Meeting) -> tuple[Axis, Axis]:
    """Along the row of pins, and across it."""
    along, across = sorted(meeting.axis.others(), key=lambda axis: -meeting.contact.extent(axis).exact_mm)
    return along, across


def depths(meeting: Meeting, length: Length) -> tuple[Length, Length]:
    """How far a pin reaches into the insert and into the receiver: half and half, less into a thin receiver."""
    most = meeting.receiver.body.extent(meeting.axis) * MOST_SHARE
    half = length / 2
    into = half if half <= most else floored(most, Length.of_mm(1))
    return length - into, into


def _made(meeting: Meeting, terms: Terms) -> HardwareItem | None:
    """The loose tenon of the line's sizes, or by the rule; None where there is nothing to make it of."""
    along, across = _axes(meeting)
    wood, span = meeting.contact.extent(across), meeting.contact.extent(along)
    if terms.piece_stock is None:
        return None
    return made_tenon(terms, terms.piece_stock, wood, span, lambda long: _inside(meeting, long))


def _chosen(meeting: Meeting, terms: Terms, hardware: Mapping[str, HardwareItem]) -> HardwareItem | None:
    """The dowel: the thickest up to half of the wood, and of these the longest that stays inside both parts; of the sizes of the plan's own
    unit, as their bits are, where any of those fits."""
    _, across = _axes(meeting)
    wood = meeting.contact.extent(across)
    fitting = [
        item
        for item in of_kinds(hardware, FastenerKind.DOWEL)
        if item.length is not None and thickness_of(item) <= wood / 2 and _inside(meeting, item.length)
    ]
    wanted = wood * Fraction(2, 5)

    def preference(item: HardwareItem) -> tuple[Fraction, Fraction, str]:
        assert item.length is not None
        return (-abs(thickness_of(item) - wanted).exact_mm, item.length.exact_mm, item.id)

    own = [item for item in fitting if sold_in(item, terms)]
    return max(own or fitting, key=preference, default=None)


def sold_in(item: HardwareItem, terms: Terms) -> bool:
    """Whether an item has a size of the source's own unit: whole millimetres or a fraction of an inch."""
    return (thickness_of(item).exact_mm.denominator == 1) is (terms.unit == "mm")


def thickness_of(item: HardwareItem) -> Length:
    """The diameter of a dowel or peg, the thickness of a loose tenon."""
    return item.diameter or item.measure("thick") or ZERO


def _inside(meeting: Meeting, length: Length) -> bool:
    insert, receiver = depths(meeting, length)
    room = PLAY + COVER
    return (
        insert + room <= meeting.insert.body.extent(meeting.axis)
        and receiver + room <= meeting.receiver.body.extent(meeting.axis)
        and receiver.exact_mm > 0
    )


def _dowels(
    meeting: Meeting, terms: Terms, fastening: FasteningTerms, item: HardwareItem, joint: str, ruler: Ruler
) -> Result:
    assert item.length is not None
    along, _ = _axes(meeting)
    span = meeting.contact.span(along)
    problem = _too_long(meeting, terms, fastening, item)
    if problem is not None:
        return (), (problem,)
    count = fastening.count or max(2, len(row(span, None, fastening.every or EVERY, fastening.ends)))
    places = row(span, count, None, fastening.ends)
    if fastening.ends is None:
        places = friendly(places, meeting.insert.body.span(along), ruler)
    into_insert, into_receiver = depths(meeting, item.length)
    at = meeting.contact.center
    out = meeting.face.normal
    planned = []
    for place in places:
        spot = at.moved(along, place)
        start = spot.moved(meeting.axis, spot.along(meeting.axis) - into_insert * meeting.face.side)
        fastener = Fastener(item, start, out, meeting.insert.id, meeting.receiver.id, joint)
        holes = (
            (meeting.insert.id, _hole(meeting.face, spot, item, into_insert + PLAY, joint, fastening)),
            (meeting.receiver.id, _hole(meeting.face.opposite, spot, item, into_receiver + PLAY, joint, fastening)),
        )
        planned.append(Planned(fastener, along, span, made=holes))
    return tuple(planned), ()


def _hole(face: Face, at: Point, item: HardwareItem, depth: Length, joint: str, fastening: FasteningTerms) -> Bore:
    bore = item.diameter or ZERO
    return Bore("dowel hole", face, at, face.opposite.normal, bore, depth, dowel_row(joint), fastening.position)


def dowel_row(joint: str) -> str:
    """The row that the holes of a joint's dowels share, in both of its parts."""
    return f"{joint}-dowels"


def _loose(meeting: Meeting, terms: Terms, fastening: FasteningTerms, item: HardwareItem, joint: str) -> Result:
    assert item.length is not None
    along, across = _axes(meeting)
    span, thick, wide = meeting.contact.span(along), thickness_of(item), item.measure("wide") or ZERO
    problem = _too_long(meeting, terms, fastening, item)
    count = terms.count or max(1, int(span.extent.ratio(wide * 4)) if wide else 1)
    if problem is None and wide * count * Fraction(5, 4) > span.extent:
        problem = _no_pin(meeting, terms, fastening, "loose tenon")
    if problem is not None:
        return (), (problem,)
    into_insert, into_receiver = depths(meeting, item.length)
    middle = meeting.contact.center
    planned = []
    for index in range(count):
        place = span.low + span.extent * Fraction(2 * index + 1, 2 * count)
        spot = middle.moved(along, place)
        start = spot.moved(meeting.axis, spot.along(meeting.axis) - into_insert * meeting.face.side)
        ends = meeting.insert.id, meeting.receiver.id
        fastener = Fastener(item, start, meeting.face.normal, *ends, joint, wide=along)
        seat = Span(place - wide / 2, place + wide / 2)
        slot = Span(spot.along(across) - thick / 2, spot.along(across) + thick / 2)
        made = tuple(
            (part.id, _mortise(part, face, {along: seat, across: slot}, deep + PLAY, joint, meeting))
            for part, face, deep in (
                (meeting.insert, meeting.face, into_insert),
                (meeting.receiver, meeting.face.opposite, into_receiver),
            )
        )
        planned.append(Planned(fastener, along, Span(place, place), made=made))
    return tuple(planned), ()


def _mortise(part: Part, face: Face, spans: dict[Axis, Span], depth: Length, joint: str, meeting: Meeting) -> BoxCut:
    surface = part.seen.face(face)
    floor = surface - depth * face.side
    box = part.body.with_span(face.axis, Span.between(surface, floor))
    for axis, span in spans.items():
        box = box.with_span(axis, span)
    return BoxCut(CutKind.MORTISE, box, face, (face,), joint, meeting.position)


def _pegs(family: Family, asked: Asked) -> Result:
    """Pegs across a tenon, from the face that shows, right through the part that has the mortise."""
    meeting, terms, fastening, joint = asked.meeting, asked.terms, asked.fastening, asked.joint
    if not isinstance(family, Pegged):
        return (), (
            Diagnostic(
                "pegs-without-tenon",
                f"A {family.facts.title} has no tenon for pegs to go through",
                fastening.position,
                mend="Use “mortise_and_tenon”, “bridle” or “breadboard”, or hold it with “dowels”.",
            ),
        )
    places = family.peg_places(meeting, terms, fastening.count)
    woods = [meeting.receiver.body.extent(face.axis) for _, face in places]
    item = fastening.item or _peg_for(max(woods, default=ZERO), terms, asked.hardware)
    if item is None or item.length is None or item.kind != FastenerKind.PEG:
        return (), (_no_pin(meeting, terms, fastening, FastenerKind.PEG),)
    planned = []
    for spot, face in places:
        wood = meeting.receiver.body.extent(face.axis)
        if item.length < wood:
            return (), (_no_pin(meeting, terms, fastening, FastenerKind.PEG),)
        head = spot.moved(face.axis, meeting.receiver.body.face(face))
        cut = replace(item, length=wood)
        slides = bool(_room(family, meeting, terms, spot))
        ends = meeting.receiver.id, meeting.insert.id
        fastener = Fastener(cut, head, face.opposite.normal, *ends, joint, slotted=slides)
        made: tuple[tuple[str, Feature], ...] = (
            (meeting.receiver.id, _peg_hole(face, head, item, joint, fastening)),
            (meeting.insert.id, _tenon_hole(family, meeting, terms, face, spot, item, joint, fastening)),
        )
        planned.append(
            Planned(fastener, meeting.axis, Span(spot.along(meeting.axis), spot.along(meeting.axis)), made=made)
        )
    return tuple(planned), ()


def _peg_hole(face: Face, at: Point, item: HardwareItem, joint: str, fastening: FasteningTerms) -> Bore:
    bore = item.diameter or ZERO
    return Bore("peg hole", face, at, face.opposite.normal, bore, None, f"{joint}-pegs", fastening.position)


def _tenon_hole(
    family: Family,
    meeting: Meeting,
    terms: Terms,
    face: Face,
    spot: Point,
    item: HardwareItem,
    joint: str,
    fastening: FasteningTerms,
) -> Feature:
    """The hole in the tenon, a little nearer to the shoulder where the joint is drawbored; a slot where the family lets it slide."""
    room = _room(family, meeting, terms, spot)
    if room:
        return _slot(meeting, face, spot, item, room, joint)
    shift = fastening.drawbore * -meeting.face.side
    at = spot.moved(meeting.axis, spot.along(meeting.axis) + shift).moved(face.axis, meeting.insert.body.face(face))
    bore = item.diameter or ZERO
    return Bore("peg hole", face, at, face.opposite.normal, bore, None, f"{joint}-pegs", fastening.position)


def _room(family: Family, meeting: Meeting, terms: Terms, spot: Point) -> Length:
    """How far the tenon may slide to either side of a peg; nothing in most families."""
    return getattr(family, "peg_room", lambda *_: ZERO)(meeting, terms, spot)


def _slot(meeting: Meeting, face: Face, spot: Point, item: HardwareItem, room: Length, joint: str) -> BoxCut:
    run, half = meeting.run, thickness_of(item) / 2
    box = meeting.insert.body
    for axis, reach in ((meeting.axis, half), (run, half + room)):
        box = box.with_span(axis, Span(spot.along(axis) - reach, spot.along(axis) + reach))
    return BoxCut(CutKind.PEG_SLOT, box, face, (face, face.opposite), joint, meeting.position)


def _peg_for(wood: Length, terms: Terms, hardware: Mapping[str, HardwareItem]) -> HardwareItem | None:
    """A little thinner than a third of the wood that it crosses, as a peg should be; long enough for the whole part."""
    fitting = [
        item
        for item in of_kinds(hardware, FastenerKind.PEG)
        if item.length is not None and item.length >= wood and sold_in(item, terms)
    ]

    def preference(item: HardwareItem) -> tuple[Fraction, Fraction, str]:
        assert item.length is not None
        return (abs(thickness_of(item) - wood / 4).exact_mm, item.length.exact_mm, item.id)

    return min(fitting, key=preference, default=None)


def _too_long(meeting: Meeting, terms: Terms, fastening: FasteningTerms, item: HardwareItem) -> Diagnostic | None:
    assert item.length is not None
    if _inside(meeting, item.length):
        return None
    insert, receiver = meeting.insert, meeting.receiver
    rooms = [say(part.body.extent(meeting.axis), terms.unit) for part in (insert, receiver)]
    return Diagnostic(
        "dowel-too-long",
        f"{item.name} comes out of “{insert.id}” or “{receiver.id}”",
        fastening.position,
        f"It is {say(item.length, terms.unit)} long; along the joint they are {rooms[0]} and {rooms[1]}.",
        "Take a shorter one, or leave out “item” and let it be chosen.",
    )


def _let_in(meeting: Meeting, fastening: FasteningTerms) -> Diagnostic:
    return Diagnostic(
        "dowels-need-butt",
        f"“{meeting.insert.id}” is let into “{meeting.receiver.id}”: there is no place for {fastening.kind} between them",
        fastening.position,
        mend="Dowels and loose tenons hold a plain butt joint. Use “butt”, or leave them out.",
    )


def _no_pin(meeting: Meeting, terms: Terms, fastening: FasteningTerms, kind: str) -> Diagnostic:
    size = " × ".join(say(meeting.contact.extent(axis), terms.unit) for axis in _axes(meeting))
    named = f"“{fastening.item.id}” does not" if fastening.item is not None else f"No {kind} in shared/hardware does"
    return Diagnostic(
        "no-dowel-fits",
        f"{named} fit between “{meeting.insert.id}” and “{meeting.receiver.id}”",
        fastening.position,
        f"They meet over {size}; a {kind} must stay inside both parts, or for a peg reach through.",
        "Name another “item”, or hold the joint in another way.",
    )
