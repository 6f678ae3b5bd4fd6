"""Mitre: two parts meet at a corner along its diagonal. Flat (frames, mouldings lying down) or on edge (corners of a case); any corner ratio."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import hypot

from drawleaf.joinery.family import Drive, Meeting, Terms, Words
from drawleaf.joinery.proportion import CUSTOM, Made, Proportion
from drawleaf.joinery.screws import Hold
from drawleaf.joinery.wording import say
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.place import Axis, Box, Face, Span
from drawleaf.model.plan import Part
from drawleaf.model.shapes import Corner, Outline, OutlineCut, PlaneCut, Vector, show_face
from drawleaf.units import ZERO, Length

WORDS = Words("mitre", "mitres", "meets in a mitre")
FINEST = 10**6
"""Coordinates of a spline's slot are kept to a millionth of a millimetre: it lies at a slant."""
TOWARDS_INSIDE = Fraction(1, 3)
"""Where along the mitre, from the inner corner, a spline sits in the corner of a case: there is more wood round it (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Bend:
    """A corner: the insert's ``end`` and the receiver's ``other`` end there; the mitre runs along ``run``, through the full corner."""

    end: Face
    other: Face
    run: Axis
    overlap: Box

    @property
    def inner(self) -> tuple[Length, Length]:
        """The inside of the corner, along the axes of ``end`` and ``other``."""
        return self.overlap.face(self.end.opposite), self.overlap.face(self.other.opposite)

    @property
    def sides(self) -> tuple[Length, Length]:
        """How far the corner reaches along the insert and along the receiver."""
        return self.overlap.extent(self.end.axis), self.overlap.extent(self.other.axis)


@dataclass(frozen=True, slots=True)
class Mitre:
    """Both parts run to the outside of the corner; a plane through its inner and outer edge parts them. Its bodies keep their drawn
    lengths: a length on the cut list is measured from long point to long point."""

    key: str = "mitre"
    let_in: bool = False
    words: Words = WORDS

    def meets(self, insert: Part, receiver: Part, overlap: Box, terms: Terms) -> tuple[Face, Box] | None:
        bend = bend_of(insert, receiver, overlap)
        if bend is None:
            return None
        outer = overlap.face(bend.end)
        return bend.end, overlap.with_span(bend.end.axis, Span(outer, outer))

    def problems(self, meeting: Meeting, terms: Terms) -> tuple[Diagnostic, ...]:
        found: list[Diagnostic] = []
        bend = _bend(meeting)
        insert, receiver = meeting.insert, meeting.receiver
        ragged = [part for part in (insert, receiver) if part.seen.span(bend.run) != bend.overlap.span(bend.run)]
        if ragged:
            mine, theirs = (say(part.seen.extent(bend.run), terms.unit) for part in (insert, receiver))
            found.append(
                Diagnostic(
                    "mitre-uneven",
                    f"“{insert.id}” and “{receiver.id}” do not lie level along {bend.run.value}, so their mitre does not close",
                    meeting.position,
                    f"The one is {mine} there, the other {theirs}, or they stand at different places.",
                    "Give both the same two faces along that axis.",
                )
            )
        if terms.depth or terms.play or terms.stopped:
            found.append(
                Diagnostic(
                    "mitre-with-depth",
                    "A mitre lets nothing in, so it has no “depth”, “play” or “stopped”",
                    meeting.position,
                    mend="Leave them out. A strip across the mitre is a “spline: {thickness: 1/8, depth: 3/8}”.",
                )
            )
        if terms.spline is not None:
            found += _spline_problems(meeting, bend, terms, *terms.spline)
        return tuple(found)

    def growth(self, meeting: Meeting, terms: Terms) -> Length:
        return ZERO

    def run_of(self, meeting: Meeting) -> Axis:
        """The axis that the mitre runs along."""
        return _bend(meeting).run

    def cuts(self, meeting: Meeting, terms: Terms, joint: str) -> tuple[tuple[str, PlaneCut | OutlineCut], ...]:
        bend = _bend(meeting)
        p, q = (side.mm for side in bend.sides)
        size = hypot(p, q)
        normal = [0.0, 0.0, 0.0]
        # From the inner to the outer corner the plane goes (p, q); across it, towards the insert's waste, (q, -p).
        normal[bend.end.axis.index] = q / size * bend.end.side
        normal[bend.other.axis.index] = -p / size * bend.other.side
        point = meeting.overlap.center if meeting.overlap is not None else meeting.contact.center
        first: Vector = (normal[0], normal[1], normal[2])
        second: Vector = (-normal[0] + 0.0, -normal[1] + 0.0, -normal[2] + 0.0)
        made: list[tuple[str, PlaneCut | OutlineCut]] = [
            (meeting.insert.id, PlaneCut("mitre", bend.end, point, first, joint, meeting.position)),
            (meeting.receiver.id, PlaneCut("mitre", bend.other, point, second, joint, meeting.position)),
        ]
        if terms.spline is not None:
            slot = _slot(meeting, bend, terms, *terms.spline, joint)
            made += [(part.id, slot) for part in (meeting.insert, meeting.receiver)]
        return tuple(made)

    def drive(self, meeting: Meeting, through: Part | None) -> Drive:
        """Pins go through the one part's outer face into the other's end."""
        bend = _bend(meeting)
        if through is not None and through.id == meeting.insert.id:
            return Drive(meeting.insert, meeting.receiver, bend.other)
        return Drive(meeting.receiver, meeting.insert, bend.end)

    def pinned(self, meeting: Meeting, drive: Drive) -> tuple[Hold, Box]:
        """What a pin at the middle of the mitre goes through and into, and the patch of the outer face over the corner."""
        overlap = _bend(meeting).overlap
        skin = overlap.extent(drive.head.axis) / 2
        room = drive.into.body.extent(drive.head.axis) - skin
        surface = drive.through.body.face(drive.head)
        return Hold(skin, skin, room), overlap.with_span(drive.head.axis, Span(surface, surface))

    def proportions(self, made: Made) -> tuple[Proportion, ...]:
        found: list[Proportion] = []
        for part, name in ((made.insert, "{insert}"), (made.receiver, "{receiver}")):
            for slot in _slots(part, made.joint.id):
                thick, _ = slot_sizes(slot)
                wood = min(part.body.extent(axis) for axis in Axis)
                found.append(
                    Proportion(
                        name=f"thickness of the spline in the {part.name.lower()}",
                        figure=thick,
                        of=wood,
                        of_name="thickness",
                        words=f"The spline in the {name} is {{figure}} thick, {{share}} of its thickness.",
                        rule="a spline: a sixth to a third of the thickness",
                        high=wood * Fraction(7, 20),
                        most=wood / 2,
                        mend_high="Make the spline {high} thick or less.",
                        source=CUSTOM,
                    )
                )
        return tuple(found)


def bend_of(insert: Part, receiver: Part, overlap: Box) -> Bend | None:
    """The corner that two parts form, both running to its outside; None where they form none."""
    lies_flat = insert.thickness is receiver.thickness
    run = (
        insert.thickness
        if lies_flat
        else next(axis for axis in Axis if axis not in (insert.thickness, receiver.thickness))
    )
    for axis in run.others():
        other = next(one for one in run.others() if one is not axis)
        # Along the one axis the insert ends there and the receiver lies across it, along the other it is the other way round.
        end, second = _end(insert, receiver, axis, overlap), _end(receiver, insert, other, overlap)
        if end is not None and second is not None:
            return Bend(end, second, run, overlap)
    return None


def _end(part: Part, across: Part, axis: Axis, overlap: Box) -> Face | None:
    """The end at which a part runs to the outside of another that lies across it, and no farther."""
    span = overlap.span(axis)
    if across.seen.span(axis) != span:
        return None
    if part.seen.span(axis) == span:
        # A returned end is no longer than the moulding is thick: its mitre opens to the side to which that shows its profile.
        return show_face(across.section, axis) if across.section is not None and across.thickness is axis else None
    return next((face for face in (axis.low, axis.high) if part.seen.face(face) == overlap.face(face)), None)


def _bend(meeting: Meeting) -> Bend:
    assert meeting.overlap is not None
    found = bend_of(meeting.insert, meeting.receiver, meeting.overlap)
    assert found is not None
    return found


def _spline_problems(meeting: Meeting, bend: Bend, terms: Terms, thickness: Length, depth: Length) -> list[Diagnostic]:
    p, q = (side.mm for side in bend.sides)
    size = hypot(p, q)
    if bend.run is meeting.insert.thickness:
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


def _slot(meeting: Meeting, bend: Bend, terms: Terms, thickness: Length, depth: Length, joint: str) -> OutlineCut:
    """The slot for a spline, square to the mitre, as one outline over both parts."""
    p, q = (side.mm for side in bend.sides)
    size = hypot(p, q)
    along = (p / size * bend.end.side, q / size * bend.other.side)
    across = (q / size * bend.end.side, -p / size * bend.other.side)
    inner = tuple(value.mm for value in bend.inner)
    flat = bend.run is meeting.insert.thickness
    if flat:
        # In a frame the slot lies level with the faces, along the whole mitre.
        low, high = -size * 0.25, size * 1.25
        middle = bend.overlap.span(bend.run).middle
        span, opened = Span(middle - thickness / 2, middle + thickness / 2), (bend.end, bend.other)
    else:
        middle_at = size * float(TOWARDS_INSIDE)
        low, high = middle_at - thickness.mm / 2, middle_at + thickness.mm / 2
        span, opened = bend.overlap.span(bend.run), (bend.run.low, bend.run.high)
    places = [
        {axis: inner[i] + along[i] * by + across[i] * off for i, axis in enumerate((bend.end.axis, bend.other.axis))}
        for by, off in ((low, -depth.mm), (high, -depth.mm), (high, depth.mm), (low, depth.mm))
    ]
    a, b = bend.run.others()
    corners = tuple(Corner(_kept(place[a]), _kept(place[b])) for place in places)
    into = bend.end if flat else bend.run.high
    return OutlineCut("spline slot", into, Outline(bend.run, corners), span, opened, False, joint, meeting.position)


def _slots(part: Part, joint: str) -> list[OutlineCut]:
    return [
        one for one in part.features if isinstance(one, OutlineCut) and one.kind == "spline slot" and one.joint == joint
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
