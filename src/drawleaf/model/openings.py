"""The opening that a drawer, a door or a part of one stands in: what stands on either side, and how the size comes out of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drawleaf.model.near import Near
from drawleaf.model.place import Axis, Box, Span
from drawleaf.model.plan import Part
from drawleaf.units import Length


@dataclass(frozen=True, slots=True)
class Opening:
    """Between the parts ``low`` and ``high`` there are ``size``; ``gaps`` of it are left free on both sides together, ``beside`` is taken
    by other parts of the same drawer or door, and the rest is the part's own size."""

    low: str
    high: str
    size: Length
    gaps: Length
    beside: Length


def opening_of(part: Part, own: Sequence[Part], standing: Near, axis: Axis) -> Opening | None:
    """The opening along an axis, among the ``standing`` parts; ``own`` are all parts that move with this one. None where a side is open."""
    level = [one for one in own if one.id == part.id or _beside(one.body, part.body, axis)]
    low = min(one.body.span(axis).low for one in level)
    high = max(one.body.span(axis).high for one in level)
    reach = {across: _reach([one.body.span(across) for one in level]) for across in axis.others()}
    near = [one for one in standing.within(reach) if any(_beside(one.body, mine.body, axis) for mine in level)]
    below = [one for one in near if one.body.span(axis).high <= low]
    above = [one for one in near if one.body.span(axis).low >= high]
    if not below or not above:
        return None
    first = max(below, key=lambda one: one.body.span(axis).high)
    last = min(above, key=lambda one: one.body.span(axis).low)
    size = last.body.span(axis).low - first.body.span(axis).high
    return Opening(first.id, last.id, size, size - (high - low), (high - low) - part.body.extent(axis))


def _reach(spans: Sequence[Span]) -> tuple[float, float]:
    return min(span.low.mm for span in spans), max(span.high.mm for span in spans)


def _beside(one: Box, other: Box, axis: Axis) -> bool:
    """Whether two bodies share some of what lies across the axis."""
    return all(_share(one.span(across), other.span(across)) for across in axis.others())


def _share(one: Span, other: Span) -> bool:
    return one.low < other.high and other.low < one.high and one.low < one.high and other.low < other.high
