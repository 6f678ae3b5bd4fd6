"""Outlines as an author writes them (corners, rounded corners, arcs by their rise or radius) as closed outlines of lines and arcs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import asin, atan, ceil, cos, degrees, hypot, radians, sin, sqrt, tan

import shapely

from drawleaf.model.place import Axis
from drawleaf.model.shapes import Corner, Outline
from drawleaf.units import Length

FINEST = 10**6
"""Coordinates that come out of a square root are kept to a millionth of a millimetre."""


@dataclass(frozen=True, slots=True)
class Written:
    """A corner as written, in the outline's two coordinates. ``round`` rounds it; ``rise`` or ``radius`` bends the stretch to the next one,
    positive where it bulges out of the shape."""

    u: Length
    v: Length
    round: Length | None = None
    rise: Length | None = None
    radius: Length | None = None


class OutlineError(Exception):
    """An outline that cannot be: ``corner`` is the number of the corner at fault, from 0."""

    def __init__(self, corner: int, message: str) -> None:
        super().__init__(message)
        self.corner = corner
        self.message = message


def closed_outline(axis: Axis, written: Sequence[Written]) -> Outline:
    """The outline, gone round anticlockwise as one looks from its second coordinate's side. Raises OutlineError."""
    corners = _anticlockwise(written)
    found: list[Corner] = []
    for number, corner in enumerate(corners):
        before, after = corners[number - 1], corners[(number + 1) % len(corners)]
        turn = _bend(number, corner, after)
        if corner.round is None:
            found.append(Corner(corner.u, corner.v, turn))
        elif turn or _bend(number - 1, before, corner):
            raise OutlineError(
                number, "A corner next to an arc cannot be rounded; end the arc where it should meet the line"
            )
        else:
            found += _rounded(number, before, corner, after)
    return Outline(axis, _without_doubles(found))


def _anticlockwise(written: Sequence[Written]) -> list[Written]:
    area = sum(a.u.mm * b.v.mm - b.u.mm * a.v.mm for a, b in zip(written, (*written[1:], written[0]), strict=True))
    if abs(area) < 1e-9 and not any(one.rise or one.radius for one in written):
        raise OutlineError(0, "These corners enclose nothing")
    if area >= 0:
        return list(written)
    backwards = list(written)[::-1]
    # The stretch that left a corner now leads to it: its bend belongs to the corner before.
    bends = [(one.rise, one.radius) for one in (*backwards[1:], backwards[0])]
    return [
        Written(one.u, one.v, one.round, rise, radius) for one, (rise, radius) in zip(backwards, bends, strict=True)
    ]


def _bend(number: int, corner: Written, after: Written) -> float:
    """The turn of the stretch to the next corner in degrees; positive bulges out of an outline gone round anticlockwise."""
    chord = hypot((after.u - corner.u).mm, (after.v - corner.v).mm)
    if corner.rise is not None and corner.rise:
        if chord < 1e-9:
            raise OutlineError(number, "An arc runs from one place to another")
        return degrees(4.0 * atan(2.0 * corner.rise.mm / chord))
    if corner.radius is not None and corner.radius:
        radius = abs(corner.radius.mm)
        if chord > 2.0 * radius + 1e-6:
            raise OutlineError(number, "The arc's radius is less than half of the way to the next corner")
        turn = degrees(2.0 * asin(min(1.0, chord / (2.0 * radius))))
        return turn if corner.radius.mm > 0 else -turn
    return 0.0


