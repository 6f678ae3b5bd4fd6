"""Edge profiles along outlines: where the edge of a part is sawn to a curve, the profile follows it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import pairwise
from math import cos, hypot, radians, sin, sqrt

from drawleaf.joinery.wording import say
from drawleaf.model.place import Face
from drawleaf.model.plan import EdgeProfile, Feature, Part
from drawleaf.model.shapes import Corner, Course, Outline, OutlineCut
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.parts.outlines import flattened

TOWARDS = sqrt(0.5) - 1e-6
"""A stretch looks to a side where it turns no more than 45 degrees from it; one at 45 degrees looks to both."""

RUN_ON = 2.0
"""Millimetres that a cutter runs straight on where it leaves the wood at a corner."""

FINE = 0.4
"""Degrees of an arc to a chord, for trying whether a profile fits inside a bend: finer than the solid's own facets."""

STRAIGHT = 1e-3
"""Millimetres within which a stretch lies on the side of the blank itself."""


def follow_outlines(parts: Iterable[Part], findings: Findings) -> tuple[Part, ...]:
    """The parts with their edge profiles along the outlines that they are sawn to. A profile that fits no bend of its outline, or a rim
    that is not there, is reported."""
    return tuple(_followed(part, findings) for part in parts)


def _followed(part: Part, findings: Findings) -> Part:
    cuts = [one for one in part.features if isinstance(one, OutlineCut) and one.kind in ("shape", "cutout")]
    rims = any(isinstance(one, EdgeProfile) and one.round_what for one in part.features)
    if not cuts and not rims:
        return part
    features: list[Feature] = []
    for feature in part.features:
        if isinstance(feature, EdgeProfile):
            size = feature.size.mm
            whole = tuple(_courses(part, feature, cuts))
            courses = tuple(piece for one in whole for piece in ((one,) if _fits(one, size) else _parted(one)))
            if feature.round_what and not courses:
                _tell_no_rim(part, feature, findings)
            for course in courses:
                if not _fits(course, size):
                    _tell_tight(part, feature, findings)
                    break
            feature = replace(feature, courses=courses)
        features.append(feature)
    return replace(part, features=tuple(features))


def _courses(part: Part, profile: EdgeProfile, cuts: Sequence[OutlineCut]) -> Iterable[Course]:
    for cut in cuts:
        axis = cut.outline.axis
        flat = next((face for face in profile.edge if face.axis is axis), None)
        if flat is None or flat not in cut.open:
            continue
        if profile.round_what:
            if cut.keep is (profile.round_what == "outline"):
                yield Course(axis, _wood_left(cut), closed=True)
            continue
        side = next((face for face in profile.edge if face.axis is not axis), None)
        if side is not None and cut.keep:
            yield from _along_side(part, cut.outline, side)


def _wood_left(cut: OutlineCut) -> tuple[Corner, ...]:
    """The corners so that the wood lies to the left: outlines are drawn anticlockwise, so those of openings are gone round backwards."""
    corners = cut.outline.corners
    if cut.keep:
        return corners
    backwards = corners[::-1]
    turns = [-one.turn for one in (*backwards[1:], backwards[0])]
    return tuple(replace(one, turn=turn) for one, turn in zip(backwards, turns, strict=True))


def _along_side(part: Part, outline: Outline, side: Face) -> Iterable[Course]:
    """The stretches of an outline that look to a side of the part, those that follow one another together. None where all of them lie
    straight along the side of the blank, which a profile follows anyway."""
    a, b = outline.axis.others()
    corners = outline.corners
    count = len(corners)
    looks: list[bool] = []
    curved = False
    for one, other in zip(corners, (*corners[1:], corners[0]), strict=True):
        du, dv = (other.u - one.u).mm, (other.v - one.v).mm
        out = {a: dv, b: -du}
        there = out[side.axis] * side.side >= TOWARDS * hypot(du, dv)
        looks.append(there)
        level = part.body.face(side).mm
        on_blank = all(abs((c.u if side.axis is a else c.v).mm - level) < STRAIGHT for c in (one, other))
        curved = curved or (there and (bool(one.turn) or not on_blank))
    if not curved:
        return
    if all(looks):
        yield Course(outline.axis, corners, closed=True)
        return
    for first in (n for n in range(count) if looks[n] and not looks[n - 1]):
        last = first
        while looks[last % count]:
            last += 1
        chain = tuple(corners[n % count] for n in range(first, last + 1))
        before, after = corners[first - 1], corners[(last + 1) % count]
        ends = (
            _run_on(_direction(before, chain[0], False), _direction(chain[0], chain[1], True)),
            _run_on(_direction(chain[-2], chain[-1], False), _direction(chain[-1], after, True)),
        )
        yield Course(outline.axis, chain, False, ends)


