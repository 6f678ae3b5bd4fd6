"""Tongue: the edge of one part, thinned on one or both faces, enters a groove or dado that is narrower than its wood.

Between boards it is tongue and groove. At the end of a drawer's front, with the tongue at one face (``offset: {back: 0}``), it is the
rabbet-and-dado corner.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from drawleaf.joinery.channel import broken_through, channel_run, depth_problems, stop_problems, tongue_notches
from drawleaf.joinery.family import Drive, Meeting, Terms, along_joint, broad_side
from drawleaf.joinery.proportion import Made, Proportion, thinned
from drawleaf.joinery.tenons import floored, grown_box, nearest_chisel
from drawleaf.joinery.tongue import TONGUE
from drawleaf.joinery.wording import say
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.joint_family import CutKind, JointFamily
from drawleaf.model.place import Face, Span
from drawleaf.model.plan import BoxCut, Part
from drawleaf.units import Length

_STEP = {"in": Length.of_inches(Fraction(1, 16)), "mm": Length.of_mm(1)}


@dataclass(frozen=True, slots=True)
class Tongue:
    """The tongue is a third as thick as its wood, to the nearest bit, and as long as it is thick unless ``depth`` says so (common
    practice, no source). ``play`` is room at the bottom of the groove."""

    facts: JointFamily = TONGUE

    def problems(self, meeting: Meeting, terms: Terms) -> tuple[Diagnostic, ...]:
        if not meeting.edge_on:
            return depth_problems(meeting, terms, TONGUE.noun)
        told = _told(meeting, terms)
        found = depth_problems(meeting, told, TONGUE.noun) + stop_problems(meeting, told)
        room, tongue = meeting.insert.seen.span(meeting.insert.thickness), tongue_span(meeting, terms)
        if tongue.low < room.low or tongue.high > room.high:
            found += (
                Diagnostic(
                    "tenon-too-thick",
                    f"A tongue {say(tongue.extent, terms.unit)} thick does not stay within “{meeting.insert.id}”, which is {say(room.extent, terms.unit)} thick",
                    meeting.position,
                    mend=f"A third of the thickness is usual: {say(room.extent / 3, terms.unit)}. Look at “offset” too.",
                ),
            )
        if told.play.exact_mm < 0 or (told.play and told.play >= told.depth):
            found += (
                Diagnostic(
                    "clearance-out-of-range",
                    f"{say(told.play, terms.unit)} of clearance in a groove {say(told.depth, terms.unit)} deep leaves no tongue",
                    meeting.position,
                    mend="1/32 in to 1/16 in will do.",
                ),
            )
        return found

    def growth(self, meeting: Meeting, terms: Terms) -> Length:
        return _told(meeting, terms).depth - terms.play

    def cuts(self, meeting: Meeting, terms: Terms, joint: str) -> tuple[tuple[str, BoxCut], ...]:
        told, tongue, insert = _told(meeting, terms), tongue_span(meeting, terms), meeting.insert
        across = insert.thickness
        body, end = insert.body.span(across), grown_box(meeting)
        found: list[tuple[str, BoxCut]] = []
        for side, span in (
            (across.low, Span(body.low, tongue.low)),
            (across.high, Span(tongue.high, body.high)),
        ):
            if span.extent.exact_mm > 0:
                found.append(_cut(insert, CutKind.TONGUE, end.with_span(across, span), side, joint, meeting))
        along = channel_run(meeting, told)
        found += tongue_notches(meeting, told, along, joint)
        receiver, into = meeting.receiver, meeting.face.opposite
        surface = receiver.seen.face(into)
        floor = surface - told.depth * into.side
        void = receiver.body.with_span(meeting.axis, Span.between(surface, floor))
        void = void.with_span(meeting.run, along).with_span(across, tongue)
        kind = CutKind.GROOVE if receiver.grain in (meeting.run, None) else CutKind.DADO
        return (*found, _cut(receiver, kind, void, into, joint, meeting))

    def proportions(self, made: Made) -> tuple[Proportion, ...]:
        channels = [cut for cut in made.cuts(made.receiver) if cut.kind in (CutKind.GROOVE, CutKind.DADO)]
        if not channels:
            return ()
        across = made.insert.thickness
        thick, wood = channels[0].box.extent(across), made.insert.seen.extent(across)
        depth, receiver = channels[0].box.extent(made.joint.face.axis), made.receiver.body.extent(made.joint.face.axis)
        return (
            thinned(CutKind.TONGUE, thick, wood),
            Proportion(
                name="depth of the groove",
                figure=depth,
                of=receiver,
                of_name="thickness" if made.joint.face.axis is made.receiver.thickness else "width",
                words="The groove for the tongue of the {insert} goes {figure} into {of} of the {receiver}: {share}.",
                rule="a groove for a tongue takes at most half of the wood",
                high=receiver * Fraction(11, 20),
                most=receiver * Fraction(3, 4),
                mend_high="Make “depth” no more than {high}.",
            ),
        )

    def drive(self, meeting: Meeting, through: Part | None) -> Drive:
        return along_joint(meeting, through or broad_side(meeting))


def tongue_span(meeting: Meeting, terms: Terms) -> Span:
    """From where to where the tongue reaches across the thickness of its part."""
    room = meeting.insert.seen.span(meeting.insert.thickness)
    thick = terms.thickness or nearest_chisel(room.extent / 3, terms)
    for face, distance in terms.offset:
        if face.axis is meeting.insert.thickness:
            edge = room.end(face.side) - distance * face.side
            return Span(edge, edge + thick) if face.side < 0 else Span(edge - thick, edge)
    return Span(room.middle - thick / 2, room.middle + thick / 2)


def _told(meeting: Meeting, terms: Terms) -> Terms:
    """The terms with a depth: as thick as the tongue, to a round figure, where none was given."""
    if terms.depth:
        return terms
    deep = max(floored(tongue_span(meeting, terms).extent, _STEP[terms.unit]), _STEP[terms.unit] * 2)
    return replace(terms, depth=deep + terms.play)


def _cut(part: Part, kind: str, box, into: Face, joint: str, meeting: Meeting) -> tuple[str, BoxCut]:
    return part.id, BoxCut(kind, box, into, broken_through(box, part.body, into), joint, meeting.position)
