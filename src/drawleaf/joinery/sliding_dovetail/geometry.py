"""The tail and the socket of a sliding dovetail, through or stopped."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from drawleaf.joinery.bench import BenchWork, Note
from drawleaf.joinery.channel import channel_run, depth_problems, no_play, stop_problems, tongue_notches
from drawleaf.joinery.family import Drive, Meeting, Terms, along_joint, broad_side
from drawleaf.joinery.prisms import BEYOND, prism
from drawleaf.joinery.proportion import Made, Proportion
from drawleaf.joinery.sliding_dovetail import SLIDING_DOVETAIL
from drawleaf.joinery.sliding_dovetail.bench import SOCKET, TAIL, WORKS, glued_end, section_of, size_line
from drawleaf.joinery.wording import say
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.joint_family import JointFamily
from drawleaf.model.place import Axis, Face, Span
from drawleaf.model.plan import Feature, Joint, Part, Plan
from drawleaf.units import Length

SLOPE = Fraction(1, 4)
"""Of a bit of 14 degrees, the usual one (its tangent is 0.249); 1/8 for one of 7 degrees. Common practice, no source."""
SHOULDER = {"in": Length.of_inches(Fraction(1, 32)), "mm": Length.of_mm(1)}
"""What is taken off each face of the tail at its widest, so that its edge is cut clean all along. Common practice, no source."""
LEAST_NECK = Fraction(1, 4)


@dataclass(frozen=True, slots=True)
class Tail:
    """The tail across its part's thickness: where it leaves the shoulder, and where it is widest."""

    neck: Span
    wide: Span


def tail_of(meeting: Meeting, terms: Terms) -> Tail:
    """As wide at its end as ``thickness`` says, else a shade less than its wood, in the middle of it."""
    room = meeting.insert.seen.span(meeting.insert.thickness)
    wide = terms.thickness or room.extent - SHOULDER[terms.unit] * 2
    lean = terms.depth * (terms.slope or SLOPE)
    low = room.middle - wide / 2
    return Tail(Span(low + lean, low + wide - lean), Span(low, low + wide))


@dataclass(frozen=True, slots=True)
class SlidingDovetail:
    """The first part grows by ``depth`` and keeps a tail there; ``slope`` is that of the bit, ``stopped`` the end that hides the socket."""

    facts: JointFamily = SLIDING_DOVETAIL
    bench: tuple[BenchWork, ...] = WORKS

    def problems(self, meeting: Meeting, terms: Terms) -> tuple[Diagnostic, ...]:
        found = depth_problems(meeting, terms, self.facts.title)
        if found or not meeting.edge_on:
            return found
        found += no_play(meeting, terms, "A tail", self.facts.noun)
        tail, wood = tail_of(meeting, terms), meeting.insert.seen.extent(meeting.insert.thickness)
        wide, neck = tail.wide.extent, tail.neck.extent
        if wide > wood or neck < wood * LEAST_NECK:
            found += (
                Diagnostic(
                    "no-neck",
                    f"A tail {say(wide, terms.unit)} wide and {say(terms.depth, terms.unit)} deep has no neck in “{meeting.insert.id}”, "
                    f"which is {say(wood, terms.unit)} thick",
                    meeting.position,
                    f"It is {say(neck, terms.unit)} wide at its shoulder."
                    if wide <= wood
                    else "It is wider than its wood.",
                    "Leave “thickness” out, make “depth” less, or write “slope: 1/8”.",
                ),
            )
        return found + stop_problems(meeting, terms)

    def growth(self, meeting: Meeting, terms: Terms) -> Length:
        return terms.depth

    def run_of(self, meeting: Meeting) -> Axis:
        return meeting.run

    def cuts(self, meeting: Meeting, terms: Terms, joint: str) -> tuple[tuple[str, Feature], ...]:
        insert, receiver, face = meeting.insert, meeting.receiver, meeting.face
        tail, along = tail_of(meeting, terms), channel_run(meeting, terms)
        shoulder = insert.seen.face(face)
        tip = shoulder + terms.depth * face.side
        body = insert.body.span(insert.thickness)
        before = shoulder - BEYOND * face.side
        after = tip + BEYOND * face.side
        mouth = [(before, tail.neck.high), (before, tail.neck.low), (shoulder, tail.neck.low), (tip, tail.wide.low)]
        mouth += [(tip, tail.wide.high), (shoulder, tail.neck.high)]
        run = meeting.run
        socket = prism(meeting, receiver, SOCKET, face.opposite, run, along, mouth, joint)
        low, high = body.low - BEYOND, body.high + BEYOND
        beside = [
            [(shoulder, low), (after, low), (after, tail.wide.low), (tip, tail.wide.low), (shoulder, tail.neck.low)],
            [
                (shoulder, high),
                (after, high),
                (after, tail.wide.high),
                (tip, tail.wide.high),
                (shoulder, tail.neck.high),
            ],
        ]
        whole = insert.body.span(run)
        sides = insert.thickness.low, insert.thickness.high
        cheeks = [
            prism(meeting, insert, TAIL, side, run, whole, points, joint)
            for points, side in zip(beside, sides, strict=True)
        ]
        notches = tongue_notches(meeting, terms, along, joint)
        return ((receiver.id, socket), *((insert.id, cheek) for cheek in cheeks), *notches)

    def proportions(self, made: Made) -> tuple[Proportion, ...]:
        section = section_of(made.receiver, made.joint)
        if section is None:
            return ()
        receiver = made.receiver.body.extent(made.joint.face.axis)
        wood = made.insert.seen.extent(made.insert.thickness)
        return (
            Proportion(
                name="depth of the socket",
                figure=section.deep,
                of=receiver,
                of_name="thickness",
                words="The socket for the tail of the {insert} goes {figure} into the {of} of the {receiver}: {share}.",
                rule="a sliding dovetail goes a third to half of the thickness deep",
                low=receiver * Fraction(1, 4),
                high=receiver * Fraction(11, 20),
                most=receiver * Fraction(3, 4),
                mend_low="Make “depth” {low} or more: a shallower tail hardly holds.",
                mend_high="Make “depth” no more than {high}: what is left behind the socket carries the {receiver}.",
            ),
            Proportion(
                name="neck of the tail",
                figure=section.neck,
                of=wood,
                of_name="thickness",
                words="The tail of the {insert} is {figure} wide at its shoulder, {share} of its thickness.",
                rule="the neck of a tail keeps half of the wood or more",
                low=wood * Fraction(9, 20),
                mend_low="Make “depth” less, or “slope” gentler (1/8), until the neck is {low} or more.",
            ),
        )

    def details(self, plan: Plan, joint: Joint) -> tuple[Note, ...]:
        return size_line(plan.part(joint.receiver), joint)

    def glued_span(self, plan: Plan, joint: Joint) -> tuple[Face, Span] | None:
        return glued_end(plan.part(joint.receiver), joint)

    def drive(self, meeting: Meeting, through: Part | None) -> Drive:
        return along_joint(meeting, through or broad_side(meeting))
