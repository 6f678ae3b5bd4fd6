"""Where helps stand: a block against a side of what comes, spacers in a gap, a strip across parts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from drawleaf.model.place import Axis, Box, Face, Span
from drawleaf.units import Length, LengthFormat, Units

LEVEL = Length.of_mm(Fraction(1, 2))
"""Faces no farther apart than this are level."""


@dataclass(frozen=True, slots=True)
class Ruler:
    """The usual sizes of such scraps: their thickness, how far a fence stands up, how wide a spacer is (common practice, no source)."""

    thick: Length
    stand: Length
    wide: Length


INCH = Ruler(Length.of_inches(3) / 4, Length.of_inches(3) / 2, Length.of_inches(3))
METRIC = Ruler(Length.of_mm(18), Length.of_mm(40), Length.of_mm(75))


def ruler_of(form: LengthFormat) -> Ruler:
    """The sizes of the units that are printed."""
    return METRIC if form.units is Units.MM else INCH


@dataclass(frozen=True, slots=True)
class Block:
    """The room of a fence or stop. ``flush``: it lies across both parts, which come level at it."""

    box: Box
    flush: bool


def beside(subject: Box, receiver: Box, toward: Face, contact: Box, face: Face, ruler: Ruler, own: Mapping[Axis, Length]) -> Block | None:  # fmt: skip
    """A block on the ``receiver``, against that ``face`` of the ``subject``, which meets it with its face ``toward``; None where the receiver
    gives it no hold. ``own`` are extents that the author gives."""
    plane, base = contact.face(toward), subject.face(face)
    run = next(axis for axis in Axis if axis not in (toward.axis, face.axis))
    thick, stand = own.get(face.axis, ruler.thick), own.get(toward.axis, ruler.stand)
    over = Span.between(base, base + thick * face.side)
    middle, long = contact.span(run).middle, own.get(run, max(contact.extent(run), ruler.stand))
    up = Span.between(plane, plane - stand * toward.side)
    lies = receiver.span(face.axis).overlap(over)
    flush = abs(receiver.face(face) - base) <= LEVEL
    if flush:
        back = min(stand, receiver.extent(toward.axis)) * toward.side
        up = Span.between(plane + back, plane - stand * toward.side)
    elif lies is None or lies.extent * 2 < thick:
        return None
    box = subject.with_span(face.axis, over).with_span(toward.axis, up)
    return Block(box.with_span(run, Span(middle - long / 2, middle + long / 2)), flush)


def from_nearest_end(receiver: Box, face: Face, edge: Length) -> tuple[Face, Length] | None:
    """How far an edge is from the nearer end of what it lies on; None where it lies at the end itself."""
    span = receiver.span(face.axis)
    return _nearer(face.axis, edge - span.low, span.high - edge)


def _nearer(axis: Axis, low: Length, high: Length) -> tuple[Face, Length] | None:
    """The nearer of two ends that are so far off; None where that is no distance."""
    near = (axis.low, low) if low <= high else (axis.high, high)
    return near if near[1] > LEVEL else None


def gaps(boxes: Sequence[tuple[str, Box]]) -> tuple[Axis, list[tuple[str, str, Box]]] | None:
    """The rooms between parts that stand in a row, each with the two that bound it, and the axis of the row; None where they do not."""
    for axis in Axis:
        row = sorted(boxes, key=lambda one: one[1].span(axis).low)
        found: list[tuple[str, str, Box]] = []
        for (one, low), (other, high) in pairwise(row):
            room = _between(low, high, axis)
            if room is None:
                break
            found.append((one, other, room))
        if len(found) == len(row) - 1:
            return axis, found
    return None


def _between(low: Box, high: Box, axis: Axis) -> Box | None:
    a, b = axis.others()
    spans = {one: low.span(one).overlap(high.span(one)) for one in (a, b)}
    start, end = low.span(axis).high, high.span(axis).low
    if start + LEVEL >= end or spans[a] is None or spans[b] is None:
        return None
    box = low.with_span(axis, Span(start, end))
    for one, span in spans.items():
        assert span is not None
        box = box.with_span(one, span)
    return box


def in_gap(room: Box, axis: Axis, ruler: Ruler, own: Mapping[Axis, Length]) -> tuple[Box, Box]:
    """Two spacers, one at each end of a gap: on edge in a wide one, flat in a narrow one."""
    long, short = sorted(axis.others(), key=lambda one: room.extent(one), reverse=True)
    wide = room.extent(axis) > ruler.wide
    along = own.get(long, min(room.extent(long) / 2, ruler.thick if wide else ruler.wide))
    across = own.get(short, min(room.extent(short), ruler.wide))
    middle, span = room.span(short).middle, room.span(long)
    block = room.with_span(short, Span(middle - across / 2, middle + across / 2))
    ends = Span(span.low, span.low + along), Span(span.high - along, span.high)
    return block.with_span(long, ends[0]), block.with_span(long, ends[1])


def across(boxes: Sequence[Box], on: Face, ruler: Ruler, own: Mapping[Axis, Length], at: Mapping[Axis, Length]) -> Box | None:  # fmt: skip
    """A strip that lies on one side of all these; None where that side is not level."""
    outer = [box.face(on) for box in boxes]
    if max(outer) - min(outer) > LEVEL:
        return None
    run, side = _run_of(boxes, on)
    thick, wide = own.get(on.axis, ruler.thick), own.get(side, ruler.stand)
    shared = Span(max(box.span(side).low for box in boxes), min(box.span(side).high for box in boxes))
    reach = shared if shared.low < shared.high else _reach(boxes, side)
    middle = at.get(side, reach.middle)
    whole = _reach(boxes, run)
    long = own.get(run, whole.extent)
    box = boxes[0].with_span(on.axis, Span.between(outer[0], outer[0] + thick * on.side))
    box = box.with_span(side, Span(middle - wide / 2, middle + wide / 2))
    return box.with_span(run, Span(whole.middle - long / 2, whole.middle + long / 2))


def _run_of(boxes: Sequence[Box], on: Face) -> tuple[Axis, Axis]:
    """The axis that a strip across these runs along, and the one across it."""
    a, b = sorted(on.axis.others(), key=lambda axis: (_apart(boxes, axis), _reach(boxes, axis).extent))
    return b, a


def edge_of(strip: Box, host: Box, on: Face, boxes: Sequence[Box]) -> tuple[Face, Length] | None:
    """How far the strip's edge is from the nearer end of what it lies on; None where it lies in the middle."""
    _, side = _run_of(boxes, on)
    low, high = strip.span(side).low - host.span(side).low, host.span(side).high - strip.span(side).high
    return None if abs(low - high) <= LEVEL else _nearer(side, low, high)


def _apart(boxes: Sequence[Box], axis: Axis) -> bool:
    """Whether some of them lie beside each other along an axis, and not over each other."""
    row = sorted((box.span(axis) for box in boxes), key=lambda span: span.low)
    return any(one.overlap(other) is None for one, other in pairwise(row))


def _reach(boxes: Sequence[Box], axis: Axis) -> Span:
    spans = [box.span(axis) for box in boxes]
    return Span(min(span.low for span in spans), max(span.high for span in spans))


def size_of(box: Box) -> tuple[Length, Length, Length]:
    """Length, width and thickness: the largest extent first."""
    return tuple(sorted((box.extent(axis) for axis in Axis), reverse=True))  # type: ignore[return-value]
