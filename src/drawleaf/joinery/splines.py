"""Splines: strips let in across a mitre, and their slots.

A spline is a part of its own that its joint brings along. It lies at a slant, so it is written upright, as it is made, and turned into its place.
In a frame it lies level with the faces, runs along the whole mitre and is trimmed flush when the glue is dry; in the corner of a case it runs
the length of the corner.
"""

from __future__ import annotations

from fractions import Fraction
from math import atan2, degrees, hypot

from drawleaf.joinery.bend import Bend
from drawleaf.joinery.family import LoosePiece, Meeting, Terms
from drawleaf.joinery.slot import SLOT
from drawleaf.joinery.wording import say
from drawleaf.model.catalogue import Stock
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.joint_family import CutKind
from drawleaf.model.place import Axis, Box, Face, Point, Span
from drawleaf.model.plan import Joint, Part
from drawleaf.model.shapes import Corner, Outline, OutlineCut, Tilt, Vector
from drawleaf.units import Length

NAME = "spline"
ENDS = "spline ends"
"""The kind of the cut that trims a spline flush with its parts."""
FINEST = 10**6
"""Coordinates of a spline's slot are kept to a millionth of a millimetre: it lies at a slant."""
TOWARDS_INSIDE = Fraction(1, 3)
"""Where along the mitre, from the inner corner, a spline sits in the corner of a case: there is more wood round it (common practice, no source)."""


LONGER = {"in": Length.of_inches(Fraction(1, 8)), "mm": Length.of_mm(3)}
"""A spline that is trimmed flush is cut at least so much longer at each end, to a whole multiple of this (common practice, no source)."""


def spline_problems(meeting: Meeting, bend: Bend, terms: Terms, thickness: Length, depth: Length) -> list[Diagnostic]:
    p, q = (side.mm for side in bend.sides)
    size = hypot(p, q)
    if _lies_flat(meeting, bend):
        room = bend.overlap.extent(bend.run)
        # At the outer corner a slot across the mitre runs out through the edge; it must stay short of the inner edge's far side.
        most = Length.of_mm(Fraction(min(p, q)).limit_denominator(FINEST))
    else:
        room = Length.of_mm(Fraction(size / 2).limit_denominator(FINEST))
        # The slot's far corner must stay inside the outer face: half of the way that the wood goes on square to the mitre.
        most = Length.of_mm(Fraction(min(p, q) * p * q / size / max(p, q) * 0.8).limit_denominator(FINEST))
    if thickness < room and depth < most:
        return []
    return [
        Diagnostic(
            "spline-size",
            f"A spline {say(thickness, terms.unit)} thick that goes {say(depth, terms.unit)} into each part does not fit this corner",
            meeting.position,
            f"The corner is {say(bend.sides[0], terms.unit)} by {say(bend.sides[1], terms.unit)}; there a slot can be up to {say(most, terms.unit)} deep.",
            "Make it thinner or less deep.",
        )
    ]


def spline_slot(meeting: Meeting, bend: Bend, terms: Terms, joint: str) -> OutlineCut:
    """The slot for a spline, square to the mitre, as one outline over both parts."""
    assert terms.spline is not None
    thickness, depth = terms.spline
    size = hypot(*(side.mm for side in bend.sides))
    flat = _lies_flat(meeting, bend)
    if flat:
        # In a frame the slot lies level with the faces, along the whole mitre.
        low, high = -size * 0.25 - depth.mm, size * 1.25
        middle = bend.overlap.span(bend.run).middle
        span, opened = Span(middle - thickness / 2, middle + thickness / 2), (bend.end, bend.other)
    else:
        low, high = _seat(size, thickness)
        span, opened = bend.overlap.span(bend.run), (bend.run.low, bend.run.high)
    places = [
        _place(bend, by, off) for by, off in ((low, -depth.mm), (high, -depth.mm), (high, depth.mm), (low, depth.mm))
    ]
    a, b = bend.run.others()
    corners = tuple(Corner(_kept(place[a]), _kept(place[b])) for place in places)
    into = bend.end if flat else bend.run.high
    return OutlineCut(
        CutKind.SPLINE_SLOT, into, Outline(bend.run, corners), span, opened, False, joint, meeting.position
    )


