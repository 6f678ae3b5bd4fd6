"""What stands round the piece: a plain room with a wall, a floor and a skirting, or a sweep of paper as photographers hang it; and the light."""

from __future__ import annotations

from itertools import pairwise
from math import cos, pi, radians, sin

import numpy as np

from drawleaf.looks.camera import Camera
from drawleaf.looks.scene import STILL, Body, Light, Plain, body_of, moved
from drawleaf.looks.wish import Surroundings
from drawleaf.solids.cutters import block
from drawleaf.solids.solid import Floats, Solid

_WALL = Plain((0.79, 0.775, 0.745), 0.7)
_FLOOR = Plain((0.50, 0.47, 0.43), 0.38)
_SKIRTING = Plain((0.80, 0.79, 0.77), 0.7)
_PAPER = Plain((0.79, 0.78, 0.76), 0.75)
_FAR = 9000.0
_GAP = 28.0
"""Millimetres from the wall to the back of a piece that stands before it: room for the skirting."""
_HANGS_AT = 1350.0
"""How far above the floor the lower edge of a piece on the wall is."""
FILL = (0.80, 0.80, 0.79)
_KEY = (5.6, 5.3, 4.9)


def best_surroundings(points: Floats, *, hangs: bool) -> Surroundings:
    """A room for furniture, paper for what stands on a bench."""
    return Surroundings.ROOM if hangs or float(np.ptp(points[:, 2])) > 430.0 else Surroundings.SWEEP


def surroundings(kind: Surroundings, points: Floats, *, hangs: bool, behind: bool = False) -> tuple[Body, ...]:
    """The bodies round a piece with these corners (mm). ``behind``: the camera is behind the piece, and so the wall before it."""
    if behind:
        turned = surroundings(kind, points * np.array([-1.0, -1.0, 1.0]), hangs=hangs)
        half = np.diag([-1.0, -1.0, 1.0, 1.0])
        return tuple(moved(body, half) for body in turned)
    low, high = points.min(axis=0), points.max(axis=0)
    floor = float(low[2]) - (_HANGS_AT if hangs else 0.0)
    middle = float(low[0] + high[0]) / 2.0
    if kind is Surroundings.SWEEP:
        return (_sweep(middle, float(high[1]), floor, float(np.ptp(points[:, 2]))),)
    wall = float(high[1]) + (0.0 if hangs else _GAP)
    return (
        _sheet(
            [
                [middle - _FAR, -_FAR, floor],
                [middle + _FAR, -_FAR, floor],
                [middle + _FAR, wall, floor],
                [middle - _FAR, wall, floor],
            ],
            _FLOOR,
        ),
        _sheet(
            [
                [middle - _FAR, wall, floor],
                [middle + _FAR, wall, floor],
                [middle + _FAR, wall, floor + 4000.0],
                [middle - _FAR, wall, floor + 4000.0],
            ],
            _WALL,
        ),
        _skirting(middle, wall, floor),
    )


def light_on(points: Floats, camera: Camera) -> Light:
    """A window's worth of light from the upper left of the camera, before the piece."""
    low, high = points.min(axis=0), points.max(axis=0)
    middle = (low + high) / 2.0
    size = max(float(np.linalg.norm(high - low)), 500.0)
    away = 1.35 * size + 700.0
    turn = radians(camera.yaw - 52.0)
    at = middle + away * np.array([sin(turn) * 0.80, -cos(turn) * 0.80, 0.78])
    wide = 0.9 * size + 900.0
    # The nearer or larger light gives the same brightness on the piece.
    strength = (away / wide) ** 2 / 0.92
    r, g, b = (one * strength for one in _KEY)
    return Light(
        (float(at[0]), float(at[1]), float(at[2])),
        (float(middle[0]), float(middle[1]), float(middle[2])),
        wide,
        (r, g, b),
    )


def _sheet(corners: list[list[float]], material: Plain) -> Body:
    a, b, c, d = np.array(corners, dtype=float)
    triangles = np.array([[a, b, c], [a, c, d]])
    normal = np.cross(b - a, c - a)
    normal /= np.linalg.norm(normal)
    return Body(triangles, np.broadcast_to(normal, (2, 3, 3)).copy(), material, STILL)


def _skirting(middle: float, wall: float, floor: float) -> Body:
    """A board along the foot of the wall, its upper edge bevelled."""
    low, high = np.array([middle - _FAR, wall - 18.0, floor]), np.array([middle + _FAR, wall, floor + 86.0])
    body = block(low, high)
    turned = block(np.array([middle - _FAR - 1.0, -20.0, 0.0]), np.array([middle + _FAR + 1.0, 20.0, 30.0]))
    body -= turned.rotate((35.0, 0.0, 0.0)).translate((0.0, wall - 14.0, floor + 82.0))
    return body_of(Solid(body), _SKIRTING)


def _sweep(middle: float, back: float, floor: float, high: float) -> Body:
    """Paper that lies on the floor and turns up behind the piece in a wide round."""
    radius, start = 900.0 + high, back + 500.0
    turns = np.linspace(0.0, pi / 2.0, 41)
    line = [(-_FAR, floor, 0.0), *((start + radius * sin(t), floor + radius * (1.0 - cos(t)), t) for t in turns)]
    line.append((start + radius, floor + radius + 6000.0, pi / 2.0))
    triangles, normals = [], []
    for (y0, z0, t0), (y1, z1, t1) in pairwise(line):
        a, b = [middle - _FAR, y0, z0], [middle + _FAR, y0, z0]
        c, d = [middle + _FAR, y1, z1], [middle - _FAR, y1, z1]
        first, second = [0.0, -sin(t0), cos(t0)], [0.0, -sin(t1), cos(t1)]
        triangles += [[a, b, c], [a, c, d]]
        normals += [[first, first, second], [first, second, second]]
    return Body(np.array(triangles), np.array(normals), _PAPER, STILL)