def _rounded(number: int, before: Written, corner: Written, after: Written) -> list[Corner]:
    """The corner as an arc that touches both of its lines."""
    assert corner.round is not None
    in_u, in_v = (before.u - corner.u).mm, (before.v - corner.v).mm
    out_u, out_v = (after.u - corner.u).mm, (after.v - corner.v).mm
    long_in, long_out = hypot(in_u, in_v), hypot(out_u, out_v)
    if min(long_in, long_out) < 1e-9:
        raise OutlineError(number, "Two corners lie in the same place")
    cosine = (in_u * out_u + in_v * out_v) / (long_in * long_out)
    sine = sqrt(max(0.0, 1.0 - cosine * cosine))
    if sine < 1e-6:
        raise OutlineError(number, "There is no corner to round: the line runs straight on")
    # Tangent length of a fillet: radius over the tangent of half the corner's angle.
    along = corner.round.mm * (1.0 + cosine) / sine
    if along > min(long_in, long_out) + 1e-6:
        raise OutlineError(number, "The rounding is larger than the stretch beside it")
    square = abs(cosine) < 1e-9
    step = corner.round if square else _kept(along)
    turns_left = in_u * out_v - in_v * out_u < 0.0
    angle = degrees(asin(min(1.0, sine)))
    bend = 180.0 - (angle if cosine > 0 else 180.0 - angle)
    first = _toward(corner, in_u / long_in, in_v / long_in, step)
    last = _toward(corner, out_u / long_out, out_v / long_out, step)
    return [Corner(*first, bend if turns_left else -bend), Corner(*last)]


def _toward(corner: Written, u: float, v: float, by: Length) -> tuple[Length, Length]:
    """A place so far from the corner; exact where the way runs along an axis."""
    if abs(v) < 1e-12 or abs(u) < 1e-12:
        return corner.u + by * round(u), corner.v + by * round(v)
    return corner.u + _kept(by.mm * u), corner.v + _kept(by.mm * v)


def _kept(mm: float) -> Length:
    return Length.of_mm(Fraction(mm).limit_denominator(FINEST))


def _without_doubles(corners: list[Corner]) -> tuple[Corner, ...]:
    """Where two roundings meet, the corner between them is there twice: the first goes, which leads nowhere."""
    kept = [
        one
        for one, after in zip(corners, (*corners[1:], corners[0]), strict=True)
        if one.turn or abs((one.u - after.u).mm) > 1e-6 or abs((one.v - after.v).mm) > 1e-6
    ]
    return tuple(kept)


def flattened(outline: Outline, step: float = 6.0) -> list[tuple[float, float]]:
    """The outline as a polygon in millimetres; an arc as chords that turn by ``step`` degrees at most."""
    points: list[tuple[float, float]] = []
    corners = outline.corners
    for number, corner in enumerate(corners):
        after = corners[(number + 1) % len(corners)]
        u, v = corner.u.mm, corner.v.mm
        points.append((u, v))
        if not corner.turn:
            continue
        half = radians(corner.turn) / 2.0
        chord = (after.u.mm - u, after.v.mm - v)
        # The centre lies beside the middle of the chord, to its left for an arc that turns left.
        aside = 0.5 / tan(half)
        centre = (u + chord[0] / 2.0 - chord[1] * aside, v + chord[1] / 2.0 + chord[0] * aside)
        start = (u - centre[0], v - centre[1])
        count = max(2, ceil(abs(corner.turn) / step))
        for k in range(1, count):
            c, s = cos(2.0 * half * k / count), sin(2.0 * half * k / count)
            points.append((centre[0] + start[0] * c - start[1] * s, centre[1] + start[0] * s + start[1] * c))
    return points


def reach_of(outline: Outline) -> tuple[tuple[float, float], tuple[float, float]]:
    """From where to where the outline reaches along u and v, in millimetres, its arcs with it."""
    points = flattened(outline, 1.0)
    us, vs = [u for u, _ in points], [v for _, v in points]
    return (min(us), max(us)), (min(vs), max(vs))


def crosses_itself(outline: Outline) -> bool:
    """Whether two stretches of the outline cross, or touch so that they enclose two areas."""
    points = [(round(u, 6), round(v, 6)) for u, v in flattened(outline)]
    return not shapely.LinearRing(points).is_simple
