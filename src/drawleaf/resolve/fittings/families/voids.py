"""The room that a cut takes, as a box round it: enough to tell whether two cuts, or a screw and a cut, meet."""

from __future__ import annotations

from fractions import Fraction

from drawleaf.model.place import Axis, Box, Span
from drawleaf.model.plan import Bore, BoxCut, Feature, Part
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
