"""What carries a level board: read from the joints, the pins and what it lies on. Every support counts as a simple one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from drawleaf.checks.context import TOUCH_MM, Bench, shared, span_mm
from drawleaf.model.place import Axis
from drawleaf.model.plan import Part

ENOUGH_ALONG = 0.8
"""A support that runs along this share of a board carries it as a line."""
ENOUGH_ACROSS = 0.25
"""An end support takes up at least this share of the board's width, or stands as one of several that do."""

Interval = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Support:
    """A patch that carries the board, in plan; ``by`` is the part that it is of, empty for pins."""

    x: Interval
    y: Interval
    by: str = ""

    def on(self, axis: Axis) -> Interval:
        return self.x if axis is Axis.X else self.y


@dataclass(frozen=True, slots=True)
class Spans:
    """A board across its supports along ``axis``: the widest clear ``gap``, the farthest ``overhang`` beyond the last support, both in mm.
    ``alone`` are the parts that carry it by themselves along a whole line of support, each with how much of the board, in mm along ``axis``, it bears."""

    axis: Axis
    gap: float
    overhang: float
    alone: tuple[tuple[str, float], ...] = ()


@dataclass(frozen=True, slots=True)
class _Line:
    """A line of support: its ``place`` along the span, and the patches that it is made of."""

    place: Interval
    patches: tuple[Support, ...]


def spans_of(bench: Bench, part: Part) -> tuple[Spans, ...]:
    """The ways that a level board is carried: between lines of support left and right, or front and back. Empty where it is held
    along one line alone."""
    supports = tuple(_supports(bench, part))
    found = []
    for axis in (Axis.X, Axis.Y):
        other = Axis.Y if axis is Axis.X else Axis.X
        lines = _lines(supports, axis, other, span_mm(part.seen, axis), span_mm(part.seen, other))
        if len(lines) >= 2:
            low, high = span_mm(part.seen, axis)
            gaps = [b.place[0] - a.place[1] for a, b in pairwise(lines)]
            overhang = max(lines[0].place[0] - low, high - lines[-1].place[1], 0.0)
            found.append(Spans(axis, max(gaps), overhang, tuple(_alone(lines, (low, high), other, part))))
    return tuple(found)


def _alone(lines: list[_Line], along: Interval, other: Axis, part: Part) -> Iterator[tuple[str, float]]:
    """The parts that are most of a line of support by themselves, and how much of the board each bears: to the middle of the gaps beside it, or to
    the board's end."""
    for place, line in enumerate(lines):
        longest = max(line.patches, key=lambda patch: patch.on(other)[1] - patch.on(other)[0])
        covers = longest.on(other)[1] - longest.on(other)[0]
        if longest.by and covers >= ENOUGH_ALONG * part.seen.extent(other).mm:
            low = along[0] if place == 0 else (lines[place - 1].place[1] + line.place[0]) / 2
            high = along[1] if place == len(lines) - 1 else (line.place[1] + lines[place + 1].place[0]) / 2
            yield longest.by, high - low


def _supports(bench: Bench, part: Part) -> Iterator[Support]:
    x, y = span_mm(part.seen, Axis.X), span_mm(part.seen, Axis.Y)
    if pinned(bench, part):
        if part.length_axis is Axis.Y:
            yield Support(x, (y[0], y[0]))
            yield Support(x, (y[1], y[1]))
        else:
            yield Support((x[0], x[0]), y)
            yield Support((x[1], x[1]), y)
        return
    for joint in bench.joints_of[part.id]:
        axis = joint.face.axis
        other = joint.other(part.id)
        if axis is Axis.Z or not stands(bench, other, part.id):
            continue
        cx, cy = span_mm(joint.contact, Axis.X), span_mm(joint.contact, Axis.Y)
        yield Support(cx, cy, other)
    for other in beneath(bench, part):
        ox, oy = span_mm(other.seen, Axis.X), span_mm(other.seen, Axis.Y)
        yield Support((max(x[0], ox[0]), min(x[1], ox[1])), (max(y[0], oy[0]), min(y[1], oy[1])), other.id)


def beneath(bench: Bench, part: Part) -> Iterator[Part]:
    """What a part lies on."""
    x, y, low = span_mm(part.seen, Axis.X), span_mm(part.seen, Axis.Y), part.seen.z.low.mm
    for other in bench.near.within({Axis.X: x, Axis.Y: y, Axis.Z: (low - TOUCH_MM, low + TOUCH_MM)}):
        if other.id == part.id or abs(other.seen.z.high.mm - low) > TOUCH_MM:
            continue
        if shared(x, span_mm(other.seen, Axis.X)) > TOUCH_MM and shared(y, span_mm(other.seen, Axis.Y)) > TOUCH_MM:
            yield other


def pinned(bench: Bench, part: Part) -> bool:
    """Whether it lies on shelf pins."""
    return any(fitting.item.family.holds_shelf and part.id in fitting.parts for fitting in bench.plan.fittings)


def stands(bench: Bench, part_id: str, without: str) -> bool:
    """Whether a part can carry another: it stands on the floor, hangs on the wall or is joined to a third. An edging does none."""
    part = bench.parts[part_id]
    if bench.on_floor(part) or any(
        part_id in fitting.parts for fitting in bench.plan.fittings if fitting.item.family.hangs
    ):
        return True
    return any(without not in (joint.insert, joint.receiver) for joint in bench.joints_of[part_id])


def _lines(supports: tuple[Support, ...], axis: Axis, other: Axis, along: Interval, across: Interval) -> list[_Line]:
    """Places along ``axis`` where the board is carried over enough of its extent along ``other``, merged where they touch."""
    reach = across[1] - across[0]
    long_way = along[1] - along[0] < reach
    enough = ENOUGH_ALONG if long_way else ENOUGH_ACROSS
    merged: list[_Line] = []
    for support in sorted(supports, key=lambda one: (one.on(axis), one.on(other))):
        here = support.on(axis)
        if here[1] - here[0] > 0.9 * (along[1] - along[0]):
            continue  # it runs along the span, so it carries the board sideways
        if merged and shared(merged[-1].place, here) >= -TOUCH_MM:
            place, patches = merged[-1].place, merged[-1].patches
            merged[-1] = _Line((place[0], max(place[1], here[1])), (*patches, support))
        else:
            merged.append(_Line(here, (support,)))
    return [line for line in merged if _covered([one.on(other) for one in line.patches]) >= enough * reach]


def _covered(intervals: list[Interval]) -> float:
    total, end = 0.0, float("-inf")
    for low, high in sorted(intervals):
        total += max(0.0, high - max(low, end))
        end = max(end, high)
    return total
