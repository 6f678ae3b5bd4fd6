"""One solid as one view sees it: its edges on paper, and its front faces as planes that can hide things."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray

from drawleaf.draw.view import View
from drawleaf.solids.solid import Mesh, Solid

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]
Cells = NDArray[np.object_]

FRONT = 1e-6
"""A face whose unit normal points less than this towards the viewer stands edge-on and hides nothing."""

SLACK = 1e-3
"""Millimetres by which boxes are enlarged that are asked whether they overlap."""

NO_LENGTH = 1e-6
"""Millimetres on paper below which an edge is seen end-on and is no line."""


@dataclass(frozen=True, eq=False)
class Lines:
    """Edges that may be drawn. ``points`` (E, 2, 3) their ends as u, v, depth; ``facing`` false for an edge that has no face
    towards the viewer (the solid itself hides it); ``silhouette`` for the outline of a rounded surface."""

    points: Floats
    facing: Flags
    silhouette: Flags

    @property
    def ends(self) -> Floats:
        """(E, 2, 2) on paper."""
        return self.points[..., :2]

    @cached_property
    def cells(self) -> Cells:
        """Boxes around those that face the viewer, a little enlarged."""
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
        a, b, c = self.corners[:, 0], self.corners[:, 1], self.corners[:, 2]
        return np.concatenate([np.minimum(np.minimum(a, b), c), np.maximum(np.maximum(a, b), c)], axis=1)

    @cached_property
    def cells(self) -> Cells:
        """Boxes around them."""
        return shapely.box(*self.boxes.T)

    @property
    def normals(self) -> Floats:
        """In the piece's frame."""
        return self.mesh.normals[self.triangle]

    @property
    def curved(self) -> Flags:
        """Which are facets of a rounded surface."""
        return self.mesh.curved[self.triangle]

    @cached_property
    def face(self) -> Ints:
        """Which plane face of the solid each belongs to: a flat surface is one; a rounded surface falls into its facets."""
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
        return self.seen.box + np.tile(self.shift[:2], 2)


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
    return Lines(points[kept], toward[drawn].any(axis=1), edges.smooth[drawn])


def _fronts(solid: Solid, view: View, points: Floats) -> Fronts:
    """The triangles that look at the viewer; ``points`` are the mesh's vertices as u, v, depth."""
    mesh = solid.mesh
    front = np.flatnonzero((mesh.normals @ view.axes[2] > FRONT) & (mesh.areas > 0))
    local = mesh.normals[front] @ view.axes.T
    placed = points[mesh.corners[front]]
    corners, depth = placed[..., :2], placed[..., 2]
    slopes = -local[:, :2] / local[:, 2:]
    level = depth.mean(axis=1) - (slopes * corners.mean(axis=1)).sum(axis=1)
    along = corners[:, [1, 2, 0]] - corners
    length = np.hypot(along[..., 0], along[..., 1])
    # Front faces run anticlockwise on paper, so inwards is to the left of each side.
    u, v = -along[..., 1], along[..., 0]
    u, v = u / np.where(length > 0, length, 1.0), v / np.where(length > 0, length, 1.0)
    sides = np.stack([u, v, -(u * corners[..., 0] + v * corners[..., 1])], axis=2)
    return Fronts(corners, depth.max(axis=1), np.column_stack([slopes, level]), sides, front, mesh)
