"""Dado: a channel across a part that takes the whole thickness of another."""

from __future__ import annotations

from dataclasses import dataclass

from drawleaf.joinery.channel import TRENCH, channel_cuts, channel_proportions, depth_problems, stop_problems
from drawleaf.joinery.dado import DADO
from drawleaf.joinery.family import Drive, Family, Meeting, Terms, along_joint, broad_side
from drawleaf.joinery.proportion import Made, Proportion
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.joint_family import JointFamily
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
        deep = depth_problems(meeting, terms, self.facts.key)
        return deep + _no_play(meeting, terms) + (stop_problems(meeting, terms) if meeting.edge_on else ())

    def growth(self, meeting: Meeting, terms: Terms) -> Length:
        return terms.depth

    def cuts(self, meeting: Meeting, terms: Terms, joint: str) -> tuple[tuple[str, BoxCut], ...]:
        return channel_cuts(meeting, terms, self.facts.key, joint)

    def proportions(self, made: Made) -> tuple[Proportion, ...]:
        return channel_proportions(made, self.facts.key, TRENCH)

    def drive(self, meeting: Meeting, through: Part | None) -> Drive:
        return along_joint(meeting, through or broad_side(meeting))


def _no_play(meeting: Meeting, terms: Terms) -> tuple[Diagnostic, ...]:
    if not terms.play:
        return ()
    return (
        Diagnostic(
            "clearance-in-dado",
            "A part bottoms out in its dado, so there is no “clearance”",
            meeting.position,
            mend="Leave it out, or use “groove”, in which a panel may move.",
        ),
    )
