"""What can be seen of each face of a scene: its region on paper less what lies before it. For tints and shading.

Most solids lie wholly before or behind a given face, and then they hide it by their whole outline; only for those that reach through the
face's plane are faces compared one by one. What one solid hides of another is kept, as in ``hidden_lines``.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from drawleaf.draw.faces import BEFORE, NOTHING, Faces, Regions, before, cleaned, faces_alone, moved, part_before
from drawleaf.draw.linework import ShadedFace
from drawleaf.draw.projection import Body
from drawleaf.draw.view import View
from drawleaf.solids.build import Solids
from drawleaf.solids.solid import Solid

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Ints = NDArray[np.int64]


@dataclass(frozen=True, eq=False)
class Shape:
    """A solid alone in a view: its faces, its outline and the eight corners of its box as u, v, depth."""

    faces: Faces
    outline: BaseGeometry
    corners: Floats


@dataclass(frozen=True, eq=False)
class Cover:
    """What one solid hides of another's faces, where the other was built: ``all_of`` faces wholly; ``outline`` lies before the faces
    of ``whole``; faces of ``mixed`` are compared one by one with ``over``, and what that gives is kept in ``parts`` and ``tables``."""

    all_of: Flags
    whole: Flags
    mixed: Flags
    outline: BaseGeometry
    over: Faces
    parts: dict[int, BaseGeometry] = field(default_factory=dict)
    tables: list[tuple[Ints, Flags, Flags]] = field(default_factory=list)

    def of(self, under: Faces, face: int) -> BaseGeometry:
        """What it covers of the face (or more)."""
        if self.whole[face]:
            return self.outline
        if not self.mixed[face]:
            return NOTHING
        if face not in self.parts:
            rows, near, entire = self._tables(under)
            row = int(np.searchsorted(rows, face))
            found = [
                part_before(under, self.over, face, other, bool(entire[row, other]))
                for other in np.flatnonzero(near[row]).tolist()
            ]
            self.parts[face] = shapely.union_all(found) if found else NOTHING
        return self.parts[face]

    def _tables(self, under: Faces) -> tuple[Ints, Flags, Flags]:
        if not self.tables:
            rows = np.flatnonzero(self.mixed)
            self.tables.append((rows, *before(under.pick(rows), self.over)))
        return self.tables[0]


def visible_faces(solids: Solids, view: View, bodies: Sequence[Body]) -> tuple[ShadedFace, ...]:
    """The visible part of every front face, body by body; faces that do not show are left out."""
    boxes = np.array([body.box for body in bodies]).reshape(-1, 4)
    below = boxes[:, None, :2] < boxes[None, :, 2:]
    overlap: Flags = np.asarray((below & below.transpose(1, 0, 2)).all(axis=2), dtype=bool)
    shaded: list[ShadedFace] = []
    for i, body in enumerate(bodies):
        under = _shape(solids, view, body.solid).faces
        covers = [_cover(solids, view, body, bodies[j]) for j in map(int, np.flatnonzero(overlap[i])) if j != i]
        faces, regions = _left_over(under, covers)
        for face, region in zip(faces, moved(regions, body.shift), strict=True):
            x, y, z = map(float, under.normals[face])
            shaded.append(ShadedFace(body.id, (x, y, z), region))
    return tuple(shaded)


def _left_over(under: Faces, covers: Sequence[Cover]) -> tuple[list[int], Regions]:
    """What the covers leave of the faces: numbers and regions of those that show."""
    shows = np.ones(len(under.regions), dtype=bool)
    for cover in covers:
        shows &= ~cover.all_of
    touching = np.array([cover.whole | cover.mixed for cover in covers]).reshape(len(covers), len(shows))
    faces: list[int] = []
    found: list[BaseGeometry] = []
    for face in map(int, np.flatnonzero(shows)):
        region = whole = under.regions[face]
        for number in np.flatnonzero(touching[:, face]).tolist():
            region = shapely.difference(region, covers[number].of(under, face))
            if region.is_empty:
                break
        if region is not whole:
            region = cleaned(region)
        if not region.is_empty:
            faces.append(face)
            found.append(region)
    regions = np.empty(len(found), dtype=object)
    regions[:] = found
    return faces, regions


def _shape(solids: Solids, view: View, solid: Solid) -> Shape:
    key = ("shape", view, solid)
    if key not in solids.memo:
        faces = faces_alone(solids.memo["seen", view, solid].fronts)  # type: ignore[attr-defined]
        low, high = solid.bounds
        ends = np.array([[x, y, z] for x in (low[0], high[0]) for y in (low[1], high[1]) for z in (low[2], high[2])])
        solids.memo[key] = Shape(faces, shapely.union_all(faces.regions), ends @ view.axes.T)
    return solids.memo[key]  # type: ignore[return-value]


def _cover(solids: Solids, view: View, under: Body, over: Body) -> Cover:
    shift = np.round(over.shift - under.shift, 6) + 0.0
    key = ("cover", view, under.solid, over.solid, tuple(shift.tolist()))
    if key not in solids.memo:
        solids.memo[key] = _new_cover(_shape(solids, view, under.solid), _shape(solids, view, over.solid), shift)
    return solids.memo[key]  # type: ignore[return-value]


def _new_cover(under: Shape, over: Shape, shift: Floats) -> Cover:
    faces = under.faces
    (outline,) = moved(np.array([over.outline], dtype=object), shift)
    corners = over.corners + shift
    heights = corners[:, 2] - (faces.planes[:, :2] @ corners[:, :2].T + faces.planes[:, 2:])
    bounds = shapely.bounds(faces.regions).reshape(-1, 4)
    edge = np.array(shapely.bounds(outline))
    overlap = (np.minimum(bounds[:, 2:], edge[2:]) > np.maximum(bounds[:, :2], edge[:2])).all(axis=1)
    whole = overlap & (heights.min(axis=1, initial=np.inf) >= -BEFORE) & (heights.max(axis=1, initial=-np.inf) > BEFORE)
    mixed = overlap & ~whole & (heights.max(axis=1, initial=-np.inf) > BEFORE)
    all_of = np.zeros(len(faces.regions), dtype=bool)
    shapely.prepare(outline)
    all_of[whole] = shapely.covers(outline, faces.regions[whole])
    return Cover(all_of, whole, mixed, outline, over.faces.moved(shift))
