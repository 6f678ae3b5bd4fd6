"""Groove: a channel that a panel rides in, with room at the bottom for it to move."""

from __future__ import annotations

from dataclasses import dataclass

from drawleaf.joinery.channel import TRENCH, channel_cuts, channel_proportions, depth_problems, stop_problems
from drawleaf.joinery.family import Drive, Meeting, Terms, along_joint, broad_side
from drawleaf.joinery.groove import GROOVE
from drawleaf.joinery.proportion import Made, Proportion
from drawleaf.joinery.wording import say
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.joint_family import CutKind, JointFamily
from drawleaf.model.plan import BoxCut, Part
from drawleaf.units import Length


@dataclass(frozen=True, slots=True)
class Groove:
    """The channel is as deep as ``depth`` says; the insert enters by that less the ``play``."""

    facts: JointFamily = GROOVE

    def problems(self, meeting: Meeting, terms: Terms) -> tuple[Diagnostic, ...]:
        found = depth_problems(meeting, terms, self.facts.noun)
        if meeting.edge_on:
            found += stop_problems(meeting, terms)
        if terms.play.exact_mm < 0 or (terms.play and terms.play >= terms.depth):
            play, depth = say(terms.play, terms.unit), say(terms.depth, terms.unit)
            found += (
                Diagnostic(
                    "clearance-out-of-range",
                    f"{play} of clearance in a groove {depth} deep leaves nothing to hold the panel",
                    meeting.position,
                    mend="1/32 in to 1/16 in will do for plywood.",
                ),
            )
        return found

    def growth(self, meeting: Meeting, terms: Terms) -> Length:
        return terms.depth - terms.play

    def cuts(self, meeting: Meeting, terms: Terms, joint: str) -> tuple[tuple[str, BoxCut], ...]:
        return channel_cuts(meeting, terms, CutKind.GROOVE, joint)

    def proportions(self, made: Made) -> tuple[Proportion, ...]:
        return channel_proportions(made, self.facts.noun, TRENCH)

    def drive(self, meeting: Meeting, through: Part | None) -> Drive:
        return along_joint(meeting, through or broad_side(meeting))
