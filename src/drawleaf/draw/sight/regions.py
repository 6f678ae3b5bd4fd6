"""What can be seen of each face of a scene: its region on paper less what lies before it. For tints and shading.

Most solids lie wholly before or behind a given face, and then they hide it by their whole outline; only for those that reach through the
face's plane are faces compared one by one. What one solid hides of another is kept, as in ``hidden_lines``.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from drawleaf.draw.sight.faces import (
    BEFORE,
    NOTHING,
    Faces,
    Regions,
    before,
    cleaned,
    faces_alone,
    joined,
    moved,
    parts_before,
)
from drawleaf.draw.sight.linework import ShadedFace
from drawleaf.draw.sight.projection import Body, behind_their_like, seen
from drawleaf.draw.sight.view import View
from drawleaf.solids.build import Solids
from drawleaf.solids.memos import Memo
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

    @cached_property
    def touches(self) -> bool:
        """Whether it covers anything at all."""
        return bool((self.whole | self.mixed).any())

    def of(self, under: Faces, faces: Ints) -> Regions:
        """What it covers of each of these faces, which it touches (or more)."""
        missing = np.array(
            [face for face in faces[self.mixed[faces]].tolist() if face not in self.parts], dtype=np.int64
        )
        if len(missing):
            self.parts.update(zip(missing.tolist(), self._compared(under, missing), strict=True))
        found = np.empty(len(faces), dtype=object)
        found[:] = [self.parts[face] if self.mixed[face] else self.outline for face in faces.tolist()]
        return found

    def _compared(self, under: Faces, faces: Ints) -> list[BaseGeometry]:
        rows, near, entire = self._tables(under)
        near = near[np.searchsorted(rows, faces)]
        entire = entire[np.searchsorted(rows, faces)]
        which, others = np.nonzero(near)
        parts = parts_before(under, self.over, faces[which], others, entire[which, others])
        found = [parts[which == number] for number in range(len(faces))]
        found = [some[~shapely.is_empty(some)] for some in found]
        return [shapely.union_all(some) if len(some) > 1 else some[0] if len(some) else NOTHING for some in found]

    def _tables(self, under: Faces) -> tuple[Ints, Flags, Flags]:
        if not self.tables:
            rows = np.flatnonzero(self.mixed)
            self.tables.append((rows, *before(under.pick(rows), self.over)))
        return self.tables[0]


@dataclass(frozen=True, eq=False)
class Seen:
    """What can be seen of a solid's faces, where it was built: their numbers and regions."""

    faces: list[int]
    regions: Regions

    @cached_property
    def outline(self) -> BaseGeometry:
        """All of them as one area."""
        return joined(self.regions)


_SHAPES: Memo[tuple[View, Solid], Shape] = Memo(lambda key: key[1:])
_COVERS: Memo[tuple[View, Solid, Solid, bytes], Cover] = Memo(lambda key: key[1:3])
"""What the second solid hides of the first, where the second stands as the bytes say."""
_SEEN_FACES: Memo[tuple[View, Solid, tuple[tuple[Solid, bytes], ...]], Seen] = Memo(
    lambda key: (key[1], *(solid for solid, _ in key[2]))
)


