"""Rabbet: a step along the edge of a part, in which another part lies flush."""

from __future__ import annotations

from dataclasses import dataclass

from drawleaf.joinery.channel import STEP, channel_cuts, channel_proportions, depth_problems, stop_problems
from drawleaf.joinery.family import Drive, Meeting, Terms, along_joint
from drawleaf.joinery.proportion import Made, Proportion
from drawleaf.joinery.rabbet import RABBET
from drawleaf.joinery.wording import say
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.joint_family import CutKind, JointFamily
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import BoxCut, Part
from drawleaf.units import Length


@dataclass(frozen=True, slots=True)
class Rabbet:
    """The insert grows by the depth; the step lies open at the receiver's edge. Depth half to two thirds of the thickness: common
    practice, no source."""

    facts: JointFamily = RABBET

    def problems(self, meeting: Meeting, terms: Terms) -> tuple[Diagnostic, ...]:
        found = depth_problems(meeting, terms, self.facts.noun)
        if not meeting.edge_on:
            return found
        found += stop_problems(meeting, terms)
        if terms.play:
            found += (
                Diagnostic(
                    "clearance-in-rabbet", "A rabbet has no “clearance”", meeting.position, mend="Leave it out."
                ),
            )
        return found + _not_at_edge(meeting, terms)

    def growth(self, meeting: Meeting, terms: Terms) -> Length:
        return terms.depth

    def cuts(self, meeting: Meeting, terms: Terms, joint: str) -> tuple[tuple[str, BoxCut], ...]:
        return channel_cuts(meeting, terms, CutKind.RABBET, joint)

    def proportions(self, made: Made) -> tuple[Proportion, ...]:
        return channel_proportions(made, self.facts.noun, STEP)

    def drive(self, meeting: Meeting, through: Part | None) -> Drive:
        """A thin panel is fastened through its own face onto the ledge; else through the receiver into the insert's end."""
        edge = edge_of(meeting)
        insert, receiver = meeting.insert, meeting.receiver
        thinner = insert if insert.stock.thickness < receiver.stock.thickness else receiver
        chosen = through or thinner
        if chosen.id == insert.id and edge is not None:
            return Drive(insert, receiver, edge)
        return along_joint(meeting, chosen)


def edge_of(meeting: Meeting) -> Face | None:
    """The receiver's face that the insert lies flush with, or None."""
    across: Axis = meeting.insert.thickness
    for face in (across.low, across.high):
        if meeting.insert.seen.face(face) == meeting.receiver.seen.face(face):
            return face
    return None


def _not_at_edge(meeting: Meeting, terms: Terms) -> tuple[Diagnostic, ...]:
    if edge_of(meeting) is not None:
        return ()
    across = meeting.insert.thickness
    insert, receiver = meeting.insert, meeting.receiver
    away = {
        face: (insert.seen.face(face) - receiver.seen.face(face)) * -face.side for face in (across.low, across.high)
    }
    face, distance = min(away.items(), key=lambda item: abs(item[1]))
    where = f"{say(abs(distance), terms.unit)} {'inside' if distance.exact_mm > 0 else 'beyond'} the {face.value}"
    return (
        Diagnostic(
            "rabbet-off-edge",
            f"“{insert.id}” does not lie at an edge of “{receiver.id}”: it is {where} of it",
            meeting.position,
            "A rabbet is a step along an edge; the part in it lies flush with that edge.",
            f"Bring the {face.value} faces to the same place, or use “dado” or “groove”.",
        ),
    )
