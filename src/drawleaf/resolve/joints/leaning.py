"""Which families follow a part that leans, and what a housing is for one that stands straight."""

from __future__ import annotations

from drawleaf.joinery.family import Family, Meeting, Slanted, Straightened
from drawleaf.model.diagnostic import Diagnostic


def as_meant(family: Family, meetings: list[Meeting]) -> Family:
    """Dado and housing are two words for one joint: what is cut follows from whether the part leans, not from the word."""
    if any(meeting.leaning is not None for meeting in meetings):
        return family.slanted if isinstance(family, Slanted) else family
    return family.straight if isinstance(family, Straightened) else family


def cannot_lean(family: Family, meeting: Meeting) -> tuple[Diagnostic, ...]:
    """What is reported where a part leans and the family knows square joints only."""
    if meeting.leaning is None or family.facts.leans:
        return ()
    return (
        Diagnostic(
            "leaning-joint",
            f"“{meeting.insert.id}” and “{meeting.receiver.id}” cannot be joined by “{family.facts.key}”, because one of them leans",
            meeting.position,
            "This joint is laid out square to the piece.",
            "Use “butt”, whose end is cut to lie flat and may be held with dowels, “round_tenon” for a round end in a hole, or “dado” (“housing”) for a part that leans along the face.",
        ),
    )
