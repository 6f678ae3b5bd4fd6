"""Hours at the bench and hours of waiting. Minutes of each kind of work are in ``shared/methods``."""

from __future__ import annotations

from drawleaf.model.catalogue import GLUE, Catalogue

BASIS = (
    "Our own estimate for one careful person who is new to it, not a measurement: so many minutes to set up each kind of work and so "
    "many for each piece, plus the waits that glue and finish ask for."
)
HOURS_A_DAY = 5.0

WAIT_PANEL = 24.0
"""A glued panel rests a day before it is planed or cut: the seams have taken up water. Common practice, no source."""
WAIT_CLAMPED = 1.0
WAIT_OVERNIGHT = 12.0
OPEN_MINUTES = 5.0
"""What a PVA glue asks for where the catalogue does not say. Common practice, no source."""


def clamp_hours(catalogue: Catalogue) -> float:
    """Hours that glue stays in the clamps."""
    glue = catalogue.consumables.get(GLUE)
    return (glue.clamp_hours if glue else None) or WAIT_CLAMPED


def load_hours(catalogue: Catalogue) -> float:
    """Hours until a glued joint may be loaded or sanded across."""
    glue = catalogue.consumables.get(GLUE)
    return (glue.load_hours if glue else None) or WAIT_OVERNIGHT


def open_minutes(catalogue: Catalogue) -> float:
    """Minutes that one has from spreading the glue to closing the joint."""
    glue = catalogue.consumables.get(GLUE)
    return (glue.open_minutes if glue else None) or OPEN_MINUTES
