"""Dado: a channel across a part that takes the whole thickness of another."""

from __future__ import annotations

from dataclasses import dataclass

from drawleaf.joinery.channel import TRENCH, channel_cuts, channel_proportions, depth_problems, no_play, stop_problems
from drawleaf.joinery.dado import DADO
from drawleaf.joinery.family import Drive, Family, Meeting, Terms, along_joint, broad_side
from drawleaf.joinery.proportion import Made, Proportion
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.joint_family import CutKind, JointFamily
from drawleaf.model.plan import BoxCut, Part
from drawleaf.units import Length


@dataclass(frozen=True, slots=True)
class Dado:
    """The insert grows by the depth and bottoms out. Depth a third of the thickness, at most half: common practice, no source."""

    facts: JointFamily = DADO

    @property
    def slanted(self) -> Family:
        """For a part that leans the channel lies at its slope: what is cut is a housing's, which builds on this module."""
        from drawleaf.joinery.housing.geometry import Housing

        return Housing()

    def problems(self, meeting: Meeting, terms: Terms) -> tuple[Diagnostic, ...]:
        deep = depth_problems(meeting, terms, self.facts.noun)
        return (
            deep
            + no_play(meeting, terms, "A part", self.facts.noun)
            + (stop_problems(meeting, terms) if meeting.edge_on else ())
        )

    def growth(self, meeting: Meeting, terms: Terms) -> Length:
        return terms.depth

    def cuts(self, meeting: Meeting, terms: Terms, joint: str) -> tuple[tuple[str, BoxCut], ...]:
        return channel_cuts(meeting, terms, CutKind.DADO, joint)

    def proportions(self, made: Made) -> tuple[Proportion, ...]:
        return channel_proportions(made, self.facts.noun, TRENCH)

    def drive(self, meeting: Meeting, through: Part | None) -> Drive:
        return along_joint(meeting, through or broad_side(meeting))
