"""Bought items and fasteners as plain shapes that a reader knows at a glance. They are for drawings, not for proofs."""

from __future__ import annotations

from math import pi

import numpy as np
from manifold3d import Manifold

from drawleaf.model.catalogue import HardwareItem
from drawleaf.model.plan import Fastener, Fitting
from drawleaf.solids.cutters import block, box_of, cylinder, prism
from drawleaf.solids.solid import Curve, Floats, Solid

SCREW_GAUGE_STEP = 0.013 * 25.4
SCREW_GAUGE_ZERO = 0.060 * 25.4
"""A screw's shank is 0.060 in + 0.013 in times its gauge (ASME B18.6.1, quoted from memory). For drawings only."""


def fitting_solid(fitting: Fitting) -> Solid | None:
    """A simple shape by the kind of the item, inside the room that its body takes."""
    if fitting.body is None:
        return None
    low, high = box_of(fitting.body)
    if (high - low).min() <= 0.0:
        return None
    room = _Room(low, high, fitting)
    kind = fitting.item.kind
    if "hook" in kind:
        return _hook(room)
    if "pull" in kind:
        return _cup(room)
    if "slide" in kind:
        return _slide(room)
    if "screw" in kind:
        return _disc(room)
    return Solid(block(low, high))


def fastener_solid(fastener: Fastener) -> Solid:
    """A round bar as thick as the shank, with a head where it has one; pointed things are not needed at this scale."""
    item = fastener.item
    length = item.length.mm if item.length else 25.0
    shank = shank_of(item)
    start = np.array(fastener.at.mm)
    bar, curve = cylinder(start, fastener.direction, shank / 2.0, length)
    head, rim = cylinder(start, fastener.direction, shank, min(2.0, length / 4.0))
    return Solid(bar + head, (curve, rim))


def shank_of(item: HardwareItem) -> float:
    """The thickness of a fastener's shank in millimetres."""
    if item.diameter is not None:
        return item.diameter.mm
    if item.gauge is not None and "brad" not in item.kind:
        return SCREW_GAUGE_ZERO + SCREW_GAUGE_STEP * item.gauge
    return 1.2


class _Room:
    """A fitting's box seen from the face it is mounted on: ``out`` from the face, ``up`` the upright of the face, ``wide`` the third way."""

    def __init__(self, low: Floats, high: Floats, fitting: Fitting) -> None:
        self.low, self.high = low, high
        self.out = fitting.face.axis.index
        self.side = fitting.face.side
        self.up = 1 if self.out == 2 else 2
        self.wide = 3 - self.out - self.up

    def part(
        self, out: tuple[float, float], up: tuple[float, float], wide: tuple[float, float] = (0.0, 1.0)
    ) -> Manifold:
        """A block between fractions of the room; ``out`` counts from the mounting face."""
        if self.side < 0:
            out = (1.0 - out[1], 1.0 - out[0])
        fractions = np.zeros((2, 3))
        fractions[:, self.out], fractions[:, self.up], fractions[:, self.wide] = out, up, wide
        size = self.high - self.low
        return block(self.low + size * fractions[0], self.low + size * fractions[1])


def _hook(room: _Room) -> Solid:
    """A plate, an arm and an upturned tip."""
    plate = room.part((0.0, 0.15), (0.0, 1.0))
    arm = room.part((0.1, 1.0), (0.15, 0.35), (0.3, 0.7))
    tip = room.part((0.82, 1.0), (0.15, 0.7), (0.3, 0.7))
    return Solid(plate + arm + tip)


def _slide(room: _Room) -> Solid:
    """Two bars, one riding in the other."""
    return Solid(room.part((0.0, 0.55), (0.0, 1.0)) + room.part((0.5, 1.0), (0.15, 0.85)))


def _disc(room: _Room) -> Solid:
    """The round head of a screw."""
    middle = (room.low + room.high) / 2.0
    middle[room.out] = (room.low if room.side > 0 else room.high)[room.out]
    size = room.high - room.low
    out = [0.0, 0.0, 0.0]
    out[room.out] = float(room.side)
    radius = min(float(size[room.up]), float(size[room.wide])) / 2.0
    head, rim = cylinder(middle, (out[0], out[1], out[2]), radius, float(size[room.out]))
    return Solid(head, (rim,))


def _cup(room: _Room) -> Solid:
    """A quarter-round hood, open below."""
    size = room.high - room.low
    deep, tall = float(size[room.out]), float(size[room.up])
    frame = np.zeros((3, 3))
    frame[0, room.out], frame[1, room.up] = room.side, 1.0
    frame[2] = np.cross(frame[0], frame[1])
    origin = room.low.copy()
    origin[room.out] = (room.low if room.side > 0 else room.high)[room.out]
    if frame[2, room.wide] < 0:
        origin[room.wide] = room.high[room.wide]
    wall = min(deep, tall) * 0.12
    width = float(size[room.wide])
    hood, curve = _quarter(origin, frame, deep, tall, width)
    inner = origin + frame[2] * wall - frame[1] * wall
    hollow, inside = _quarter(inner, frame, deep - wall, tall, width - 2.0 * wall)
    return Solid(hood - hollow, (curve, inside))


def _quarter(origin: Floats, frame: Floats, deep: float, tall: float, width: float) -> tuple[Manifold, Curve]:
    turns = np.arange(13) / 12.0 * (pi / 2.0)
    arc = np.column_stack([deep * np.cos(turns), tall * np.sin(turns)])
    arc[-1] = (0.0, tall)
    body = prism(np.vstack([[0.0, 0.0], arc]), origin, frame, width)
    x, y, z = frame[2]
    return body, Curve(body.original_id(), (float(x), float(y), float(z)))
