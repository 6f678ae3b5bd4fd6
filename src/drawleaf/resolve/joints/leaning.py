"""Which families follow a part that leans, and what a housing is for one that stands straight."""

from __future__ import annotations

from drawleaf.joinery.family import Family, Meeting, Straightened
from drawleaf.model.diagnostic import Diagnostic


def as_meant(family: Family, meetings: list[Meeting]) -> Family:
    """A family whose parts lean is another one where they stand straight: a housing then is a dado."""
    straight = isinstance(family, Straightened) and all(meeting.leaning is None for meeting in meetings)
    return family.straight if straight and isinstance(family, Straightened) else family


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
            "Use “butt”, whose end is cut to lie flat and may be held with dowels, or “housing” for a part that leans along the face.",
        ),
    )
