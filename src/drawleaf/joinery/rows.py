"""Rows of fasteners: how many, how far apart, how far from the ends."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from drawleaf.model.place import Span
from drawleaf.units import Length

# All common practice, no source.
EVERY = Length.of_inches(6)
ENDS = Length.of_inches(Fraction(3, 2))
SHORT = Length.of_inches(Fraction(3, 2))
MOST_IN_ROW = 100
BROAD = Length.of_inches(Fraction(7, 2))


def end_distance(span: Span, ends: Length | None) -> Length:
    """From the end of a joint to its first fastener: as given, else 1-1/2 in, and a quarter of the joint where that is less."""
    return ends if ends is not None else min(ENDS, span.extent / 4)


def row(span: Span, count: int | None, every: Length | None, ends: Length | None) -> tuple[Length, ...]:
    """Coordinates of one row: evenly from end distance to end distance, no farther apart than ``every``, at least two.

    A joint under 1-1/2 in long takes one, unless a count is given.
    """
    inset = end_distance(span, ends)
    free = span.extent - inset * 2
    if count is None:
        if span.extent < SHORT:
            count = 1
        else:
            gaps = max(free.ratio(every or EVERY), Fraction(0))
            count = min(max(2, -(-gaps.numerator // gaps.denominator) + 1), MOST_IN_ROW)
    if count == 1 or free.exact_mm <= 0:
        return (span.middle,) * count if count == 1 else _even(span, count)
    return tuple(span.low + inset + free * Fraction(index, count - 1) for index in range(count))


def rows_across(span: Span, count: int | None) -> tuple[tuple[Length, int | None], ...]:
    """Where rows lie across a joint and how many fasteners each has: one in the middle, or two near the edges of a broad meeting."""
    if span.extent <= BROAD or (count is not None and count < 4):
        return ((span.middle, count),)
    inset = end_distance(span, None)
    first = None if count is None else (count + 1) // 2
    second = None if count is None else count // 2
    return ((span.low + inset, first), (span.high - inset, second))


def rows_at(levels: Sequence[Length], count: int | None) -> tuple[tuple[Length, int | None], ...]:
    """Rows where the author wants them, with the fasteners shared out evenly; the first rows take what is over."""
    if count is None:
        return tuple((level, None) for level in levels)
    share, over = divmod(count, len(levels))
    return tuple((level, share + (place < over)) for place, level in enumerate(levels))


def _even(span: Span, count: int) -> tuple[Length, ...]:
    """Evenly spread where the end distances leave no room."""
    return tuple(span.low + span.extent * Fraction(2 * index + 1, 2 * count) for index in range(count))
