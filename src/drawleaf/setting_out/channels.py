"""A dado, groove or rabbet as the shop sets it out: which edge to measure from, how far, how wide, how deep, where it stops."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drawleaf.model.place import Axis, Box, Face, Span
from drawleaf.model.plan import BoxCut, Part
from drawleaf.model.settings import ChannelSettings
from drawleaf.units import ZERO, Length

RUNS_OUT = Length.of_mm(2)
"""A channel that ends nearer to the part's end than this is cut right through: nobody stops a router so short."""


@dataclass(frozen=True, slots=True)
class Channel:
    """``offset`` runs from ``edge`` to the near side of the channel; ``stops`` are the ends where it stops short, with how far."""

    part: Part
    cut: BoxCut
    run: Axis
    across: Axis
    edge: Face
    offset: Length
    width: Length
    depth: Length
    stops: tuple[tuple[Face, Length], ...]

    @property
    def settings(self) -> ChannelSettings:
        """What one bit, depth and fence setting have in common."""
        stops = tuple(room for _, room in self.stops)
        return ChannelSettings(self.cut.kind, self.width, self.depth, self.offset, stops)


def channel_of(part: Part, cut: BoxCut) -> Channel:
    """The channel that a square cut makes in a part's blank."""
    a, b = cut.into.axis.others()
    run, across = (a, b) if cut.box.extent(a) >= cut.box.extent(b) else (b, a)
    body, void = part.body.span(across), cut.box.span(across)
    below, above = void.low - body.low, body.high - void.high
    edge = across.low if below <= above else across.high
    stops = tuple((face, room) for face in (run.low, run.high) if (room := _stop(part, cut, face)))
    return Channel(part, cut, run, across, edge, min(below, above), void.extent, cut.box.extent(cut.into.axis), stops)


def _stop(part: Part, cut: BoxCut, face: Face) -> Length:
    """How far short of a face the channel must stop; zero where it runs out, or runs into another cut of the part."""
    room = abs(part.body.face(face) - cut.box.face(face))
    if room <= RUNS_OUT:
        return ZERO
    end = cut.box.with_span(face.axis, Span.between(part.body.face(face), cut.box.face(face)))
    others = (feature for feature in part.features if isinstance(feature, BoxCut) and feature is not cut)
    return ZERO if any(_holds(other.box, end) for other in others) else room


def _holds(outer: Box, inner: Box) -> bool:
    """Whether the other cut takes away all that running on would spoil, a sliver of play aside."""
    return all(
        outer.span(axis).low - RUNS_OUT <= inner.span(axis).low
        and inner.span(axis).high <= outer.span(axis).high + RUNS_OUT
        for axis in Axis
    )


def is_inside(face: Face, part: Part, around: Box) -> bool:
    """Whether a face of a part at the rim of its assembly looks inwards: then it has one name on both twins."""
    span, whole = part.body.span(face.axis), around.span(face.axis)
    rim = part.body.extent(face.axis) * 2 < whole.extent
    return (
        rim
        and (whole.middle - span.middle).exact_mm * face.side > 0
        and (span.low - whole.low < span.extent or whole.high - span.high < span.extent)
    )


def bounds(parts: Sequence[Part]) -> Box:
    """The block around some parts."""
    boxes = [part.body for part in parts]
    spans = [Span(min(box.span(axis).low for box in boxes), max(box.span(axis).high for box in boxes)) for axis in Axis]
    return Box(*spans)
