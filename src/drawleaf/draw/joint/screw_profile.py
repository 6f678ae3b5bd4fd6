"""A screw, brad or pin seen from the side, true to size: head, shank, thread and point; a dowel or peg as a plain bar. Thread and head are drawn by rule of thumb
(common practice, no source): a countersunk head twice the shank wide, thread over the lower two thirds."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from drawleaf.draw.paper.style import NARROW, THREAD
from drawleaf.draw.paper.svg import Poly, Sketch
from drawleaf.draw.picture.picture import Window
from drawleaf.draw.sight.view import View
from drawleaf.model.catalogue import FastenerKind
from drawleaf.model.plan import Fastener
from drawleaf.solids.bodies import shank_of

_HEAD_DEEP = 0.6
_SMOOTH = 0.34
_THREAD_PITCH = 0.75
_POINT = 1.6


def draw_profile(sketch: Sketch, view: View, window: Window, fastener: Fastener) -> None:
    """Over everything drawn so far: filled white, so that the hatching does not run through it."""
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
        else _screw(length, thick, fastener.item.kind == FastenerKind.POCKET_SCREW)
    )
    _draw_cover(sketch, at, fastener)
    half = [*outline, *((down, -side) for down, side in reversed(outline))]
    ring = Poly(tuple(at(down, side) for down, side in half), closed=True)
    sketch.blanks.append(ring)
    sketch.shape(NARROW, ring)
    if fastener.item.kind != FastenerKind.BRAD and not fastener.item.pin:
        for down in _threads(length, thick):
            sketch.line(THREAD, at(down, thick / 2), at(down + _THREAD_PITCH * thick * 0.6, -thick / 2))


def _draw_cover(sketch: Sketch, at: Callable[[float, float], tuple[float, float]], fastener: Fastener) -> None:
    """What hides a sunk head: the plug or the filler in its hole, cut through."""
    if not fastener.sunk:
        return
    wide = fastener.plug.diameter if fastener.plug is not None else None
    half, deep = (wide.mm / 2 if wide else shank_of(fastener.item)), fastener.sunk.mm
    ring = Poly(
        tuple(at(down, side) for down, side in ((-deep, half), (0.0, half), (0.0, -half), (-deep, -half))), closed=True
    )
    sketch.blanks.append(ring)
    sketch.shape(NARROW, ring)
    if fastener.plug is not None:
        # Its grain runs as the face's does, across the screw.
        for share in (0.25, 0.5, 0.75):
            sketch.line(THREAD, at(-deep * share, half), at(-deep * share, -half))


def _screw(length: float, thick: float, flat_head: bool) -> list[tuple[float, float]]:
    """The one half of the outline, from the head down: (distance from the head, distance from the middle line)."""
    head = (
        [(-0.45 * thick, thick), (0.0, thick), (0.0, thick / 2)]
        if flat_head
        else [(0.0, thick), (_HEAD_DEEP * thick, thick / 2)]
    )
    return [*head, (length - _POINT * thick, thick / 2), (length, 0.0)]


def _brad(length: float, thick: float) -> list[tuple[float, float]]:
    return [(0.0, thick * 0.8), (0.5, thick * 0.8), (0.5, thick / 2), (length - 1.5 * thick, thick / 2), (length, 0.0)]


def _threads(length: float, thick: float) -> Sequence[float]:
    pitch = _THREAD_PITCH * thick
    first, last = _SMOOTH * length, length - _POINT * thick - pitch
    return [first + k * pitch for k in range(max(0, int((last - first) / pitch) + 1))]
