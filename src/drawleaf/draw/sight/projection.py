"""One solid as one view sees it: its edges on paper, and its front faces as planes that can hide things."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray

from drawleaf.draw.sight.view import View
from drawleaf.solids.build import Solids
from drawleaf.solids.memos import Memo
from drawleaf.solids.solid import Mesh, Rounds, Solid

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]
Cells = NDArray[np.object_]

FRONT = 1e-6
"""A face whose unit normal points less than this towards the viewer stands edge-on and hides nothing."""

THIN = 1e-4
"""Millimetres on paper below which a triangle is too thin to hide anything: its plane would be carried too far past its sides."""

SLACK = 1e-3
"""Millimetres by which boxes are enlarged that are asked whether they overlap."""

OWN_FACETS = 1.5
"""The outline of a turned surface is not hidden by facets of its own body nearer than so many facets' size."""

APART = 1.0
"""Millimetres between a body and one of its own shape that it hides wholly."""

NO_LENGTH = 1e-6
"""Millimetres on paper below which an edge is seen end-on and is no line."""


@dataclass(frozen=True, eq=False)
class Lines:
    """Edges that may be drawn. ``points`` (E, 2, 3) their ends as u, v, depth; ``facing`` false for an edge that has no face
    towards the viewer (the solid itself hides it); ``silhouette`` for the outline of a rounded surface; ``slack`` how far the solid's
    own facets may stand before a line that lies on the surface they stand for."""

    points: Floats
    facing: Flags
    silhouette: Flags
    slack: Floats

    @property
    def ends(self) -> Floats:
        """(E, 2, 2) on paper."""
        return self.points[..., :2]

    @cached_property
    def cells(self) -> Cells:
        """(F,) boxes around those that face the viewer, a little enlarged."""
        a, b = self.ends[self.facing, 0], self.ends[self.facing, 1]
        return shapely.box(*(np.minimum(a, b) - SLACK).T, *(np.maximum(a, b) + SLACK).T)


@dataclass(frozen=True, eq=False)
class Fronts:
    """Front-facing triangles: ``corners`` (T, 3, 2) on paper, ``top`` their greatest depth, ``plane`` (T, 3) with depth = a u + b v + c,
    ``sides`` (T, 3, 3) with a u + b v + c the distance inwards from each side, ``triangle`` their numbers in the ``mesh``."""

    corners: Floats
    top: Floats
    plane: Floats
    sides: Floats
    triangle: Ints
    mesh: Mesh

    @cached_property
    def boxes(self) -> Floats:
        """(T, 4) low u, low v, high u, high v on paper, in mm."""
        a, b, c = self.corners[:, 0], self.corners[:, 1], self.corners[:, 2]
        return np.concatenate([np.minimum(np.minimum(a, b), c), np.maximum(np.maximum(a, b), c)], axis=1)

    @cached_property
    def cells(self) -> Cells:
        """(T,) boxes around them."""
        return shapely.box(*self.boxes.T)

    @property
    def normals(self) -> Floats:
        """(T, 3) outward normals in the piece's frame."""
        return self.mesh.normals[self.triangle]

    @property
    def curved(self) -> Flags:
        """(T,) which are facets of a rounded surface."""
        return self.mesh.curved[self.triangle]

    @cached_property
    def face(self) -> Ints:
        """(T,) which plane face of the solid each belongs to: a flat surface is one; a rounded surface falls into its facets."""
        facet = np.where(self.curved[:, None], np.round(self.normals, 6) + 0.0, 0.0)
        keys = np.column_stack([self.mesh.surface[self.triangle], facet])
        _, numbers = np.unique(keys, axis=0, return_inverse=True)
        return numbers.reshape(-1).astype(np.int64)


@dataclass(frozen=True, eq=False)
class BodyView:
    """A solid in a view: the ``box`` around it on paper, its least and greatest depth, and whether it is convex (and so never hides
    its own facing edges)."""

    lines: Lines
    fronts: Fronts
    box: Floats
    depths: tuple[float, float]
    convex: bool


@dataclass(frozen=True, eq=False)
class Body:
    """A solid in its place in the scene: ``shift`` is its offset on paper and in depth."""

    id: str
    solid: Solid
    seen: BodyView
    shift: Floats

    @property
    def box(self) -> Floats:
        """(4,) low u, low v, high u, high v on paper, in mm."""
        return self.seen.box + np.tile(self.shift[:2], 2)


_SEEN: Memo[tuple[View, Solid], BodyView] = Memo(lambda key: key[1:])


def seen(solids: Solids, view: View, solid: Solid) -> BodyView:
    """A solid in a view, worked out once."""
    return _SEEN.get(solids.memos, (view, solid), lambda: see(solid, view))


def see(solid: Solid, view: View) -> BodyView:
    """Project a solid. Nothing is hidden yet."""
    points = solid.mesh.vertices @ view.axes.T
    low, high = points.min(axis=0), points.max(axis=0)
    box, depths = np.concatenate([low[:2], high[:2]]), (float(low[2]), float(high[2]))
    return BodyView(_lines(solid, view), _fronts(solid, view, points), box, depths, solid.convex)


