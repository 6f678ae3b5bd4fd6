"""Where the camera stands: level, so that uprights stay upright, as far away as the piece asks for, with the piece in the middle of the frame.

A photographer moves the lens up or down behind a level camera in place of tilting it; so does this one.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians, sin, tan

import numpy as np

from drawleaf.solids.solid import Floats

_LENS = 36.0 / 50.0
"""Width of the film over the focal length: a 50 mm lens on 35 mm film."""
_WIDE, _HIGH = 0.78, 0.74
"""The share of the frame that the piece may take."""


@dataclass(frozen=True, slots=True)
class Camera:
    """A level camera. ``eye`` in mm; ``yaw`` degrees round the piece from straight in front, positive to the viewer's right; ``shift`` how far the
    lens is moved, as shares of the picture's width and height, right and up; ``size`` of the picture in pixels."""

    eye: tuple[float, float, float]
    yaw: float
    shift: tuple[float, float]
    size: tuple[int, int]

    @property
    def ahead(self) -> tuple[float, float, float]:
        """The direction in which it looks."""
        return -sin(radians(self.yaw)), cos(radians(self.yaw)), 0.0

    @property
    def field(self) -> float:
        """Degrees that the picture's width spans, before the lens is moved."""
        return float(np.degrees(2.0 * np.arctan(_LENS / 2.0)))

    def on_film(self, points: Floats) -> Floats:
        """(N, 3) where points of the piece (mm) lie in the picture: pixels right and down from its upper left corner, and their distance in mm."""
        right, _, ahead = _axes(self.yaw)
        from_eye = points - np.array(self.eye)
        depth = from_eye @ ahead
        x = from_eye @ right / depth / _LENS + 0.5 - self.shift[0]
        wide, high = self.size
        y = 0.5 - (from_eye[:, 2] / depth / _LENS) * wide / high + self.shift[1]
        return np.column_stack([x * wide, y * high, depth])

    def finest(self, points: Floats) -> float:
        """Pixels to a millimetre where the piece is nearest."""
        nearest = float(self.on_film(points)[:, 2].min())
        return self.size[0] / (_LENS * max(nearest, 1.0))


def _axes(yaw: float) -> tuple[Floats, Floats, Floats]:
    a = radians(yaw)
    return np.array([cos(a), sin(a), 0.0]), np.array([0.0, 0.0, 1.0]), np.array([-sin(a), cos(a), 0.0])


def framed(points: Floats, yaw: float, size: tuple[int, int], *, hangs: bool, fill: float = 1.0) -> Camera:
    """The camera from which all the points (mm) are well framed. ``hangs``: the piece is on the wall, near eye level; ``fill`` times the usual
    share of the picture is taken."""
    low, high = points.min(axis=0), points.max(axis=0)
    middle = (low + high) / 2.0
    extent = float(np.linalg.norm(high - low))
    # Large pieces are seen as one stands before them, small ones from nearer above.
    pitch = 5.0 if hangs else float(np.interp(extent, (350.0, 1600.0), (22.0, 15.5)))
    right, _, ahead = _axes(yaw)
    near, far = 0.6 * extent, 30.0 * extent
    for _ in range(48):
        away = (near + far) / 2.0
        eye = middle - away * ahead + np.array([0.0, 0.0, away * tan(radians(pitch))])
        depth = (points - eye) @ ahead
        if depth.min() <= 0.05 * extent:
            near = away
            continue
        x = (points - eye) @ right / depth / _LENS
        y = (points - eye)[:, 2] / depth / _LENS * size[0] / size[1]
        if np.ptp(x) > _WIDE * fill or np.ptp(y) > _HIGH * fill:
            near = away
        else:
            far = away
    away = far
    eye = middle - away * ahead + np.array([0.0, 0.0, away * tan(radians(pitch))])
    depth = (points - eye) @ ahead
    x = (points - eye) @ right / depth / _LENS
    y = (points - eye)[:, 2] / depth / _LENS * size[0] / size[1]
    shift = float(x.min() + x.max()) / 2.0, float(y.min() + y.max()) / 2.0
    return Camera((float(eye[0]), float(eye[1]), float(eye[2])), yaw, shift, size)
