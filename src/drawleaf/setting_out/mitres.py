"""Mitred ends and edges as one saws them, and the slots of their splines."""

from __future__ import annotations

from fractions import Fraction

from drawleaf.joinery.splines import slot_sizes
from drawleaf.model.catalogue import Form
from drawleaf.model.joint_family import CutKind
from drawleaf.model.plan import Part
from drawleaf.model.shapes import OutlineCut, PlaneCut
from drawleaf.setting_out.slants import Slant, angle_text, longest_words, slant_of, slant_words
from drawleaf.units import ZERO, Length

ROOM = Length.of_inches(Fraction(1, 2))
"""What a board is cut longer at each mitred end, so that one can creep up on the fit: common practice, no source."""
HELD, SHORT = Length.of_inches(8), Length.of_inches(6)
"""A piece shorter than the second is worked as the end of a stick as long as the first: it is what a hand holds well clear of a saw."""
STANDS = Length.of_inches(Fraction(7, 2))
"""Stock up to so wide stands on edge against the saw's fence; wider stock lies flat under a tilted blade. Common practice, no source."""


def mitres(part: Part) -> tuple[Slant, ...]:
    """The mitres of a part, in the order of its features."""
    return tuple(
        slant_of(part, cut) for cut in part.features if isinstance(cut, PlaneCut) and cut.kind == CutKind.MITRE
    )


def mitre_waste(part: Part) -> Length:
    """What the part is cut longer at first. Sheets are cut to size: their mitres begin at the corner; mouldings have their own allowance."""
    material = part.stock.material
    if material.form is Form.SHEET or part.glue_up is not None or part.fitted is not None:
        return ZERO  # a fitted one has its allowance already
    ends = sum(1 for one in mitres(part) if one.sort == "end")
    if not ends:
        return material.extra
    # A short piece is worked at the end of a stick that is long enough to hold.
    return max(material.extra, ROOM * ends, HELD - part.size[0] if is_short(part) else ZERO)


def is_short(part: Part) -> bool:
    """Whether a mitred piece is too short to hold at a saw, as a returned end is: it is mitred while it is the end of a longer piece."""
    return part.size[0] < SHORT


def stands_up(part: Part, one: Slant) -> bool:
    """Whether the piece stands on its edge at the saw, as narrow stock does for the corner of a case."""
    return one.sort == "end" and bool(one.tilt) and not one.mitre and part.size[1] <= STANDS


def saw_words(part: Part, one: Slant) -> str:
    """How the saw is set for a cut at an angle, as the part is held there: a moulding that stands on its edge is mitred, not tilted."""
    if one.cut.kind == CutKind.MITRE and stands_up(part, one):
        return f"miter {angle_text(one.tilt)}, standing on its edge at the saw, {longest_words(one)}"
    return slant_words(one)


def spline_slots(part: Part) -> tuple[OutlineCut, ...]:
    """The slots of a part's splines."""
    return tuple(cut for cut in part.features if isinstance(cut, OutlineCut) and cut.kind == CutKind.SPLINE_SLOT)


def lies_level(cut: OutlineCut) -> bool:
    """Whether a spline lies level with the faces, as in a frame, and not along the corner of a case."""
    return cut.into.axis is not cut.outline.axis


def spline_size(cut: OutlineCut) -> tuple[Length, Length]:
    """How thick the spline is and how wide: twice the depth of its slot, less a hair for glue."""
    thick, deep = slot_sizes(cut)
    return thick, deep * 2
