"""Keeping fasteners of different joints out of each other's way: one that would run into another slides along its joint."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import product

from drawleaf.joinery.planned import Planned, point_of
from drawleaf.model.diagnostic import Diagnostic, Severity
from drawleaf.model.plan import Fastener
from drawleaf.model.position import Position
from drawleaf.units import Length

# Closer than 3/8 in, one screw splits the wood or meets the other: common practice, no source.
APART = Length.of_inches(Fraction(3, 8))
STEP = Length.of_inches(Fraction(1, 8))
MOST_STEPS = 24
APART_MM = APART.mm
LIMIT = APART_MM - 1e-6
CUBE = 60.0
"""Edge of the cubes of space, mm: about a screw long."""

Place = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class _Settled:
    """A fastener in its final place, with its two ends in millimetres."""

    planned: Planned
    moved: bool
    start: Place
    end: Place


class _Wood:
    """The fasteners settled so far, filed by the cubes of space that they run through, so that one is compared with its neighbours
    alone."""

    def __init__(self) -> None:
        self._cubes: dict[tuple[int, int, int], list[_Settled]] = {}

    def add(self, one: _Settled) -> None:
        for cube in _cubes(one.start, one.end, 0.0):
            self._cubes.setdefault(cube, []).append(one)

    def near(self, start: Place, end: Place) -> Iterator[_Settled]:
        """Those that may come nearer than ``APART`` to a segment; one may come twice."""
        for cube in _cubes(start, end, APART_MM):
            yield from self._cubes.get(cube, ())


def _cubes(start: Place, end: Place, around: float) -> Iterator[tuple[int, int, int]]:
    x, y, z = (
        range(math.floor((min(a, b) - around) / CUBE), math.floor((max(a, b) + around) / CUBE) + 1)
        for a, b in zip(start, end, strict=True)
    )
    return product(x, y, z)


def keep_apart(planned: Sequence[tuple[Planned, Position]]) -> tuple[tuple[Planned, ...], tuple[Diagnostic, ...]]:
    """The same fasteners, in order, later ones shifted where they came too close to an earlier joint's.

    Fasteners of one joint keep the spacing that was asked for: they are compared only when one of them was shifted.
    """
    wood = _Wood()
    settled: list[Planned] = []
    found: list[Diagnostic] = []
    for one, position in planned:
        choice = next((moved for moved in _tries(one) if not _clashes(moved, one is not moved, wood)), None)
        if choice is None and one.optional:
            continue
        if choice is None:
            found.append(_no_room(one.fastener, position))
            choice = one
        settled.append(choice)
        wood.add(_Settled(choice, choice is not one, choice.fastener.at.mm, point_of(choice.fastener)))
    return tuple(settled), tuple(found)


def _tries(one: Planned):
    """Where it was meant to be, then ever farther to both sides, within its joint and clear of its ends."""
    yield one
    inset = min(STEP * 3, one.limits.extent / 4)
    for step in range(1, MOST_STEPS + 1):
        for side in (1, -1):
            by = STEP * (step * side)
            place = one.fastener.at.along(one.slide) + by
            if one.limits.low + inset <= place <= one.limits.high - inset:
                yield one.moved(by)


def _clashes(one: Planned, moved: bool, wood: _Wood) -> bool:
    fastener = one.fastener
    start, end = fastener.at.mm, point_of(fastener)
    for other in wood.near(start, end):
        if other.planned.fastener.joint == fastener.joint and not moved and not other.moved:
            continue
        if nearer(start, end, other.start, other.end, LIMIT):
            return True
    return False


def nearer(p1: Place, q1: Place, p2: Place, q2: Place, limit: float) -> bool:
    """Whether two segments come nearer to each other than ``limit``."""
    for axis in range(3):
        if max(p1[axis], q1[axis]) + limit < min(p2[axis], q2[axis]):
            return False
        if max(p2[axis], q2[axis]) + limit < min(p1[axis], q1[axis]):
            return False
    return segment_distance(p1, q1, p2, q2) < limit


def segment_distance(p1: Place, q1: Place, p2: Place, q2: Place) -> float:
    """Closest approach of two segments: the nearest points of their lines, clamped to both segments in turn."""
    d1, d2, r = _minus(q1, p1), _minus(q2, p2), _minus(p1, p2)
    a, e, f, b, c = _dot(d1, d1), _dot(d2, d2), _dot(d2, r), _dot(d1, d2), _dot(d1, r)
    denominator = a * e - b * b
    if e < 1e-9:  # the second is a point
        return math.dist(_along(p1, d1, min(max(-c / a, 0.0), 1.0) if a > 1e-9 else 0.0), p2)
    s = min(max((b * f - c * e) / denominator, 0.0), 1.0) if denominator > 1e-9 else 0.0
    t = (b * s + f) / e if e > 1e-9 else 0.0
    if e <= 1e-9 and a > 1e-9:
        s = min(max(-c / a, 0.0), 1.0)
    if t < 0.0 or t > 1.0:
        t = min(max(t, 0.0), 1.0)
        s = min(max((b * t - c) / a, 0.0), 1.0) if a > 1e-9 else 0.0
    return math.dist(_along(p1, d1, s), _along(p2, d2, t))


def _minus(a: Place, b: Place) -> Place:
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def _dot(a: Place, b: Place) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _along(start: Place, step: Place, times: float) -> Place:
    return (start[0] + step[0] * times, start[1] + step[1] * times, start[2] + step[2] * times)


def _no_room(fastener: Fastener, position: Position) -> Diagnostic:
    return Diagnostic(
        "fasteners-meet",
        f"{fastener.item.name} from “{fastener.through}” into “{fastener.into}” runs into another joint's fastener",
        position,
        "There is no place along the joint that is 3/8 in clear of the others.",
        "Set fewer, drive them from another side, or give “end_distance:” and “count:” yourself.",
        Severity.ADVICE,
    )
