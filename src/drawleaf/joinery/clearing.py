"""Keeping fasteners of different joints out of each other's way: one that would run into another slides along its joint."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from drawleaf.joinery.fastening import Planned, point_of
from drawleaf.model.diagnostic import Diagnostic, Severity
from drawleaf.model.plan import Fastener
from drawleaf.model.position import Position
from drawleaf.units import Length

# Closer than 3/8 in, one screw splits the wood or meets the other: common practice, no source.
APART = Length.of_inches(Fraction(3, 8))
STEP = Length.of_inches(Fraction(1, 8))
MOST_STEPS = 24

Place = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class _Settled:
    """A fastener in its final place, with its two ends in millimetres."""

    planned: Planned
    moved: bool
    start: Place
    end: Place


def keep_apart(planned: Sequence[tuple[Planned, Position]]) -> tuple[tuple[Planned, ...], tuple[Diagnostic, ...]]:
    """The same fasteners, in order, later ones shifted where they came too close to an earlier joint's.

    Fasteners of one joint keep the spacing that was asked for: they are compared only when one of them was shifted.
    """
    settled: list[_Settled] = []
    found: list[Diagnostic] = []
    for one, position in planned:
        choice = next((moved for moved in _tries(one) if not _clashes(moved, one is not moved, settled)), None)
        if choice is None and one.optional:
            continue
        if choice is None:
            found.append(_no_room(one.fastener, position))
            choice = one
        settled.append(_Settled(choice, choice is not one, choice.fastener.at.mm, point_of(choice.fastener)))
    return tuple(one.planned for one in settled), tuple(found)


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


def _clashes(one: Planned, moved: bool, settled: Sequence[_Settled]) -> bool:
    fastener = one.fastener
    start, end = fastener.at.mm, point_of(fastener)
    for other in settled:
        if other.planned.fastener.joint == fastener.joint and not moved and not other.moved:
            continue
        if _nearer(start, end, other.start, other.end, APART.mm - 1e-6):
            return True
    return False


def _nearer(p1: Place, q1: Place, p2: Place, q2: Place, limit: float) -> bool:
    """Whether two segments come nearer to each other than ``limit``."""
    for axis in range(3):
        if max(p1[axis], q1[axis]) + limit < min(p2[axis], q2[axis]):
            return False
        if max(p2[axis], q2[axis]) + limit < min(p1[axis], q1[axis]):
            return False
    return _segment_distance(p1, q1, p2, q2) < limit


def _segment_distance(p1: Place, q1: Place, p2: Place, q2: Place) -> float:
    """Closest approach of two segments: the nearest points of their lines, clamped to both segments in turn."""
    d1, d2, r = _minus(q1, p1), _minus(q2, p2), _minus(p1, p2)
    a, e, f, b, c = _dot(d1, d1), _dot(d2, d2), _dot(d2, r), _dot(d1, d2), _dot(d1, r)
    denominator = a * e - b * b
    s = min(max((b * f - c * e) / denominator, 0.0), 1.0) if denominator > 1e-9 else 0.0
    t = (b * s + f) / e
    if t < 0.0 or t > 1.0:
        t = min(max(t, 0.0), 1.0)
        s = min(max((b * t - c) / a, 0.0), 1.0)
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
        "Set fewer, drive them from another side, or give “ends:” and “count:” yourself.",
        Severity.ADVICE,
    )
