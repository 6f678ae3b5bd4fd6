"""The scene of a picture, as plain values that any renderer could take: bodies with what they are made of, a room, a light, a camera."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drawleaf.looks.boards import Board
from drawleaf.looks.camera import Camera
from drawleaf.looks.charts import Grain
from drawleaf.looks.coats import Coats
from drawleaf.solids.solid import Floats, Solid

Triple = tuple[float, float, float]
Move = NDArray[np.float64]
"""(4, 4): how a body is moved from its place on the piece, in mm."""


@dataclass(frozen=True, slots=True)
class Wood:
    """A body of wood: the board it is worked out from, how its frame lies in the wood, and its coats."""

    board: Board
    grain: Grain
    coats: Coats = Coats()


@dataclass(frozen=True, slots=True)
class Plain:
    """One colour all over (linear RGB); ``metal`` throws light back as metals do. ``roughness`` as for ``Coats``."""

    color: Triple
    roughness: float = 0.35
    metal: bool = False


@dataclass(frozen=True, eq=False, slots=True)
class Body:
    """Triangles (N, 3, 3) in mm in the body's own frame, its normals at their corners (N, 3, 3), and ``place``, which brings them into the scene."""

    triangles: Floats
    normals: Floats
    material: Wood | Plain
    place: Move

    def in_scene(self) -> tuple[Floats, Floats]:
        """(N, 3, 3) corners and (N, 3, 3) normals where they stand."""
        turn, by = self.place[:3, :3], self.place[:3, 3]
        return self.triangles @ turn.T + by, self.normals @ turn.T


@dataclass(frozen=True, slots=True)
class Light:
    """A square light, ``wide`` mm to a side, at a place and looking at another; its radiance in linear RGB."""

    at: Triple
    toward: Triple
    wide: float
    radiance: Triple


@dataclass(frozen=True, eq=False, slots=True)
class Scene:
    """All that a picture shows: the ``piece``, what stands round it, the light and the camera. ``fill`` comes from everywhere."""

    piece: tuple[Body, ...]
    surroundings: tuple[Body, ...]
    light: Light
    fill: Triple
    camera: Camera


STILL: Move = np.eye(4)


def body_of(solid: Solid, material: Wood | Plain, place: Move = STILL) -> Body:
    """A solid as triangles whose rounded faces are smooth."""
    return Body(solid.mesh.triangles, smooth_normals(solid), material, place)


def smooth_normals(solid: Solid) -> Floats:
    """(N, 3, 3) normals at the corners of a solid's triangles: the mean of the facets of one rounded surface that meet there."""
    mesh = solid.mesh
    found = np.repeat(mesh.normals[:, None, :], 3, axis=1)
    bent = np.flatnonzero(mesh.curved)
    if not len(bent):
        return found
    corners, points = mesh.corners[bent], mesh.triangles[bent]
    ahead, back = np.roll(points, -1, axis=1) - points, np.roll(points, 1, axis=1) - points
    long = np.linalg.norm(ahead, axis=2) * np.linalg.norm(back, axis=2)
    angles = np.arccos(np.clip(np.einsum("ijk,ijk->ij", ahead, back) / np.maximum(long, 1e-12), -1.0, 1.0))
    keys = np.column_stack([np.repeat(mesh.surface[bent], 3), corners.reshape(-1)])
    _, spots = np.unique(keys, axis=0, return_inverse=True)
    spots = spots.reshape(-1)
    sums = np.zeros((int(spots.max()) + 1, 3))
    np.add.at(sums, spots, (angles[:, :, None] * mesh.normals[bent][:, None, :]).reshape(-1, 3))
    sums /= np.maximum(np.linalg.norm(sums, axis=1, keepdims=True), 1e-12)
    found[bent] = sums[spots].reshape(-1, 3, 3)
    return found


def moved(body: Body, by: Move) -> Body:
    """The body at another place of the scene."""
    return Body(body.triangles, body.normals, body.material, by @ body.place)


def shift(by: Triple) -> Move:
    """(4, 4) a move along a line, in mm."""
    made = np.eye(4)
    made[:3, 3] = by
    return made


def corners_of(bodies: Sequence[Body]) -> Floats:
    """(N, 3) all corners of some bodies where they stand in the scene, in mm."""
    return np.concatenate([body.in_scene()[0].reshape(-1, 3) for body in bodies])
