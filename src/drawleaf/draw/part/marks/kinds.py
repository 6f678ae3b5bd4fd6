"""A mark on a part's face view: where something is cut, its distances, its note."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from drawleaf.draw.paper.lettering import Rich
from drawleaf.draw.picture.lay import Lay
from drawleaf.model.place import Axis, Face, Span
from drawleaf.units import Length

Spans = tuple[tuple[Length, Length], ...]


@dataclass(frozen=True, slots=True)
class Mark:
    """A feature or group of like features: the place on the face view that its key points at (distances from the left and lower
    edge), the distances to dimension to the right and upwards (from the same edges), and its note. ``origins`` are the sides of the
    part that those distances are measured from, where they are not from the feature's own edge."""

    anchor: tuple[Length, Length]
    across: Spans
    upright: Spans
    note: Rich
    origins: tuple[Face, ...] = ()
    crosses: tuple[tuple[Length, Length], ...] = ()
    """Middles of what nothing is drawn of, such as fittings."""


def reckoned(lay: Lay, toward: Face, origin: Face, spans: Spans) -> Spans:
    """Spans measured from ``origin``, as distances from the edge opposite to ``toward``."""
    if origin is not toward:
        return spans
    reach = lay.reach(toward)
    return tuple((reach - high, reach - low) for low, high in spans)


def placed(
    lay: Lay, origins: Mapping[Axis, Face], spans: Mapping[Axis, Spans], anchor: tuple[Length, Length], note: Rich
) -> Mark:
    """A mark whose distances along each axis run from the side that ``origins`` names."""
    ways = [
        reckoned(lay, toward, origins.get(toward.axis, toward.opposite), spans.get(toward.axis, ()))
        for toward in (lay.right, lay.up)
    ]
    used = tuple(origins[toward.axis] for toward in (lay.right, lay.up) if spans.get(toward.axis))
    return Mark(anchor, ways[0], ways[1], note, used)


def middle(lay: Lay, toward: Face, span: Span) -> Length:
    """The middle of a stretch, from the edge opposite to ``toward``."""
    low, high = lay.span(toward, span.low, span.high)
    return (low + high) / 2
