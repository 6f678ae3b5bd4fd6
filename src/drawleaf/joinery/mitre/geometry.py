"""Mitre: two parts meet at a corner along its diagonal. Flat (frames, mouldings lying down) or on edge (corners of a case); any corner ratio."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import hypot

from drawleaf.joinery.bend import Bend, bend_of
from drawleaf.joinery.family import Drive, LoosePiece, Meeting, Terms
from drawleaf.joinery.mitre import MITRE
from drawleaf.joinery.proportion import CUSTOM, Made, Proportion
from drawleaf.joinery.screws import Hold
from drawleaf.joinery.splines import slot_sizes, slots_of, spline_of, spline_problems, spline_slot
from drawleaf.joinery.wording import say
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.joint_family import CutKind, JointFamily
from drawleaf.model.place import Axis, Box, Face, Span
from drawleaf.model.plan import Joint, Part
from drawleaf.model.shapes import OutlineCut, PlaneCut, Vector
from drawleaf.units import ZERO, Length


@dataclass(frozen=True, slots=True)
class Mitre:
    """Both parts run to the outside of the corner; a plane through its inner and outer edge parts them. Its bodies keep their drawn
    lengths: a length on the cut list is measured from long point to long point."""

    facts: JointFamily = MITRE

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
                    "A mitre lets nothing in, so it has no “depth”, “clearance” or “stopped”",
                    meeting.position,
                    mend="Leave them out. A strip across the mitre is a “spline: {thickness: 1/8, depth: 3/8}”.",
                )
            )
        if terms.spline is not None:
            found += spline_problems(meeting, bend, terms, *terms.spline)
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
            (meeting.insert.id, PlaneCut(CutKind.MITRE, bend.end, point, first, joint, meeting.position)),
            (meeting.receiver.id, PlaneCut(CutKind.MITRE, bend.other, point, second, joint, meeting.position)),
        ]
        if terms.spline is not None:
            slot = spline_slot(meeting, bend, terms, joint)
            made += [(part.id, slot) for part in (meeting.insert, meeting.receiver)]
        return tuple(made)

    def pieces(self, meeting: Meeting, terms: Terms, joint: Joint) -> tuple[LoosePiece, ...]:
        """The spline, where there is one."""
        return () if terms.spline is None else (spline_of(meeting, _bend(meeting), terms, joint),)

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
            for slot in slots_of(part, made.joint.id):
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


def _bend(meeting: Meeting) -> Bend:
    assert meeting.overlap is not None
    found = bend_of(meeting.insert, meeting.receiver, meeting.overlap)
    assert found is not None
    return found
