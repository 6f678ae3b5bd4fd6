"""Which families follow a part that leans, and what a housing is for one that stands straight."""

from __future__ import annotations

from drawleaf.joinery import LEANING, family_of
from drawleaf.joinery.family import Family, Meeting
from drawleaf.model.diagnostic import Diagnostic


def as_meant(family: Family, meetings: list[Meeting]) -> Family:
    """A housing that takes a part standing straight is what is called a dado here; in Britain both have one name."""
    straight = family.key == "housing" and all(meeting.leaning is None for meeting in meetings)
    return family_of("dado") if straight else family


def cannot_lean(family: Family, meeting: Meeting) -> tuple[Diagnostic, ...]:
    """What is told where a part leans and the family knows square joints only."""
    if meeting.leaning is None or family.key in LEANING:
        return ()
    return (
        Diagnostic(
            "leaning-joint",
            f"“{meeting.insert.id}” and “{meeting.receiver.id}” cannot be joined by “{family.key}”, because one of them leans",
            meeting.position,
            "This joint is laid out square to the piece.",
            "Use “butt”, whose end is cut to lie flat, or “housing” for a part that leans along the face.",
        ),
    )
