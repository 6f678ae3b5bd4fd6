"""Places of screws moved a little, so that a tape measure reads round figures from the end of the part.

Two fasteners stay as far from one end as from the other. In a longer row the spacing is a round figure, and what that leaves over is
shared by both ends as evenly as round figures allow.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from drawleaf.model.place import Span
from drawleaf.units import Length


@dataclass(frozen=True, slots=True)
class Ruler:
    """Round figures: the least spacing from which a step is used, with that step; and the step of the first distance."""

    spacings: tuple[tuple[Length, Length], ...]
    first: Length


AS_NEAR = Length.of_mm(12)
"""What is no more than this farther away counts as near: one would rather measure from the left, the front or the bottom."""


def from_low_end(low_room: Length, high_room: Length) -> bool:
    """Whether a row is measured from the low end of its part, given the room at both ends."""
    return low_room <= high_room + AS_NEAR


def _inches(value: str) -> Length:
    return Length.of_inches(Fraction(value))


INCHES = Ruler(
    ((_inches("2"), _inches("1/2")), (_inches("1"), _inches("1/4")), (_inches("0"), _inches("1/8"))), _inches("1/8")
)
MILLIMETRES = Ruler(
    ((Length.of_mm(50), Length.of_mm(10)), (Length.of_mm(20), Length.of_mm(5)), (Length.of_mm(0), Length.of_mm(1))),
    Length.of_mm(5),
)


def friendly(places: Sequence[Length], body: Span, ruler: Ruler) -> tuple[Length, ...]:
    """The same fasteners, in order, at round distances from the nearer end of the part that they go through.

    None comes nearer to an end than it was by more than half a step of the ruler. One alone stays in the middle of its joint.
    """
    if len(places) < 2:
        return tuple(places)
    low, high = min(places), max(places)
    from_low = from_low_end(low - body.low, body.high - high)
    base, sign = (body.low, 1) if from_low else (body.high, -1)
    ends = sorted(((low - base) * sign, (high - base) * sign))
    if len(places) == 2:
        near, far = _pair(ends[0], ends[1], body.extent, ruler)
        found = [near, far]
    else:
        found = _series(ends[0], ends[1], len(places), ruler)
    moved = sorted(base + distance * sign for distance in found)
    return tuple(moved) if places[0] <= places[-1] else tuple(reversed(moved))


def friendly_between(places: Sequence[Length], body: Span, ruler: Ruler) -> tuple[Length, ...]:
    """The same fasteners with the first and the last where they were, and those between them at round distances from the nearer end."""
    if len(places) < 3:
        return tuple(places)
    low, high = min(places), max(places)
    from_low = from_low_end(low - body.low, body.high - high)
    base, sign = (body.low, 1) if from_low else (body.high, -1)
    gap = abs(places[1] - places[0])
    step = next(step for least, step in ruler.spacings if gap >= least)
    between = [base + _nearest((place - base) * sign, step) * sign for place in places[1:-1]]
    return (places[0], *between, places[-1])


def _pair(near: Length, far: Length, extent: Length, ruler: Ruler) -> tuple[Length, Length]:
    """Two fasteners: as far from each end, where they were; else each on a round figure."""
    even = near == extent - far
    step = ruler.first if near >= ruler.first * 2 else ruler.spacings[-1][1]
    near = _nearest(near, step)
    return (near, extent - near) if even else (near, _nearest(far, step))


def _series(first: Length, last: Length, count: int, ruler: Ruler) -> list[Length]:
    """A longer row: a round spacing, no wider than it was, begun where both ends keep about the same."""
    gap = (last - first) / (count - 1)
    step = next(step for least, step in ruler.spacings if gap >= least)
    spacing = step * _floor(gap.ratio(step))
    spare = last - first - spacing * (count - 1)
    half = ruler.first * _floor((spare / 2).ratio(ruler.first))
    start = _nearest(first, ruler.first) + half
    return [start + spacing * index for index in range(count)]


def _nearest(length: Length, step: Length) -> Length:
    return step * max(1, _floor(length.ratio(step) + Fraction(1, 2)))


def _floor(ratio: Fraction) -> int:
    return ratio.numerator // ratio.denominator