def spline_of(meeting: Meeting, bend: Bend, terms: Terms, joint: Joint) -> LoosePiece:
    """The spline of a mitre with the joints by which it sits in both parts. Its grain runs across the mitre, where it has one."""
    assert terms.spline is not None
    assert terms.piece_stock is not None
    thickness, depth = terms.spline
    p, q = (side.mm for side in bend.sides)
    size = hypot(p, q)
    flat = _lies_flat(meeting, bend)
    low, high = _reach(p, q, depth.mm) if flat else _seat(size, thickness)
    middle = _place(bend, (low + high) / 2.0, 0.0)
    center = _point(middle, bend, bend.overlap.span(bend.run).middle)
    upright, aside, tilt = _turned(bend, center, p == q)
    if flat:
        step = LONGER[terms.unit]
        long = step * -(-Length.of_mm(Fraction(high - low)).ratio(step) // 1) + step * 2
        extents = {upright: long, aside: depth * 2, bend.run: thickness}
    else:
        extents = {upright: thickness, aside: depth * 2, bend.run: bend.overlap.extent(bend.run)}
    spans = [Span(center.along(axis) - extents[axis] / 2, center.along(axis) + extents[axis] / 2) for axis in Axis]
    box = Box(*spans)
    part = Part(
        id="",
        kind=NAME,
        name=NAME.capitalize(),
        assembly=meeting.insert.assembly,
        stock=terms.piece_stock,
        thickness=bend.run if flat else upright,
        grain=aside if terms.piece_stock.material.solid else None,
        seen=box,
        body=box,
        features=(_flush_ends(bend, depth, box, tilt, aside, joint, center),) if flat else (),
        glue_up=None,
        mirrored=False,
        position=meeting.position,
        note=" ".join(_notes(flat, terms.piece_stock)),
        tilt=tilt,
        brought=joint.id,
    )
    long = size if flat else thickness.mm
    seats = tuple(
        _sits(part, host, number, _direction(bend, side), long, terms, joint)
        for number, (host, side) in enumerate(((meeting.insert, -1.0), (meeting.receiver, 1.0)), start=1)
    )
    return LoosePiece(part, seats)


def _notes(flat: bool, stock: Stock) -> list[str]:
    """What its row on the cut list says."""
    grain = ["The grain runs across the mitre."] if stock.material.solid else []
    return [*grain, *(["The ends are trimmed flush when the glue is dry."] if flat else [])]


def _lies_flat(meeting: Meeting, bend: Bend) -> bool:
    """Whether the corner is that of a frame, in which a spline lies level with the faces."""
    return bend.run is meeting.insert.thickness


def _reach(p: float, q: float, depth: float) -> tuple[float, float]:
    """From where to where along the mitre, from the inner corner, a spline of a frame reaches whose ends are flush with both parts' edges."""
    return -depth * max(p / q, q / p), hypot(p, q)


def _seat(size: float, thickness: Length) -> tuple[float, float]:
    """The same of a spline in the corner of a case."""
    middle = size * float(TOWARDS_INSIDE)
    return middle - thickness.mm / 2, middle + thickness.mm / 2


def _place(bend: Bend, by: float, off: float) -> dict[Axis, float]:
    """A place in the plane of the corner: so far along the mitre from its inner corner, so far across it towards the receiver (mm)."""
    p, q = (side.mm for side in bend.sides)
    size = hypot(p, q)
    along = (p / size * bend.end.side, q / size * bend.other.side)
    across = (q / size * bend.end.side, -p / size * bend.other.side)
    inner = tuple(value.mm for value in bend.inner)
    return {axis: inner[i] + along[i] * by + across[i] * off for i, axis in enumerate((bend.end.axis, bend.other.axis))}


def _point(place: dict[Axis, float], bend: Bend, level: Length) -> Point:
    return Point(*(level if axis is bend.run else _kept(place[axis]) for axis in Axis))


def _direction(bend: Bend, side: float) -> Vector:
    """The unit vector across the mitre: into the insert (-1) or into the receiver (+1)."""
    here, there = _place(bend, 0.0, 0.0), _place(bend, 0.0, side)
    x, y, z = (there.get(axis, 0.0) - here.get(axis, 0.0) for axis in Axis)
    return (x, y, z)


def _turned(bend: Bend, about: Point, even: bool) -> tuple[Axis, Axis, Tilt]:
    """The axis along which the upright spline has what lies along the mitre, the one across it, and the turn that brings it there."""
    here, there = _place(bend, 0.0, 0.0), _place(bend, 1.0, 0.0)
    way = {axis: there[axis] - here[axis] for axis in here}
    if bend.run is Axis.Z:
        x, y = way[Axis.X], way[Axis.Y]
        angle = degrees(atan2(y, x) if x > 0 else atan2(-y, -x))
        return Axis.X, Axis.Y, Tilt(about, (), _exact(angle, even))
    aside = next(axis for axis in way if axis is not Axis.Z)
    over = way[aside] if way[Axis.Z] > 0 else -way[aside]
    lean = _exact(degrees(atan2(abs(over), abs(way[Axis.Z]))), even)
    return Axis.Z, aside, Tilt(about, ((aside.high if over > 0 else aside.low, lean),))


def _exact(angle: float, even: bool) -> Fraction:
    """Degrees; 45 exactly where both parts are equally wide."""
    return Fraction(round(angle)) if even else Fraction(angle).limit_denominator(10**9)


def _flush_ends(
    bend: Bend, depth: Length, box: Box, tilt: Tilt, aside: Axis, joint: Joint, center: Point
) -> OutlineCut:
    """What is left of a frame's spline when both its ends are trimmed flush with the edges of both parts: a swallow's tail at the inner
    corner, a point at the outer."""
    p, q = (side.mm for side in bend.sides)
    d, size = depth.mm, hypot(p, q)
    places = (
        *((-d * p / q, -d), (0.0, 0.0), (-d * q / p, d)),
        *((size - d * q / p, d), (size, 0.0), (size - d * p / q, -d)),
    )
    a, b = bend.run.others()
    corners = []
    for by, off in places:
        local = tilt.back(_point(_place(bend, by, off), bend, center.along(bend.run)).mm)
        corners.append(Corner(_kept(local[a.index]), _kept(local[b.index])))
    long_way = next(axis for axis in (a, b) if axis is not aside)
    # Across, the outline ends at the blank's own edges: there is nothing to saw.
    across = box.span(aside)
    corners = [_within(corner, across, aside is a) for corner in corners]
    opened = (bend.run.low, bend.run.high, long_way.low, long_way.high)
    cut = Outline(bend.run, tuple(corners))
    return OutlineCut(ENDS, bend.run.high, cut, box.span(bend.run), opened, True, joint.id, joint.position, True)


def _within(corner: Corner, span: Span, first: bool) -> Corner:
    at = corner.u if first else corner.v
    near = next((end for end in (span.low, span.high) if abs(end - at) < Length.of_mm(Fraction(1, 1000))), at)
    return Corner(near, corner.v) if first else Corner(corner.u, near)


def _sits(part: Part, host: Part, number: int, way: Vector, long: float, terms: Terms, joint: Joint) -> Joint:
    """The joint of a spline with one of its two parts: where its edge, ``long`` along the mitre, touches the bottom of the slot."""
    assert terms.spline is not None
    thickness, depth = terms.spline
    into = max(Axis, key=lambda axis: round(abs(way[axis.index]), 6))
    run = next(axis for axis in Axis if not way[axis.index])
    high = part.seen.extent(run).mm
    spans = []
    for axis, middle, step in zip(Axis, part.seen.center.mm, way, strict=True):
        floor = middle + step * depth.mm
        half = 0.0 if axis is into else high / 2 if axis is run else long / 2 * (1.0 - step**2) ** 0.5
        spans.append(Span(_kept(floor - half), _kept(floor + half)))
    return Joint(
        id=f"{joint.id}-{NAME}-{number}",
        line=f"{joint.line}-{NAME}",
        family=SLOT,
        insert=part.id,
        receiver=host.id,
        face=Face.of(into, 1 if way[into.index] > 0 else -1),
        contact=Box(*spans),
        depth=depth,
        width=thickness,
        glued=joint.glued,
        fasteners=(),
        position=joint.position,
        normal=way,
        area=long * high,
    )


def slots_of(part: Part, joint: str) -> list[OutlineCut]:
    """The slots for splines that a joint cut in a part."""
    return [
        one
        for one in part.features
        if isinstance(one, OutlineCut) and one.kind == CutKind.SPLINE_SLOT and one.joint == joint
    ]


def slot_sizes(slot: OutlineCut) -> tuple[Length, Length]:
    """How thick the spline is, and how deep its slot goes into each part."""
    first, second, third = slot.outline.corners[:3]
    along = hypot((second.u - first.u).mm, (second.v - first.v).mm)
    across = hypot((third.u - second.u).mm, (third.v - second.v).mm)
    deep = _kept(round(across / 2.0, 3))
    flat = slot.into.axis is not slot.outline.axis
    return (slot.span.extent if flat else _kept(round(along, 3))), deep


def _kept(mm: float) -> Length:
    return Length.of_mm(Fraction(mm).limit_denominator(FINEST))
