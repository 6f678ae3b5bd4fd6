"""From where a drawing looks at the piece, and parallel projection onto its plane.

On the drawing plane u runs to the viewer's right and v upwards, both in millimetres of the real piece (a writer of SVG flips v).
Depth grows towards the viewer.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import cos, radians, sin

import numpy as np
from numpy.typing import NDArray

from drawleaf.model.pose import Pose

Vector = tuple[float, float, float]
Array = NDArray[np.float64]

_TURNS: dict[Pose, Array] = {
    Pose.UPRIGHT: np.eye(3),
    Pose.OVER: np.diag([1.0, -1.0, -1.0]),
    Pose.ON_BACK: np.array([[1.0, 0.0, 0.0], [0.0, 0.0, 1.0], [0.0, -1.0, 0.0]]),
}
"""From the piece's frame to the room's, as the piece lies: turned over about its length, or laid down on its back, feet to the maker."""


@dataclass(frozen=True)
class View:
    """A parallel view. ``direction`` points from the piece to the viewer's eye; ``up`` is what stands upright on the paper. Both are in the
    piece's own frame; ``pose`` is how the piece lies in the room, where the light comes from above."""

    name: str
    direction: Vector
    up: Vector = (0.0, 0.0, 1.0)
    pose: Pose = Pose.UPRIGHT

    def __hash__(self) -> int:
        return hash(self.name)  # views are part of many keys, and a name's hash is kept with it

    @cached_property
    def axes(self) -> Array:
        """(3, 3) with the rows right, up and towards the viewer, as unit vectors of the piece's frame."""
        toward = np.array(self.direction, dtype=float)
        toward /= np.linalg.norm(toward)
        right = np.cross(np.array(self.up, dtype=float), toward)
        right /= np.linalg.norm(right)
        return np.array([right, np.cross(toward, right), toward])

    def on_paper(self, points: Array) -> Array:
        """(N, 2) u and v of (N, 3) points."""
        return np.asarray(points, dtype=float) @ self.axes[:2].T

    def depth(self, points: Array) -> Array:
        """(N,) distance towards the viewer of (N, 3) points."""
        return np.asarray(points, dtype=float) @ self.axes[2]

    def point(self, point: Vector) -> tuple[float, float]:
        """One point on paper."""
        u, v = self.on_paper(np.array([point]))[0]
        return (float(u), float(v))

    def from_room(self, vector: Vector) -> Vector:
        """A direction of the room, in the piece's own frame."""
        x, y, z = (float(one) + 0.0 for one in _TURNS[self.pose].T @ np.array(vector))
        return (x, y, z)

    @property
    def pictorial(self) -> bool:
        """Whether all three directions of the piece show."""
        return bool((np.abs(self.axes[2]) > 1e-9).all())


def pictorial(yaw: float = 32.0, pitch: float = 26.0, name: str = "pictorial") -> View:
    """A pictorial view: ``yaw`` degrees round the piece from straight in front (positive to the viewer's right), ``pitch`` degrees above it.

    Not the true isometric (45 and 35.26 degrees), in which 45-degree mitres stand edge-on and corners of a case fall upon one another.
    """
    a, b = radians(yaw), radians(pitch)
    return View(name, (sin(a) * cos(b), -cos(a) * cos(b), sin(b)))


def posed(view: View, pose: Pose) -> View:
    """The same view, in the room, of a piece that lies so."""
    if pose is view.pose:
        return view
    turn = View(view.name, view.direction, view.up, pose)
    return View(f"{view.name}, {pose}", turn.from_room(view.direction), turn.from_room(view.up), pose)


FRONT = View("front", (0.0, -1.0, 0.0))
BACK = View("back", (0.0, 1.0, 0.0))
RIGHT = View("right side", (1.0, 0.0, 0.0))
LEFT = View("left side", (-1.0, 0.0, 0.0))
PLAN = View("plan", (0.0, 0.0, 1.0), up=(0.0, 1.0, 0.0))
PICTORIAL = pictorial()
PICTORIAL_LEFT = pictorial(yaw=-32.0, name="pictorial from the left")
PICTORIAL_BACK = pictorial(yaw=180.0 - 32.0, name="pictorial from behind")
PICTORIAL_BACK_LEFT = pictorial(yaw=180.0 + 32.0, name="pictorial from behind, left")
PICTORIAL_BELOW = pictorial(pitch=-26.0, name="pictorial from below")
PICTORIAL_LEFT_BELOW = pictorial(yaw=-32.0, pitch=-26.0, name="pictorial from below, left")
ISOMETRIC = pictorial(45.0, 35.26438968275465, "isometric")

ELEVATIONS = (FRONT, RIGHT, PLAN)
CORNERS = (PICTORIAL, PICTORIAL_LEFT, PICTORIAL_BACK, PICTORIAL_BACK_LEFT, PICTORIAL_BELOW, PICTORIAL_LEFT_BELOW)
