"""Bevels: a chamfer that takes the whole thickness of a board along its length is ripped with the saw at 45 degrees, not run with a bit."""

from __future__ import annotations

from fractions import Fraction

from drawleaf.model.plan import EdgeProfile, Part
from drawleaf.units import Length

HAIR = Length.of_inches(Fraction(1, 16))
"""So much of a flat may be left at the thin side."""


def is_bevel(part: Part, profile: EdgeProfile) -> bool:
    """Whether a chamfer runs along the part and through its whole thickness."""
    axes = {face.axis for face in profile.edge}
    along = part.length_axis not in axes and part.thickness in axes
    return profile.kind == "chamfer" and along and profile.size >= part.body.extent(part.thickness) - HAIR
