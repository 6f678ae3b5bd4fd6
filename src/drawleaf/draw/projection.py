"""One solid as one view sees it: its edges on paper, and its front faces as planes that can hide things."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from drawleaf.draw.view import View
from drawleaf.solids.solid import Solid

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

FRONT = 1e-6
"""A face whose unit normal points less than this towards the viewer stands edge-on and hides nothing."""

NO_LENGTH = 1e-6
"""Millimetres on paper below which an edge is seen end-on and is no line."""


@dataclass(frozen=True, eq=False)
class Lines:
    """Edges that may be drawn. ``ends`` (E, 2, 2) on paper, ``depth`` (E, 2) of the ends; ``facing`` false for an edge that has no
    face towards the viewer (the solid itself hides it); ``silhouette`` for the outline of a rounded surface."""

    ends: Floats
    depth: Floats
    facing: Flags
    silhouette: Flags

    @cached_property
    def boxes(self) -> Floats:
        """(E, 4) low u, low v, high u, high v."""
        return np.concatenate([self.ends.min(axis=1), self.ends.max(axis=1)], axis=1)


@dataclass(frozen=True, eq=False)
class Fronts:
    """Front-facing triangles: ``corners`` (T, 3, 2) on paper, ``top`` their greatest depth, ``plane`` (T, 3) with depth = a u + b v + c,
    ``sides`` (T, 3, 3) with a u + b v + c the distance inwards from each side, ``normals`` in the piece's frame, ``face`` which
    plane face of the solid each belongs to, ``curved`` which are facets of a rounded surface."""

    corners: Floats
    top: Floats
    plane: Floats
    sides: Floats
    normals: Floats
    face: Ints
    curved: Flags

    @cached_property
    def boxes(self) -> Floats:
        return np.concatenate([self.corners.min(axis=1), self.corners.max(axis=1)], axis=1)


@dataclass(frozen=True, eq=False)
class BodyView:
    """A solid in a view."""

    lines: Lines
    fronts: Fronts
    box: Floats


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
    return BodyView(_lines(solid, view), _fronts(solid, view), _box(solid, view))


def _box(solid: Solid, view: View) -> Floats:
    flat = view.on_paper(solid.mesh.vertices)
    return np.concatenate([flat.min(axis=0), flat.max(axis=0)])


def _lines(solid: Solid, view: View) -> Lines:
    edges = solid.edges
    toward = edges.normals @ view.axes[2] > FRONT
    outline = toward[:, 0] != toward[:, 1]
    points = edges.ends.reshape(-1, 3)
    ends, depth = view.on_paper(points).reshape(-1, 2, 2), view.depth(points).reshape(-1, 2)
    long_enough = np.abs(ends[:, 0] - ends[:, 1]).max(axis=1) > NO_LENGTH
    kept = np.where(edges.smooth, outline, True) & long_enough
    return Lines(ends[kept], depth[kept], toward.any(axis=1)[kept], edges.smooth[kept])


def _fronts(solid: Solid, view: View) -> Fronts:
    mesh = solid.mesh
    local = mesh.normals @ view.axes.T
    front = np.flatnonzero((local[:, 2] > FRONT) & (mesh.areas > 0))
    local = local[front]
    points = mesh.triangles[front].reshape(-1, 3)
    corners, depth = view.on_paper(points).reshape(-1, 3, 2), view.depth(points).reshape(-1, 3)
    slopes = -local[:, :2] / local[:, 2:]
    level = depth.mean(axis=1) - np.einsum("ij,ij->i", slopes, corners.mean(axis=1))
    along = np.roll(corners, -1, axis=1) - corners
    length = np.linalg.norm(along, axis=2, keepdims=True)
    # Front faces run anticlockwise on paper, so inwards is to the left of each side.
    inward = np.stack([-along[..., 1], along[..., 0]], axis=-1) / np.where(length > 0, length, 1.0)
    back = -np.einsum("ijk,ijk->ij", inward, corners)
    return Fronts(
        corners,
        depth.max(axis=1),
        np.column_stack([slopes, level]),
        np.concatenate([inward, back[..., None]], axis=2),
        mesh.normals[front],
        _plane_faces(mesh.surface[front], mesh.curved[front], mesh.normals[front]),
        mesh.curved[front],
    )


def _plane_faces(surface: Ints, curved: Flags, normals: Floats) -> Ints:
    """Number the plane faces: a flat surface is one; a rounded surface falls into its facets."""
    facet = np.where(curved[:, None], np.round(normals, 6) + 0.0, 0.0)
    keys = np.column_stack([surface, facet])
    _, numbers = np.unique(keys, axis=0, return_inverse=True)
    return numbers.reshape(-1).astype(np.int64)
