"""Half lap: two parts that cross or meet in one plane, each let into the other by half of its thickness. T, L and X alike."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from drawleaf.joinery.bench import BenchWork
from drawleaf.joinery.channel import broken_through
from drawleaf.joinery.family import Drive, Meeting, Terms, along_joint
from drawleaf.joinery.flat import flat_problems
from drawleaf.joinery.half_lap import HALF_LAP
from drawleaf.joinery.half_lap.bench import LAP
from drawleaf.joinery.proportion import Made, Proportion
from drawleaf.joinery.wording import say
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.joint_family import CutKind, JointFamily
from drawleaf.model.place import Axis, Box, Face, Span
from drawleaf.model.plan import BoxCut, Part
from drawleaf.units import ZERO, Length

_UPPER = {Axis.X: Face.RIGHT, Axis.Y: Face.FRONT, Axis.Z: Face.TOP}
"""The side on which the first part lies where the line does not say, and it lies as deep in the other on both sides: where one sees it."""


@dataclass(frozen=True, slots=True)
class HalfLap:
    """Both parts are drawn full length, through one another. The first lies on the side ``on``; ``depth`` is what the second loses,
    half of what they share unless given."""

    facts: JointFamily = HALF_LAP
    bench: tuple[BenchWork, ...] = (LAP,)

    def meets(self, insert: Part, receiver: Part, overlap: Box, terms: Terms) -> tuple[Face, Box] | None:
        axis = insert.thickness
        upper = self._upper(insert, receiver, terms)
        plane = _plane(overlap, upper, terms)
        return upper.opposite, overlap.with_span(axis, Span(plane, plane))

    def _upper(self, insert: Part, receiver: Part, terms: Terms) -> Face:
        if terms.on is not None and terms.on.axis is insert.thickness:
            return terms.on
        usual = _UPPER[insert.thickness]
        # Where it is flush on one side, that is the side: on the other the thicker part would lose nearly all of its wood.
        return min((usual, usual.opposite), key=lambda side: _stands_back(insert, receiver, side))

    def problems(self, meeting: Meeting, terms: Terms) -> tuple[Diagnostic, ...]:
        insert = meeting.insert
        assert meeting.overlap is not None
        shared = meeting.overlap.extent(insert.thickness)
        mend = "A half lap joins parts that lie flat on the same side. Use “dado”, “bridle” or “mortise_and_tenon”."
        found = list(flat_problems(meeting, mend, terms.unit))
        if terms.on is not None and terms.on.axis is not insert.thickness:
            sides = f"“{insert.thickness.low.value}” or “{insert.thickness.high.value}”"
            found.append(
                Diagnostic(
                    "lap-side",
                    f"A lap of “{insert.id}” lies on {sides}",
                    meeting.position,
                    mend=f"Write “on:” {sides}.",
                )
            )
        if not ZERO <= terms.depth < shared:
            found.append(
                Diagnostic(
                    "too-deep",
                    f"A lap {say(terms.depth, terms.unit)} deep leaves nothing; the parts share {say(shared, terms.unit)}",
                    meeting.position,
                    mend=f"Half is usual: {say(shared / 2, terms.unit)}.",
                )
            )
        return tuple(found)

    def growth(self, meeting: Meeting, terms: Terms) -> Length:
        return ZERO

    def cuts(self, meeting: Meeting, terms: Terms, joint: str) -> tuple[tuple[str, BoxCut], ...]:
        overlap, lower = meeting.overlap, meeting.face
        assert overlap is not None
        axis, plane = lower.axis, meeting.contact.span(lower.axis).low
        insert, receiver = meeting.insert, meeting.receiver
        below = Span.between(plane, insert.body.face(lower))
        above = Span.between(plane, receiver.body.face(lower.opposite))
        return tuple(
            (part.id, BoxCut(CutKind.LAP, box, into, broken_through(box, part.body, into), joint, meeting.position))
            for part, box, into in (
                (insert, overlap.with_span(axis, below), lower),
                (receiver, overlap.with_span(axis, above), lower.opposite),
            )
        )

    def drive(self, meeting: Meeting, through: Part | None) -> Drive:
        return along_joint(meeting, through or meeting.insert)

    def proportions(self, made: Made) -> tuple[Proportion, ...]:
        found = []
        upper = made.joint.face.opposite
        turned = _stands_back(made.insert, made.receiver, upper) > _stands_back(
            made.insert, made.receiver, upper.opposite
        )
        for part in (made.insert, made.receiver):
            deep = max((cut.box.extent(part.thickness) for cut in made.cuts(part)), default=None)
            wood = part.body.extent(part.thickness)
            name = "{insert}" if part is made.insert else "{receiver}"
            if deep is not None:
                found.append(
                    Proportion(
                        name="depth of the lap",
                        figure=deep,
                        of=wood,
                        of_name="thickness",
                        words=f"The lap takes {{figure}} of the {{of}} of the {name}: {{share}}.",
                        rule="a lap takes half of each part, at most two thirds",
                        high=wood * Fraction(2, 3),
                        most=wood * Fraction(17, 20),
                        mend_high="Leave out “on”: the lap then lies on the side where the two are flush."
                        if turned
                        else "Leave out “depth”, so that each loses half.",
                    )
                )
        return tuple(found)


def _stands_back(insert: Part, receiver: Part, side: Face) -> Length:
    """How far the insert lies below the receiver on that side; less than nothing where it stands out."""
    return (receiver.seen.face(side) - insert.seen.face(side)) * side.side


def _plane(overlap: Box, upper: Face, terms: Terms) -> Length:
    """Where the two halves meet."""
    depth = terms.depth or overlap.extent(upper.axis) / 2
    return overlap.face(upper) - depth * upper.side
