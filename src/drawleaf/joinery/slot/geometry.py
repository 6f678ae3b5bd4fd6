"""Slot: how a loose piece, such as a spline, sits in the parts that it holds together. No line of a source asks for it: a mitre brings it."""

from __future__ import annotations

from dataclasses import dataclass

from drawleaf.joinery.family import Drive, Meeting, Terms, along_joint
from drawleaf.joinery.slot import SLOT
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.joint_family import JointFamily
from drawleaf.model.plan import Feature, Part
from drawleaf.units import Length


@dataclass(frozen=True, slots=True)
class Slot:
    """The family of the joints of loose pieces. The joint that brings the piece cuts its slot."""

    facts: JointFamily = SLOT

    def problems(self, meeting: Meeting, terms: Terms) -> tuple[Diagnostic, ...]:
        return ()

    def growth(self, meeting: Meeting, terms: Terms) -> Length:
        return terms.depth

    def cuts(self, meeting: Meeting, terms: Terms, joint: str) -> tuple[tuple[str, Feature], ...]:
        return ()

    def drive(self, meeting: Meeting, through: Part | None) -> Drive:
        return along_joint(meeting, through or meeting.receiver)