def _parted(course: Course) -> Iterable[Course]:
    """The same course in pieces from sharp corner to sharp corner, where a bend beside a corner leaves no room for the mitre: at each the
    cutter runs straight on out of the wood."""
    corners, count = course.corners, len(course.corners)
    sharp = []
    for n in range(count) if course.closed else range(1, count - 1):
        coming = _direction(corners[n - 1], corners[n], False)
        leaving = _direction(corners[n], corners[(n + 1) % count], True)
        if _run_on(coming, leaving):
            sharp.append(n)
    if not sharp:
        yield course
        return
    if course.closed:
        ends = [*sharp, sharp[0] + count]
        ring = (*corners, *corners, *corners[:1])
        for first, last in pairwise(ends):
            yield Course(course.axis, ring[first : last + 1], False, (RUN_ON, RUN_ON))
        return
    ends = [0, *sharp, count - 1]
    for first, last in pairwise(ends):
        on = (course.run_on[0] if not first else RUN_ON, course.run_on[1] if last == count - 1 else RUN_ON)
        yield Course(course.axis, corners[first : last + 1], False, on)


def _direction(one: Corner, other: Corner, leaving: bool) -> tuple[float, float]:
    """The unit direction in which a stretch leaves its first corner, or comes to its second."""
    du, dv = (other.u - one.u).mm, (other.v - one.v).mm
    half = radians(one.turn) / 2.0 * (-1.0 if leaving else 1.0)
    size = hypot(du, dv)
    return (du * cos(half) - dv * sin(half)) / size, (du * sin(half) + dv * cos(half)) / size


def _run_on(coming: tuple[float, float], leaving: tuple[float, float]) -> float:
    """How far a cutter runs straight on at an end: not at all where the outline goes on smoothly or turns into the wood."""
    cross = coming[0] * leaving[1] - coming[1] * leaving[0]
    return RUN_ON if cross > 0.02 else 0.0


def _fits(course: Course, size: float) -> bool:
    """Whether the profile's inner edge, ``size`` inside the course, still goes the way of the course everywhere."""
    points = _points(course)
    count = len(points)
    pairs = range(count) if course.closed else range(count - 1)
    ways = []
    for n in pairs:
        du, dv = points[(n + 1) % count][0] - points[n][0], points[(n + 1) % count][1] - points[n][1]
        long = hypot(du, dv)
        ways.append((du / long, dv / long))
    inner = []
    for n in range(count):
        before = ways[n - 1] if course.closed or n else ways[0]
        after = ways[n % len(ways)] if course.closed or n < len(ways) else ways[-1]
        du, dv = _mitred(before, after)
        inner.append((points[n][0] + du * size, points[n][1] + dv * size))
    for n in pairs:
        du, dv = inner[(n + 1) % count][0] - inner[n][0], inner[(n + 1) % count][1] - inner[n][1]
        if du * ways[n][0] + dv * ways[n][1] < -1e-6:
            return False
    return True


def _mitred(before: tuple[float, float], after: tuple[float, float]) -> tuple[float, float]:
    """From a corner, the way to the corner of the parallel one unit to the left of both its sides."""
    scale = 1.0 + before[0] * after[0] + before[1] * after[1]
    return -(before[1] + after[1]) / max(scale, 1e-6), (before[0] + after[0]) / max(scale, 1e-6)


def _points(course: Course) -> list[tuple[float, float]]:
    if course.closed:
        return flattened(Outline(course.axis, course.corners), FINE)
    last = replace(course.corners[-1], turn=0.0)
    return flattened(Outline(course.axis, (*course.corners[:-1], last)), FINE)


def _tell_tight(part: Part, profile: EdgeProfile, findings: Findings) -> None:
    unit = "mm" if profile.size.exact_mm.denominator == 1 else "in"
    findings.error(
        "edge-size",
        f"A {profile.kind} of {say(profile.size, unit)} does not fit the outline of “{part.id}”",
        profile.position,
        "A bend or a corner of the outline is tighter than that.",
        "Make it smaller, or the bend wider.",
    )


def _tell_no_rim(part: Part, profile: EdgeProfile, findings: Findings) -> None:
    cuts = "“cutout”" if profile.round_what == "opening" else "“shape”"
    findings.error(
        "no-such-edge",
        f"“{part.id}” has no {profile.round_what} that comes out at its {profile.edge[0].value}",
        profile.position,
        f"Its machining has no {cuts} that goes through there.",
        f"Add the {cuts}, or name an edge by its two faces: front-top.",
    )
