"""Slot: how a loose piece, such as a spline, sits in the parts that it holds together. No line of a source asks for it: a mitre brings it."""

from __future__ import annotations

from dataclasses import dataclass

from drawleaf.joinery.family import Drive, Meeting, Terms, Words, along_joint
from drawleaf.joinery.splines import SLOT_FAMILY
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.plan import Feature, Part
from drawleaf.units import Length

WORDS = Words("slot", "slots", "sits in a slot in")


@dataclass(frozen=True, slots=True)
class Slot:
    """The family of the joints of loose pieces. The joint that brings the piece cuts its slot."""

    key: str = SLOT_FAMILY
    let_in: bool = True
    words: Words = WORDS

    def problems(self, meeting: Meeting, terms: Terms) -> tuple[Diagnostic, ...]:
        return ()

    def growth(self, meeting: Meeting, terms: Terms) -> Length:
        return terms.depth

    def cuts(self, meeting: Meeting, terms: Terms, joint: str) -> tuple[tuple[str, Feature], ...]:
        return ()

    def drive(self, meeting: Meeting, through: Part | None) -> Drive:
        return along_joint(meeting, through or meeting.receiver)