def _lines(solid: Solid, view: View) -> Lines:
    edges = solid.edges
    toward = edges.normals @ view.axes[2] > FRONT
    outline = toward[:, 0] != toward[:, 1]
    drawn = np.flatnonzero(outline | ~edges.smooth)
    points = edges.ends[drawn] @ view.axes.T
    kept = np.abs(points[:, 0, :2] - points[:, 1, :2]).max(axis=1, initial=0.0) > NO_LENGTH
    drawn = drawn[kept]
    lines = Lines(points[kept], toward[drawn].any(axis=1), edges.smooth[drawn], np.zeros(len(drawn)))
    return lines if solid.rounds is None else _with_outlines(lines, solid.rounds, view)


def _with_outlines(lines: Lines, rounds: Rounds, view: View) -> Lines:
    """With the outlines of turned surfaces: where the true normal, carried over each facet from corner to corner, is square to the eye."""
    toward = rounds.normals @ view.axes[2]
    front = toward > FRONT
    mixed = np.flatnonzero(front.any(axis=1) & ~front.all(axis=1))
    toward, front, corners = toward[mixed], front[mixed], rounds.corners[mixed] @ view.axes.T
    # The corner that looks another way than the two others: the outline crosses the two sides that meet there.
    odd = np.where(front.sum(axis=1) == 1, np.argmax(front, axis=1), np.argmin(front, axis=1))
    rows = np.arange(len(mixed))
    ends = []
    for other in ((odd + 1) % 3, (odd + 2) % 3):
        a, b = toward[rows, odd], toward[rows, other]
        ends.append(corners[rows, odd] + (corners[rows, other] - corners[rows, odd]) * (a / (a - b))[:, None])
    points = np.stack(ends, axis=1)
    kept = np.abs(points[:, 0, :2] - points[:, 1, :2]).max(axis=1, initial=0.0) > NO_LENGTH
    points, slack, bulging = points[kept], OWN_FACETS * rounds.step[mixed][kept], _bulging(corners, toward)[kept]
    return Lines(
        np.concatenate([lines.points, points]),
        np.concatenate([lines.facing, bulging]),
        np.concatenate([lines.silhouette, np.ones(len(points), dtype=bool)]),
        np.concatenate([lines.slack, slack]),
    )


def _bulging(corners: Floats, toward: Floats) -> Flags:
    """Whether facets stand for a surface that bulges along the line of sight: its normal turns to the eye as it comes nearer. Where it
    is hollow, its outline lies behind the surface itself."""
    one, two = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    a, b = toward[:, 1] - toward[:, 0], toward[:, 2] - toward[:, 0]
    p, q, r = (one * one).sum(axis=1), (one * two).sum(axis=1), (two * two).sum(axis=1)
    # The gradient of the turning, within the facet, along the line of sight (times something positive).
    return (a * r - b * q) * one[:, 2] + (b * p - a * q) * two[:, 2] > 0.0


def _fronts(solid: Solid, view: View, points: Floats) -> Fronts:
    """The triangles that look at the viewer; ``points`` are the mesh's vertices as u, v, depth."""
    mesh = solid.mesh
    toward = mesh.normals @ view.axes[2]
    front = np.flatnonzero((toward > FRONT) & (mesh.areas > 0))
    placed = points[mesh.corners[front]]
    along = placed[:, [1, 2, 0], :2] - placed[..., :2]
    length = np.hypot(along[..., 0], along[..., 1])
    wide = 2.0 * mesh.areas[front] * toward[front] > THIN * length.max(axis=1, initial=0.0)
    front, placed, along, length = front[wide], placed[wide], along[wide], length[wide]
    local = mesh.normals[front] @ view.axes.T
    corners, depth = placed[..., :2], placed[..., 2]
    slopes = -local[:, :2] / local[:, 2:]
    level = depth.mean(axis=1) - (slopes * corners.mean(axis=1)).sum(axis=1)
    # Front faces run anticlockwise on paper, so inwards is to the left of each side.
    u, v = -along[..., 1], along[..., 0]
    u, v = u / np.where(length > 0, length, 1.0), v / np.where(length > 0, length, 1.0)
    sides = np.stack([u, v, -(u * corners[..., 0] + v * corners[..., 1])], axis=2)
    return Fronts(corners, depth.max(axis=1), np.column_stack([slopes, level]), sides, front, mesh)


def behind_their_like(bodies: Sequence[Body]) -> dict[int, int]:
    """The bodies that stand straight behind one of their own shape, as a row of cases does seen from its end, each with the nearest before it:
    nothing of them is seen."""
    rows: dict[tuple[int, float, float], list[int]] = {}
    for i, body in enumerate(bodies):
        u, v = (round(float(at), 6) for at in body.shift[:2])
        rows.setdefault((id(body.solid), u, v), []).append(i)
    found: dict[int, int] = {}
    for row in rows.values():
        first = max(row, key=lambda i: bodies[i].shift[2])
        found |= {i: first for i in row if bodies[first].shift[2] - bodies[i].shift[2] > APART}
    return found