class Visible:
    """The visible regions of a scene, worked out body by body when asked for. What is left of a solid under the same others is kept:
    the drawings of steps share it."""

    def __init__(self, solids: Solids, view: View, bodies: Sequence[Body]) -> None:
        self._solids, self._view, self._bodies = solids, view, bodies
        self._number = {body.id: i for i, body in enumerate(bodies)}
        self._behind = behind_their_like(bodies)

    def faces(self) -> tuple[ShadedFace, ...]:
        """The visible part of every front face, body by body; faces that do not show are left out."""
        shaded: list[ShadedFace] = []
        for i, body in enumerate(self._bodies):
            seen, normals = self._seen(i), _shape(self._solids, self._view, body.solid).faces.normals
            for face, region in zip(seen.faces, moved(seen.regions, body.shift), strict=True):
                x, y, z = map(float, normals[face])
                shaded.append(ShadedFace(body.id, (x, y, z), region))
        return tuple(shaded)

    def outline(self, an_id: str) -> BaseGeometry:
        """The area in which one body can be seen; empty where it is hidden whole or not of the scene."""
        if an_id not in self._number:
            return NOTHING
        i = self._number[an_id]
        (outline,) = moved(np.array([self._seen(i).outline], dtype=object), self._bodies[i].shift)
        return outline

    @cached_property
    def _overlap(self) -> Flags:
        boxes = np.array([body.box for body in self._bodies]).reshape(-1, 4)
        below = boxes[:, None, :2] < boxes[None, :, 2:]
        return np.asarray((below & below.transpose(1, 0, 2)).all(axis=2), dtype=bool)

    @cached_property
    def _relative(self) -> Floats:
        places = np.array([body.shift for body in self._bodies])
        return np.round(places[None] - places[:, None], 9) + 0.0

    def _seen(self, i: int) -> Seen:
        if i in self._behind:
            return Seen([], np.empty(0, dtype=object))
        solid = self._bodies[i].solid
        covers = {
            (self._bodies[j].solid, self._relative[i, j].tobytes()): self._cover(i, j)
            for j in np.flatnonzero(self._overlap[i]).tolist()
            if j != i and j not in self._behind  # what such a body hides the one before it hides too
        }
        covers = {place: cover for place, cover in covers.items() if cover.touches}

        def make() -> Seen:
            return Seen(*_left_over(_shape(self._solids, self._view, solid).faces, list(covers.values())))

        return _SEEN_FACES.get(self._solids.memos, (self._view, solid, tuple(covers)), make)

    def _cover(self, i: int, j: int) -> Cover:
        under, over, shift = self._bodies[i].solid, self._bodies[j].solid, self._relative[i, j]

        def make() -> Cover:
            mine, theirs = _shape(self._solids, self._view, under), _shape(self._solids, self._view, over)
            return _new_cover(mine, theirs, shift)

        return _COVERS.get(self._solids.memos, (self._view, under, over, shift.tobytes()), make)


def _left_over(under: Faces, covers: Sequence[Cover]) -> tuple[list[int], Regions]:
    """What the covers leave of the faces: numbers and regions of those that show."""
    shows = np.ones(len(under.regions), dtype=bool)
    for cover in covers:
        shows &= ~cover.all_of
    regions, changed = under.regions.copy(), np.zeros(len(shows), dtype=bool)
    for cover in covers:
        faces = np.flatnonzero(shows & (cover.whole | cover.mixed))
        regions[faces] = shapely.difference(regions[faces], cover.of(under, faces))
        changed[faces] = True
        shows[faces] = ~shapely.is_empty(regions[faces])
    for face in np.flatnonzero(shows & changed).tolist():
        regions[face] = cleaned(regions[face])
    found = np.flatnonzero(shows & ~shapely.is_empty(regions))
    return found.tolist(), regions[found]


def _shape(solids: Solids, view: View, solid: Solid) -> Shape:
    def make() -> Shape:
        faces = faces_alone(seen(solids, view, solid))
        low, high = solid.bounds
        ends = np.array([[x, y, z] for x in (low[0], high[0]) for y in (low[1], high[1]) for z in (low[2], high[2])])
        return Shape(faces, joined(faces.regions), ends @ view.axes.T)

    return _SHAPES.get(solids.memos, (view, solid), make)


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
    near = np.flatnonzero(whole | mixed)
    apart = near[~shapely.intersects(outline, faces.regions[near])]
    whole[apart] = mixed[apart] = False
    all_of[whole] = shapely.covers(outline, faces.regions[whole])
    return Cover(all_of, whole, mixed, outline, over.faces.moved(shift))
