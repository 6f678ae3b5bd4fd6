"""The room that a cut takes, as a box round it: enough to tell whether two cuts, or a screw and a cut, meet."""

from __future__ import annotations

from fractions import Fraction

from drawleaf.model.place import Axis, Box, Span
from drawleaf.model.plan import Bore, BoxCut, Feature, Part
from drawleaf.model.shapes import OutlineCut
from drawleaf.units import Length

HAIR = Length.of_mm(Fraction(1, 2))


def void_of(feature: Feature, part: Part | None = None) -> Box | None:
    """A box round what is cut away; None for what has none, and for a hole right through where the part is not given."""
    if isinstance(feature, BoxCut):
        return feature.box
    if not isinstance(feature, Bore) or (feature.depth is None and part is None):
        return None
    radius = feature.diameter / 2
    spans = {}
    for axis, step in zip(Axis, feature.direction, strict=True):
        at = feature.start.along(axis)
        if abs(step) < 0.01:
            spans[axis] = Span(at - radius, at + radius)
        elif feature.depth is None and part is not None:
            spans[axis] = part.body.span(axis)
        else:
            reach = (feature.depth or radius) * Fraction(round(step))
            spans[axis] = Span(min(at, at + reach), max(at, at + reach))
    return Box(spans[Axis.X], spans[Axis.Y], spans[Axis.Z])


def meets(one: Box, other: Box) -> bool:
    """Whether two voids share more than a hair."""
    shared = one.overlap(other)
    return shared is not None and min(shared.extent(axis) for axis in Axis) > HAIR


def is_open(part: Part, box: Box) -> bool:
    """Whether a cut has taken all the wood of the part that would stand in a box: a cutout, a notch, a channel, what an outline saws off."""
    return any(_takes_all(feature, box) for feature in part.features)


def _takes_all(feature: Feature, box: Box) -> bool:
    """Judged by the polygon of an outline's corners: what bulges beyond it is cut too, but of an outline that is kept, it is wood."""
    if isinstance(feature, BoxCut):
        return _within(box, feature.box)
    if not isinstance(feature, OutlineCut) or (feature.keep and any(one.turn for one in feature.outline.corners)):
        return False
    axis = feature.outline.axis
    span = box.span(axis)
    if span.low < feature.span.low or span.high > feature.span.high:
        return False
    first, second = (_probes(box.span(other)) for other in axis.others())
    inside = [_inside(feature, u, v) for u in first for v in second]
    return not any(inside) if feature.keep else all(inside)


def _within(box: Box, void: Box) -> bool:
    return all(
        void.span(axis).low <= box.span(axis).low and box.span(axis).high <= void.span(axis).high for axis in Axis
    )


def _probes(span: Span) -> list[float]:
    """Places along a span, just inside its ends and between them: enough for the plain outlines that hardware sits in."""
    low, high = span.low.mm, span.high.mm
    hair = min(0.01, (high - low) / 4)
    return [low + hair + (high - low - 2 * hair) * step / 4 for step in range(5)]


def _inside(feature: OutlineCut, u: float, v: float) -> bool:
    """Whether a place lies in the polygon of an outline's corners, by how often a ray from it crosses the rim."""
    corners = [(corner.u.mm, corner.v.mm) for corner in feature.outline.corners]
    within = False
    for (u1, v1), (u2, v2) in zip(corners, (*corners[1:], corners[0]), strict=True):
        if (v1 > v) != (v2 > v) and u < u1 + (v - v1) * (u2 - u1) / (v2 - v1):
            within = not within
    return within
