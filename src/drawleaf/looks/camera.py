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
        x, y, z = _ahead(self.yaw).tolist()
        return x, y, z

    @property
    def field(self) -> float:
        """Degrees that the picture's width spans, before the lens is moved."""
        return float(np.degrees(2.0 * np.arctan(_LENS / 2.0)))

    def on_film(self, points: Floats) -> Floats:
        """(N, 3) where points of the piece (mm) lie in the picture: pixels right and down from its upper left corner, and their distance in mm."""
        x, y, depth = _on_film(points, np.array(self.eye), self.yaw, self.size)
        wide, high = self.size
        return np.column_stack([(0.5 + x - self.shift[0]) * wide, (0.5 - y + self.shift[1]) * high, depth])

    def finest(self, points: Floats) -> float:
        """Pixels to a millimetre where the piece is nearest."""
        nearest = float(self.on_film(points)[:, 2].min())
        return self.size[0] / (_LENS * max(nearest, 1.0))


def _ahead(yaw: float) -> Floats:
    return np.array([-sin(radians(yaw)), cos(radians(yaw)), 0.0])


def _on_film(points: Floats, eye: Floats, yaw: float, size: tuple[int, int]) -> tuple[Floats, Floats, Floats]:
    """(N) how far right and up of its middle points lie in the picture before the lens is moved, as shares of its width and height; (N) their distance in mm."""
    ahead, from_eye = _ahead(yaw), points - eye
    depth = from_eye @ ahead
    right = from_eye @ np.array([ahead[1], -ahead[0], 0.0])
    return right / depth / _LENS, from_eye[:, 2] / depth / _LENS * size[0] / size[1], depth


def framed(points: Floats, yaw: float, size: tuple[int, int], *, hangs: bool) -> Camera:
    """The camera from which all the points (mm) are well framed. ``hangs``: the piece is on the wall, near eye level."""
    low, high = points.min(axis=0), points.max(axis=0)
    middle = (low + high) / 2.0
    extent = float(np.linalg.norm(high - low))
    # Large pieces are seen as one stands before them, small ones from nearer above.
    pitch = 5.0 if hangs else float(np.interp(extent, (350.0, 1600.0), (22.0, 15.5)))
    back = np.array([0.0, 0.0, tan(radians(pitch))]) - _ahead(yaw)
    # No corner is farther from the middle than half the extent: all are before the camera.
    near, far = 0.6 * extent, 30.0 * extent
    for _ in range(48):
        away = (near + far) / 2.0
        x, y, _depth = _on_film(points, middle + away * back, yaw, size)
        if np.ptp(x) > _WIDE or np.ptp(y) > _HIGH:
            near = away
        else:
            far = away
    eye = middle + far * back
    x, y, _depth = _on_film(points, eye, yaw, size)
    shift = float(x.min() + x.max()) / 2.0, float(y.min() + y.max()) / 2.0
    return Camera((float(eye[0]), float(eye[1]), float(eye[2])), yaw, shift, size)
