"""A screw, brad or pin seen from the side, true to size: head, shank, thread and point; a dowel or peg as a plain bar. Thread and head are drawn by rule of thumb
(common practice, no source): a countersunk head twice the shank wide, thread over the lower two thirds; a pan head as wide lies on the face, on its washer."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction

from drawleaf.draw.at_step.bored import slot_axis
from drawleaf.draw.paper.style import NARROW, THREAD
from drawleaf.draw.paper.svg import Poly, Sketch
from drawleaf.draw.picture.picture import Window
from drawleaf.draw.sight.view import View
from drawleaf.model.catalogue import FastenerKind
from drawleaf.model.plan import Fastener, Plan
from drawleaf.setting_out.screws import SLOT_HOLES, clearance_hole, entered_face
from drawleaf.solids.bodies import shank_of
from drawleaf.units import Length

_HEAD_DEEP = 0.6
_SMOOTH = 0.34
_THREAD_PITCH = 0.75
_POINT = 1.6
_PAN_HIGH = 0.7
_WASHER_MM = 1.2
_FLAT_BELOW = (FastenerKind.POCKET_SCREW, FastenerKind.PAN_HEAD_SCREW)


def draw_profile(
    sketch: Sketch, view: View, window: Window, fastener: Fastener, slot: tuple[float, float] | None = None
) -> None:
    """Over everything drawn so far: filled white, so that the hatching does not run through it. ``slot`` is what it slides in, cut along its
    length: so many mm to either side, and so many deep."""
    thick = shank_of(fastener.item)
    length = fastener.item.length.mm if fastener.item.length else 25.0
    head = view.point(fastener.at.mm)
    far = tuple(a + d for a, d in zip(fastener.at.mm, fastener.direction, strict=True))
    end = view.point((far[0], far[1], far[2]))
    du, dv = end[0] - head[0], end[1] - head[1]
    size = (du * du + dv * dv) ** 0.5
    if size < 0.5:
        return
    along, across = (du / size, dv / size), (-dv / size, du / size)

    def at(down: float, side: float) -> tuple[float, float]:
        return window.at(head[0] + along[0] * down + across[0] * side, head[1] + along[1] * down + across[1] * side)

    outline = (
        [(0.0, thick / 2), (length, thick / 2)]
        if fastener.item.pin
        else _brad(length, thick)
        if fastener.item.kind == FastenerKind.BRAD
        else _screw(length, thick, fastener)
    )
    _draw_cover(sketch, at, fastener)
    if slot is not None:
        _draw_block(sketch, at, slot[0], 0.0, slot[1])
    if fastener.washer is not None:
        wide = fastener.washer.diameter.mm if fastener.washer.diameter else 2.7 * thick
        _draw_block(sketch, at, wide / 2, -_WASHER_MM, 0.0)
    half = [*outline, *((down, -side) for down, side in reversed(outline))]
    ring = Poly(tuple(at(down, side) for down, side in half), closed=True)
    sketch.blanks.append(ring)
    sketch.shape(NARROW, ring)
    if fastener.item.pin:
        # Its grain.
        for side in (-0.25, 0.0, 0.25):
            sketch.line(THREAD, at(0.06 * length, side * thick), at(0.94 * length, side * thick))
    elif fastener.item.kind != FastenerKind.BRAD:
        for down in _threads(length, thick):
            sketch.line(THREAD, at(down, thick / 2), at(down + _THREAD_PITCH * thick * 0.6, -thick / 2))


def slot_of(plan: Plan, view: View, screw: Fastener) -> tuple[float, float] | None:
    """How far the slot of a screw reaches to either side, and how deep it is, mm; None where it has none, or one that runs out of the paper."""
    if not screw.slotted or screw.item.gauge is None:
        return None
    way = slot_axis(plan, screw)
    middle = screw.at.moved(way, screw.at.along(way) + Length.of_mm(1)).mm
    here, there = view.point(screw.at.mm), view.point(middle)
    if abs(here[0] - there[0]) + abs(here[1] - there[1]) < 0.01:
        return None
    deep = plan.part(screw.through).body.extent(entered_face(screw).axis)
    return (clearance_hole(screw.item.gauge) * Fraction(SLOT_HOLES, 2)).mm, deep.mm


def _draw_cover(sketch: Sketch, at: Callable[[float, float], tuple[float, float]], fastener: Fastener) -> None:
    """The hole over a sunk head, cut through: with the plug or the filler in it, or open."""
    if not fastener.sunk:
        return
    wide = fastener.counterbore
    half, deep = (wide.mm / 2 if wide else shank_of(fastener.item)), fastener.sunk.mm
    _draw_block(sketch, at, half, -deep, 0.0)
    if fastener.plug is not None:
        # Its grain runs as the face's does, across the screw.
        for share in (0.25, 0.5, 0.75):
            sketch.line(THREAD, at(-deep * share, half), at(-deep * share, -half))


def _draw_block(
    sketch: Sketch, at: Callable[[float, float], tuple[float, float]], half: float, high: float, low: float
) -> None:
    """A white block about the screw's middle line, ``half`` mm to either side, from ``high`` to ``low`` below the face."""
    ring = Poly(
        tuple(at(down, side) for down, side in ((high, half), (low, half), (low, -half), (high, -half))), closed=True
    )
    sketch.blanks.append(ring)
    sketch.shape(NARROW, ring)


def _screw(length: float, thick: float, fastener: Fastener) -> list[tuple[float, float]]:
    """The one half of the outline, from the head down: (distance from the head, distance from the middle line)."""
    if fastener.item.kind in _FLAT_BELOW:
        seat = -_WASHER_MM if fastener.washer is not None else 0.0
        top = seat - _PAN_HIGH * thick
        head = [(top, 0.6 * thick), (top / 2 + seat / 2, thick), (seat, thick), (seat, thick / 2)]
    else:
        head = [(0.0, thick), (_HEAD_DEEP * thick, thick / 2)]
    return [*head, (length - _POINT * thick, thick / 2), (length, 0.0)]


def _brad(length: float, thick: float) -> list[tuple[float, float]]:
    return [(0.0, thick * 0.8), (0.5, thick * 0.8), (0.5, thick / 2), (length - 1.5 * thick, thick / 2), (length, 0.0)]


def _threads(length: float, thick: float) -> Sequence[float]:
    pitch = _THREAD_PITCH * thick
    first, last = _SMOOTH * length, length - _POINT * thick - pitch
    return [first + k * pitch for k in range(max(0, int((last - first) / pitch) + 1))]
