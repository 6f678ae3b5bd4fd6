"""Outlines as one measures them: rectangles with rounded corners, radii of arcs, rises."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import hypot, radians, sin, tan

from drawleaf.model.place import Span
from drawleaf.model.plan import Part
from drawleaf.model.shapes import Corner, Outline, OutlineCut
from drawleaf.units import ZERO, Length

CLOSE = 1e-6
"""Degrees, and millimetres, within which two figures are the same."""


@dataclass(frozen=True, slots=True)
class Rectangle:
    """From where to where along the outline's two axes, and the radius of its corners."""

    u: Span
    v: Span
    radius: Length


@dataclass(frozen=True, slots=True)
class Arc:
    """An arc of an outline: its ends, its radius, and how far its crown rises over the straight line between its ends (negative where
    it is hollow: it cuts into the shape)."""

    start: Corner
    end: Corner
    radius: Length
    rise: Length


def rectangle_of(outline: Outline) -> Rectangle | None:
    """The outline as a rectangle with its corners square or rounded alike; None where it is anything else."""
    radii: set[Fraction] = set()
    for corner, after in stretches(outline):
        du, dv = (after.u - corner.u).exact_mm, (after.v - corner.v).exact_mm
        if not corner.turn:
            if du and dv:
                return None
        elif abs(abs(corner.turn) - 90.0) > CLOSE or abs(du) != abs(dv) or corner.turn < 0:
            return None
        else:
            radii.add(abs(du))
    if len(radii) > 1 or sum(1 for corner in outline.corners if corner.turn) not in (0, 4):
        return None
    if not radii and len(outline.corners) != 4:
        return None
    u, v = outline.bounds
    return Rectangle(u, v, Length(radii.pop()) if radii else ZERO)


def through_edge(part: Part, cut: OutlineCut) -> bool:
    """Whether an opening runs out through an edge of its part: it is then sawn in from there."""
    axes = cut.outline.axis.others()
    return not cut.keep and any(
        span.low <= part.body.span(axis).low or span.high >= part.body.span(axis).high
        for axis, span in zip(axes, cut.outline.bounds, strict=True)
    )


def arcs_of(outline: Outline) -> tuple[Arc, ...]:
    """The arcs, in the order in which the outline has them. Radius of a chord c that turns by t: c / (2 sin t/2); its rise c/2 tan t/4."""
    found: list[Arc] = []
    for corner, after in stretches(outline):
        if not corner.turn:
            continue
        du, dv = (after.u - corner.u), (after.v - corner.v)
        chord = hypot(du.mm, dv.mm)
        quarter = abs(abs(corner.turn) - 90.0) < CLOSE and abs(du) == abs(dv)
        radius = abs(du) if quarter else _kept(chord / (2.0 * sin(radians(abs(corner.turn)) / 2.0)))
        found.append(Arc(corner, after, radius, _kept(chord / 2.0 * tan(radians(corner.turn) / 4.0))))
    return tuple(found)


def stretches(outline: Outline) -> list[tuple[Corner, Corner]]:
    """Each corner with the one that follows it."""
    return list(zip(outline.corners, (*outline.corners[1:], outline.corners[0]), strict=True))


def _kept(mm: float) -> Length:
    """A figure that came out of a square root, to a thousandth of a millimetre: a radius that was written round is round again."""
    return Length.of_mm(Fraction(round(mm * 1000), 1000))
