"""Butt joint: two parts meet face to face; nothing is let in."""

from __future__ import annotations

from dataclasses import dataclass

from drawleaf.joinery.butt import BUTT
from drawleaf.joinery.family import Drive, Meeting, Terms, along_joint, broad_side
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.joint_family import JointFamily
from drawleaf.model.plan import BoxCut, Part
from drawleaf.units import ZERO, Length


@dataclass(frozen=True, slots=True)
class Butt:
    """Parts keep the sizes that the author drew."""

    facts: JointFamily = BUTT

    def problems(self, meeting: Meeting, terms: Terms) -> tuple[Diagnostic, ...]:
        if not terms.depth and not terms.play and not terms.stopped:
            return ()
        return (
            Diagnostic(
                "butt-with-depth",
                "A butt joint lets nothing in, so it has no “depth”, “clearance” or “stopped”",
                meeting.position,
                mend="Leave them out, or use “dado”, “groove” or “rabbet”.",
            ),
        )

    def growth(self, meeting: Meeting, terms: Terms) -> Length:
        return ZERO

    def cuts(self, meeting: Meeting, terms: Terms, joint: str) -> tuple[tuple[str, BoxCut], ...]:
        return ()

    def drive(self, meeting: Meeting, through: Part | None) -> Drive:
        return along_joint(meeting, through or broad_side(meeting))
