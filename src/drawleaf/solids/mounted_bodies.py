"""The shapes of hardware that stands out from the face it is mounted on: hooks, pulls, slides, the heads of wall screws."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
from manifold3d import Manifold

from drawleaf.model.plan import Fitting
from drawleaf.solids.cutters import block, cylinder, triple
from drawleaf.solids.solid import Curve, Floats, Solid


class _Room:
    """A fitting's box seen from the face it is mounted on: ``out`` from the face, ``up`` the upright of the face, ``wide`` the third way."""

    def __init__(self, low: Floats, high: Floats, fitting: Fitting) -> None:
        self.low, self.high = low, high
        self.out = fitting.face.axis.index
        self.side = fitting.face.side
        self.up = 1 if self.out == 2 else 2
        self.wide = 3 - self.out - self.up

    @property
    def size(self) -> Floats:
        return self.high - self.low

    @property
    def outward(self) -> tuple[float, float, float]:
        """The unit vector away from the mounting face."""
        out = [0.0, 0.0, 0.0]
        out[self.out] = float(self.side)
        return (out[0], out[1], out[2])

    def at(self, out: float, up: float, wide: float) -> Floats:
        """A point by fractions of the room; ``out`` counts from the mounting face."""
        fractions = np.zeros(3)
        fractions[self.out] = out if self.side > 0 else 1.0 - out
        fractions[self.up], fractions[self.wide] = up, wide
        return self.low + self.size * fractions

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


_HOOK_BEND = 12
"""So many short straight pieces make the round of a hook."""


def hook(fitting: Fitting, low: Floats, high: Floats) -> Solid:
    """A plate with round ends and a round rod like a J: straight out, down and round to a tip that points up, with a rounded end."""
    room = _Room(low, high, fitting)
    body, curves = _plate(room)
    points = _hook_line(room)
    radius = _rod(room)
    arm = Manifold.batch_hull([_ball(points[0], radius), _ball(points[1], radius)])
    for start, end in pairwise(points[1:]):
        arm += Manifold.batch_hull([_ball(start, radius), _ball(end, radius)])
    # One surface all along: no line is drawn where its pieces meet.
    arm = arm.as_original()
    return Solid(body + arm, (*curves, Curve(arm.original_id(), (0.0, 0.0, 0.0))))


def _rod(room: _Room) -> float:
    """Half the thickness of a hook's rod, in millimetres."""
    return 0.13 * min(float(room.size[room.wide]), float(room.size[room.out]))


def _hook_line(room: _Room) -> list[Floats]:
    """The middle line of a hook: slanting down from its plate, then a half circle to the front, and a short way up."""
    deep, tall, rod = float(room.size[room.out]), float(room.size[room.up]), _rod(room)
    bend = (0.9 * deep - 2.0 * rod) / 2.6
    middle = (deep - rod - bend, rod + bend)
    turns = np.linspace(-np.pi * 0.85, 0.0, _HOOK_BEND + 1)
    round_ = [(middle[0] + bend * float(np.cos(turn)), middle[1] + bend * float(np.sin(turn))) for turn in turns]
    tip = (middle[0] + bend, min(middle[1] + 0.9 * bend, 0.9 * tall))
    ways = [(rod, 0.62 * tall), *round_, tip]
    return [room.at(out / deep, up / tall, 0.5) for out, up in ways]


def _plate(room: _Room) -> tuple[Manifold, list[Curve]]:
    """A thin plate whose upper and lower ends are round."""
    wide, thick = float(room.size[room.wide]), max(1.5, 0.06 * float(room.size[room.out]))
    half = wide / 2.0
    share = half / float(room.size[room.up])
    body = room.part((0.0, thick / float(room.size[room.out])), (share, 1.0 - share))
    curves = []
    for up in (share, 1.0 - share):
        disc, curve = cylinder(room.at(0.0, up, 0.5), room.outward, half, thick)
        body += disc
        curves.append(curve)
    return body, curves


def _ball(middle: Floats, radius: float) -> Manifold:
    return Manifold.sphere(radius, 24).translate(triple(middle))


def slide(fitting: Fitting, low: Floats, high: Floats) -> Solid:
    """Two bars, one riding in the other."""
    room = _Room(low, high, fitting)
    return Solid(room.part((0.0, 0.55), (0.0, 1.0)) + room.part((0.5, 1.0), (0.15, 0.85)))


def screw_head(fitting: Fitting, low: Floats, high: Floats) -> Solid:
    """The round head of a screw."""
    room = _Room(low, high, fitting)
    middle = (room.low + room.high) / 2.0
    middle[room.out] = (room.low if room.side > 0 else room.high)[room.out]
    size = room.high - room.low
    out = [0.0, 0.0, 0.0]
    out[room.out] = float(room.side)
    radius = min(float(size[room.up]), float(size[room.wide])) / 2.0
    head, rim = cylinder(middle, (out[0], out[1], out[2]), radius, float(size[room.out]))
    return Solid(head, (rim,))


def cup_pull(fitting: Fitting, low: Floats, high: Floats) -> Solid:
    """A thin hood like a quarter of an egg, open below, on a narrow rim."""
    room = _Room(low, high, fitting)
    deep, tall, wide = (float(room.size[axis]) for axis in (room.out, room.up, room.wide))
    wall = 1.6
    rim = min(3.0, 0.1 * tall)
    outer = _egg(room, deep, tall - rim, wide - 2.0 * rim)
    inner = _egg(room, deep - wall, tall - rim - wall, wide - 2.0 * (rim + wall))
    flange = _egg(room, 1.0e3, tall, wide)
    quarter = room.part((0.0, 1.0), (0.0, 1.0))
    below = room.part((0.0, wall / deep), (0.0, 1.0))
    shell = (outer - inner) ^ quarter
    plate = (flange - inner) ^ below
    sources = (outer, inner, flange)
    return Solid(shell + plate, tuple(Curve(one.original_id(), (0.0, 0.0, 0.0)) for one in sources))


def _egg(room: _Room, deep: float, tall: float, wide: float) -> Manifold:
    """An ellipsoid about the middle of the room's lower edge on the mounting face, by its half sizes outwards and upwards and its width."""
    scale = [0.0, 0.0, 0.0]
    scale[room.out], scale[room.up], scale[room.wide] = deep, tall, wide / 2.0
    ball = Manifold.sphere(1.0, 40).scale((scale[0], scale[1], scale[2]))
    return ball.translate(triple(room.at(0.0, 0.0, 0.5))).as_original()
