"""The piece cut by a plane as one view shows it: the cut faces, part by part, and the lines that are seen behind them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from drawleaf.draw.sight.hidden_lines import project
from drawleaf.draw.sight.linework import Linework
from drawleaf.draw.sight.view import FRONT, PLAN, RIGHT, View
from drawleaf.model.place import Axis
from drawleaf.solids.build import Solids
from drawleaf.solids.halves import half
from drawleaf.solids.memos import Memo
from drawleaf.solids.solid import Solid

LOOKING = {Axis.X: RIGHT, Axis.Y: FRONT, Axis.Z: PLAN}
"""How a section across each axis is looked at: as the elevation of the same direction."""

_AT_PLANE = 1e-6
_HALVES: Memo[tuple[Axis, float, int], tuple[Solids, frozenset[str]]] = Memo()


@dataclass(frozen=True, eq=False)
class Cut:
    """A section: ``regions`` are the cut faces on paper by part or fitting id; ``work`` shows what lies behind the plane."""

    axis: Axis
    at: float
    work: Linework
    regions: dict[str, BaseGeometry]

    @property
    def view(self) -> View:
        return self.work.view

    @property
    def depth(self) -> float:
        """How near to the viewer the plane lies, in mm."""
        return float(self.view.axes[2][self.axis.index]) * self.at


def cut_at(solids: Solids, axis: Axis, at: float, shown: Sequence[str]) -> Cut:
    """Cut the shown bodies at ``at`` millimetres on ``axis`` and look at the half behind the plane."""
    view = LOOKING[axis]
    side = 1 if view.direction[axis.index] < 0 else -1
    behind, ids = _HALVES.get(solids.memos, (axis, round(at, 6), side), lambda: half(solids, axis, at, side))
    kept = [one for one in shown if one in ids]
    bodies = {one: body for one in kept if (body := behind.body(one)) is not None}
    faces = {one: _cut_face(body, axis, at, view) for one, body in bodies.items()}
    return Cut(axis, at, project(behind, view, kept), {one: face for one, face in faces.items() if not face.is_empty})


def _cut_face(solid: Solid, axis: Axis, at: float, view: View) -> BaseGeometry:
    """What of the solid's surface lies in the plane and looks at the viewer."""
    mesh = solid.mesh
    flat = np.abs(mesh.triangles[:, :, axis.index] - at).max(axis=1) < _AT_PLANE
    facing = mesh.normals @ np.array(view.direction) > 0.999
    points = mesh.triangles[flat & facing]
    if not len(points):
        return shapely.Polygon()
    return shapely.union_all(shapely.polygons(view.on_paper(points.reshape(-1, 3)).reshape(-1, 3, 2)))
