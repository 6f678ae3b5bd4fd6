"""Box joint: straight fingers at a corner, those of one part in the gaps of the other."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from drawleaf.joinery.bench import BenchWork, Note
from drawleaf.joinery.box_joint import BOX_JOINT
from drawleaf.joinery.box_joint.bench import FINGERS, finger_width
from drawleaf.joinery.channel import broken_through
from drawleaf.joinery.corner import Corner, corner_at, corner_meets, corner_problems, corner_run
from drawleaf.joinery.family import Drive, Meeting, Terms, along_joint
from drawleaf.joinery.proportion import Made, Proportion
from drawleaf.joinery.tenons import CHISELS, nearest_chisel
from drawleaf.joinery.wording import say
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.joint_family import CutKind, JointFamily
from drawleaf.model.place import Box, Face, Span
from drawleaf.model.plan import BoxCut, Joint, Part, Plan
from drawleaf.units import ZERO, Length


@dataclass(frozen=True, slots=True)
class BoxJoint:
    """Both parts are drawn to the outside of the corner. The first part has a finger at the lower edge. ``pitch`` is the width of a
    finger, as wide as the thinner wood unless given (common practice, no source); with ``count`` they share the width evenly."""

    facts: JointFamily = BOX_JOINT
    bench: tuple[BenchWork, ...] = (FINGERS,)

    def meets(self, insert: Part, receiver: Part, overlap: Box, terms: Terms) -> tuple[Face, Box] | None:
        return corner_meets(insert, receiver, overlap)

    def problems(self, meeting: Meeting, terms: Terms) -> tuple[Diagnostic, ...]:
        found = corner_problems(meeting, self.facts.title, through=True)
        if found:
            return found
        corner = corner_at(meeting)
        whole, step = corner.overlap.extent(corner.run), _finger_width(corner, meeting, terms)
        finest = CHISELS[terms.unit][0]
        if step >= whole:
            message = f"A corner {say(whole, terms.unit)} wide has no room for fingers"
            return (Diagnostic("no-fingers", message, meeting.position, mend="Make “finger_width” smaller."),)
        if step < finest:
            cause = f"No bit or chisel is narrower than {say(finest, terms.unit)}."
            mend = (
                f"Make “finger_width” {say(finest, terms.unit)} or more."
                if not terms.count
                else "Make “count” smaller."
            )
            message = f"Fingers {say(step, terms.unit)} wide are too fine to cut"
            return (Diagnostic("no-fingers", message, meeting.position, cause=cause, mend=mend),)
        return ()

    def growth(self, meeting: Meeting, terms: Terms) -> Length:
        return ZERO

    def cuts(self, meeting: Meeting, terms: Terms, joint: str) -> tuple[tuple[str, BoxCut], ...]:
        corner = corner_at(meeting)
        found: list[tuple[str, BoxCut]] = []
        for number, span in enumerate(fingers(corner, meeting, terms)):
            part, into = (meeting.receiver, corner.receiver_end) if number % 2 == 0 else (meeting.insert, corner.face)
            box = corner.overlap.with_span(corner.run, span)
            opened = broken_through(box, part.body, into)
            found.append((part.id, BoxCut(CutKind.FINGER, box, into, opened, joint, meeting.position)))
        return tuple(found)

    def details(self, plan: Plan, joint: Joint) -> tuple[Note, ...]:
        return finger_width(plan, joint)

    def drive(self, meeting: Meeting, through: Part | None) -> Drive:
        return along_joint(meeting, through or meeting.receiver)

    def proportions(self, made: Made) -> tuple[Proportion, ...]:
        cuts = [cut for cut in made.cuts(made.insert) if cut.kind == CutKind.FINGER]
        if not cuts:
            return ()
        run = corner_run(made.insert, made.receiver)
        widths = [cut.box.extent(run) for part in (made.insert, made.receiver) for cut in made.cuts(part)]
        whole = max(widths)
        wood = min(made.insert.stock.thickness, made.receiver.stock.thickness)
        rest = min(widths)
        found = [
            Proportion(
                name="width of a finger",
                figure=whole,
                of=wood,
                of_name="thickness",
                words="The fingers of the {insert} are {figure} wide, in wood {of} thick.",
                rule="a finger is half as wide as the wood is thick, up to twice that",
                low=wood * Fraction(2, 5),
                high=wood * 2,
                mend_low="Make “finger_width” {low} or more: thin fingers break.",
                mend_high="Make “finger_width” no more than {high}: broad fingers have little side grain to glue.",
            )
        ]
        if rest < whole:
            found.append(
                Proportion(
                    name="the last finger",
                    figure=rest,
                    of=whole,
                    of_name="width of a finger",
                    words="The last finger of the corner of {insert} and {receiver} is {figure} wide, the others {of}.",
                    rule="the last finger is at least half as wide as the others",
                    low=whole / 2,
                    mend_low="Make the parts a whole number of fingers wide, or choose another “finger_width”.",
                )
            )
        return tuple(found)


def _finger_width(corner: Corner, meeting: Meeting, terms: Terms) -> Length:
    if terms.count:
        return corner.overlap.extent(corner.run) / terms.count
    thin = min(meeting.insert.stock.thickness, meeting.receiver.stock.thickness)
    return terms.pitch or nearest_chisel(thin, terms)


def fingers(corner: Corner, meeting: Meeting, terms: Terms) -> tuple[Span, ...]:
    """The spans of all fingers along the corner, from its low end; even ones are the insert's."""
    whole, step = corner.overlap.span(corner.run), _finger_width(corner, meeting, terms)
    number = whole.extent.ratio(step).__ceil__()
    return tuple(Span(whole.low + step * i, min(whole.low + step * (i + 1), whole.high)) for i in range(number))
