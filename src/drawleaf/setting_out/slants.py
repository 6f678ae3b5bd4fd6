"""Cuts at an angle, as one sets a saw for them: the mitre, the tilt of the blade, and where the wood stays longest.

The part lies on its broad face with the end to the saw. The mitre is the angle of the cut from square across that face, the tilt the angle
of the blade from upright. With the plane's unit normal (l along the part, w across its face, t through it): tan(mitre) = |w / l| and
sin(tilt) = |t|. Along an edge the blade's tilt alone is enough: tan(tilt) = |t / w|.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from math import acos, asin, atan2, degrees

from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Bore, Part
from drawleaf.model.shapes import PlaneCut, Vector
from drawleaf.units import Length, trimmed

SQUARE = 1e-6
_ORDER = (Face.TOP, Face.BOTTOM, Face.LEFT, Face.RIGHT, Face.FRONT, Face.BACK)
"""The order in which one names two sides: top front, left back."""
KINDS = ("level end", "angled end", "trim", "taper")
"""The cuts along a plane that are made by themselves; a mitre is made as a joint."""


@dataclass(frozen=True, slots=True)
class Slant:
    """One cut at an angle. ``sort``: an ``end`` sawn across the part, an ``edge`` sawn along it at a tilt, a ``taper`` along it at a slant.

    ``mitre`` and ``tilt`` in degrees, to a tenth. ``long_edge`` and ``long_face`` are the side of the broad face and the broad face at
    which an end stays longest (None where it is square that way).
    """

    part: Part
    cut: PlaneCut
    sort: str
    mitre: Fraction
    tilt: Fraction
    long_edge: Face | None
    long_face: Face | None


def slant_of(part: Part, cut: PlaneCut) -> Slant:
    """How a saw is set for the cut."""
    side, flat = sides_of(part, cut)
    along, across, through = (cut.normal[axis.index] for axis in (part.length_axis, side, flat))
    if cut.face.axis is part.length_axis:
        return Slant(
            part,
            cut,
            "end",
            _tenth(degrees(atan2(abs(across), abs(along)))),
            _tenth(degrees(asin(min(1.0, abs(through))))),
            _long_side(part.width_axis, across),
            _long_side(part.thickness, through),
        )
    tilt = _tenth(degrees(atan2(abs(through), abs(across))))
    slope = _tenth(degrees(atan2(abs(along), abs(across))))
    sort = "taper" if abs(along) > SQUARE else "edge"
    return Slant(part, cut, sort, slope, tilt, None, _long_side(flat, through))


def sides_of(part: Part, cut: PlaneCut) -> tuple[Axis, Axis]:
    """The axis across which a cut takes wood off, and the one that it goes through: width and thickness, or of a square leg that is cut on
    a side of its thickness the other way about."""
    turned = cut.face.axis is part.thickness
    return (part.thickness, part.width_axis) if turned else (part.width_axis, part.thickness)


def slants(part: Part) -> tuple[Slant, ...]:
    """All cuts at an angle of a part that are no joint's own, in the order of its features."""
    return tuple(slant_of(part, cut) for cut in part.features if isinstance(cut, PlaneCut) and cut.kind in KINDS)


def slant_words(one: Slant) -> str:
    """How the saw is set and where the wood stays longest: ``miter 7°, blade tilt 8.9°, longest at its left front corner``."""
    figures = [
        f"{name} {angle_text(angle)}"
        for name, angle in (("miter" if one.sort == "end" else "slope", one.mitre), ("blade tilt", one.tilt))
        if angle
    ]
    return ", ".join([*figures, longest_words(one)] if one.sort == "end" else figures)


def longest_words(one: Slant, called: Callable[[Face], str] = lambda face: face.value) -> str:
    """Where an end stays longest: ``longest at its left front corner``, its sides ``called`` as the caller will."""
    sides = [face for face in (one.long_edge, one.long_face) if face is not None]
    words = " ".join(called(face) for face in sorted(sides, key=_ORDER.index))
    return f"longest at its {words} {'corner' if len(sides) > 1 else 'side'}"


def angle_text(degrees: Fraction) -> str:
    """``8.9°``, ``45°``."""
    return f"{trimmed(degrees, 1)}°"


def off_square(hole: Bore) -> Fraction:
    """How far a hole runs off square to the face that it is bored into, in degrees to a tenth."""
    straight = sum(a * b for a, b in zip(hole.direction, hole.face.normal, strict=True))
    return _tenth(degrees(acos(min(1.0, abs(straight)))))


def taper_start(part: Part, cut: PlaneCut) -> Length:
    """How far from the wide end a taper begins."""
    return abs(cut.point.along(part.length_axis) - part.body.face(narrow_end(part, cut).opposite))


def taper_off(part: Part, cut: PlaneCut) -> Length:
    """How much a taper takes off at the narrow end."""
    run = abs(part.body.face(narrow_end(part, cut)) - cut.point.along(part.length_axis))
    slope = abs(cut.normal[part.length_axis.index] / cut.normal[cut.face.axis.index])
    return run * Fraction(slope).limit_denominator(10**6)


def narrow_end(part: Part, cut: PlaneCut) -> Face:
    """The end towards which a taper gets thinner: its normal leans that way."""
    axis = part.length_axis
    return axis.high if cut.normal[axis.index] > 0 else axis.low


def ends_of(part: Part) -> str:
    """How the two ends of a part go together: ``parallel``, ``opposed`` (mirror images across the part) or empty for anything else."""
    normals = [one.cut.normal for one in slants(part) if one.sort == "end"]
    if len(normals) != 2:
        return ""
    first, second = normals
    if _alike(first, (-second[0], -second[1], -second[2])):
        return "parallel"
    flipped = list(second)
    flipped[part.length_axis.index] *= -1
    return "opposed" if _alike(first, (flipped[0], flipped[1], flipped[2])) else ""


def _alike(a: Vector, b: Vector) -> bool:
    return all(abs(x - y) < 1e-4 for x, y in zip(a, b, strict=True))


def _long_side(axis: Axis, slope: float) -> Face | None:
    return None if abs(slope) < SQUARE else Face.of(axis, -1 if slope > 0 else 1)


def _tenth(angle: float) -> Fraction:
    return Fraction(round(angle * 10), 10)
