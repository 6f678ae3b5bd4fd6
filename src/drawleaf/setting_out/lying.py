"""What is put together lying down: a frame no deeper than its boards."""

from __future__ import annotations

from collections.abc import Iterable

from drawleaf.model.place import Axis
from drawleaf.model.plan import Part
from drawleaf.units import ZERO, Length

SHALLOW = Length.of_inches(2)
"""A frame up to this deep lies flat on a bench while it is put together: common practice, no source."""


def lies_flat(parts: Iterable[Part]) -> bool:
    """Whether upright parts make a frame so shallow, from front to back or from side to side, that it is built lying down."""
    bodies = [part.body for part in parts]
    if len(bodies) < 2:
        return False
    for axis in (Axis.X, Axis.Y):
        spans = [body.span(axis) for body in bodies]
        depth = max(span.high for span in spans) - min(span.low for span in spans)
        if ZERO < depth <= SHALLOW:
            return True
    return False
