"""A closed solid with its mesh, its edges and its mass figures, worked out when first asked for."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from manifold3d import CrossSection, Manifold
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]
Triple = tuple[float, float, float]

COPLANAR = 1.0 - 1e-9
"""Two faces whose normals have a greater dot product lie in one plane: the edge between them is no edge."""

FLAT = 1e-6
"""Millimetres by which corners may stand out of a plane face."""

TANGENT = float(np.cos(np.radians(1.0)))
"""A true round runs smoothly into a neighbour where its own normal turns by less than this."""

FACETS_TANGENT = float(np.cos(np.radians(20.0)))
"""The same where only the facets are known (they turn by 15 degrees at most)."""


_ALONG_Z = tuple(np.roll(np.eye(3, 4), -turn, axis=0) for turn in (1, 2, 0))
"""The turns that bring x, y or z to where z is, by which a silhouette is seen."""


@dataclass(frozen=True, slots=True)
class Turned:
    """How a turned surface is bent besides going round: ``ring`` the radius and height (along the axis from the curve's centre) of the
    middle of its arc, None for a cone or cylinder; ``step`` the greatest size of a facet where it bends, in millimetres."""

    ring: tuple[float, float] | None
    step: float


@dataclass(frozen=True, slots=True)
class Curve:
    """Which faces of a solid are facets of a rounded surface: those cut by one tool, other than its ends.

    ``source`` is the cutter's manifold id; ``axis`` the direction that the rounded surface runs along; ``centre`` a point on the
    middle line of a true round (None for other curves). ``turned`` is given for a surface that goes round the axis with any profile.
    """

    source: int
    axis: Triple
    centre: Triple | None = None
    turned: Turned | None = None


@dataclass(frozen=True, eq=False, slots=True)
class Mesh:
    """Triangles of a closed surface. ``corners`` index ``vertices``; ``surface`` numbers the flat face or rounded surface that
    each triangle belongs to; ``curved`` says which are facets of a rounded surface."""

    vertices: Floats
    corners: Ints
    normals: Floats
    areas: Floats
    surface: Ints
    curved: Flags

    @property
    def triangles(self) -> Floats:
        """(N, 3, 3) corner points."""
        return self.vertices[self.corners]


@dataclass(frozen=True, eq=False, slots=True)
class Edges:
    """The edges of a solid: (N, 2, 3) end points, the outward normals of the faces on either side, and whether it is a smooth one
    (between facets of a rounded surface: drawn only where it is the outline)."""

    ends: Floats
    normals: Floats
    smooth: Flags


@dataclass(frozen=True, eq=False, slots=True)
class Rounds:
    """Facets of turned surfaces, whose outline lies within facets: (K, 3, 3) corners and the true normals there, (K,) greatest size."""

    corners: Floats
    normals: Floats
    step: Floats


@dataclass(frozen=True, eq=False)
class Solid:
    """A closed solid in the piece's frame, in millimetres."""

    manifold: Manifold
    curves: tuple[Curve, ...] = ()

    def moved(self, by: Triple) -> Solid:
        """The same solid at another place, so many millimetres along each axis."""
        x, y, z = by
        curves = (
            curve
            if curve.centre is None
            else replace(curve, centre=(curve.centre[0] + x, curve.centre[1] + y, curve.centre[2] + z))
            for curve in self.curves
        )
        return Solid(self.manifold.translate(by), tuple(curves))

    @cached_property
    def _mesh_and_twins(self) -> tuple[Mesh, Ints]:
        return _read_mesh(self.manifold, self.curves)

    @property
    def mesh(self) -> Mesh:
        return self._mesh_and_twins[0]

    @cached_property
    def edges(self) -> Edges:
        mesh, twins = self._mesh_and_twins
        return _edges(mesh, twins, self.curves)

    @cached_property
    def rounds(self) -> Rounds | None:
        """The facets of its turned surfaces; None where it has none."""
        turned = [number for number, curve in enumerate(self.curves) if curve.turned]
        if not turned:
            return None
        mesh = self.mesh
        facets = np.flatnonzero(mesh.curved & np.isin(mesh.surface, turned))
        corners = mesh.triangles[facets]
        normals = [_true_normals(mesh, facets, corners[:, k], self.curves)[0] for k in range(3)]
        steps = np.array([curve.turned.step if curve.turned else 0.0 for curve in self.curves])
        return Rounds(corners, np.stack(normals, axis=1), steps[mesh.surface[facets]])

    @cached_property
    def convex(self) -> bool:
        """Whether no edge bends inwards and it is all one piece."""
        mesh, twins = self._mesh_and_twins
        # An edge bends inwards where a far corner of the one face lies before the plane of the other.
        far = mesh.vertices[mesh.corners[twins[:, 1]]] - mesh.vertices[twins[:, 2]][:, None]
        return bool((np.einsum("ijk,ik->ij", far, mesh.normals[twins[:, 0]]) < FLAT).all()) and self.pieces == 1

    @cached_property
    def volume(self) -> float:
        """Cubic millimetres."""
        a, b, c = np.moveaxis(self.mesh.triangles - self._middle, 1, 0)
        return float(np.einsum("ij,ij->", a, np.cross(b, c)) / 6.0)

    @cached_property
    def area(self) -> float:
        """Square millimetres of surface."""
        return float(self.mesh.areas.sum())

    @cached_property
    def centroid(self) -> Triple:
        """The centre of gravity of an even material."""
        points = self.mesh.triangles - self._middle
        a, b, c = np.moveaxis(points, 1, 0)
        weights = np.einsum("ij,ij->i", a, np.cross(b, c))
        x, y, z = (weights @ points.sum(axis=1)) / (4.0 * weights.sum()) + self._middle
        return (float(x), float(y), float(z))

    @cached_property
    def bounds(self) -> Floats:
        """(2, 3): the low and the high corner of the box around it."""
        vertices = self.mesh.vertices
        return np.array([vertices.min(axis=0), vertices.max(axis=0)])

    def silhouette(self, axis: int) -> CrossSection:
        """Its outline in millimetres as it is seen along an axis: 0 for x, 1 for y, 2 for z."""
        if axis not in self._silhouettes:
            self._silhouettes[axis] = self.manifold.transform(_ALONG_Z[axis]).project()  # type: ignore[arg-type]
        return self._silhouettes[axis]

    @cached_property
    def _silhouettes(self) -> dict[int, CrossSection]:
        return {}

    @property
    def _middle(self) -> Floats:
        return self.bounds.mean(axis=0)

    @cached_property
    def pieces(self) -> int:
        """How many pieces it falls into: 1 for a sound part."""
        return len(self.manifold.decompose())


def _read_mesh(manifold: Manifold, curves: tuple[Curve, ...]) -> tuple[Mesh, Ints]:
    """The mesh, and for every pair of triangles that share an edge: first, second, and the edge's two vertices."""
    raw = manifold.to_mesh64()
    vertices = np.array(raw.vert_properties[:, :3], dtype=float)
    corners = np.array(raw.tri_verts, dtype=np.int64)
    same = np.arange(len(vertices))
    same[np.array(raw.merge_from_vert, dtype=np.int64)] = np.array(raw.merge_to_vert, dtype=np.int64)
    corners = same[corners]

    points = vertices[corners]
    cross = np.cross(points[:, 1] - points[:, 0], points[:, 2] - points[:, 0])
    doubled = np.linalg.norm(cross, axis=1)
    normals = cross / np.where(doubled > 0, doubled, 1.0)[:, None]

    run_of = np.repeat(
        np.array(raw.run_original_id, dtype=np.int64), np.diff(np.array(raw.run_index, dtype=np.int64)) // 3
    )
    curved = np.zeros(len(corners), dtype=bool)
    surface = np.full(len(corners), -1, dtype=np.int64)
    for number, curve in enumerate(curves):
        facets = run_of == curve.source
        if curve.turned is None:
            facets &= np.abs(normals @ np.array(curve.axis)) < 0.5
        curved |= facets
        surface[facets] = number
    twins = _twins(corners)
    surface = _number_surfaces(surface, normals, twins, len(curves))
    return Mesh(vertices, corners, normals, doubled / 2.0, surface, curved), twins


def _twins(corners: Ints) -> Ints:
    """(edges, 4): the two triangles on either side of every edge and its two vertices."""
    start = corners.reshape(-1)
    end = np.roll(corners, -1, axis=1).reshape(-1)
    triangle = np.repeat(np.arange(len(corners)), 3)
    low, high, backwards = np.minimum(start, end), np.maximum(start, end), start > end
    order = np.lexsort((triangle, high, low))
    forth, back = order[~backwards[order]], order[backwards[order]]
    return np.column_stack([triangle[forth], triangle[back], low[forth], high[forth]])


def _number_surfaces(surface: Ints, normals: Floats, twins: Ints, first: int) -> Ints:
    """Number the flat faces: triangles joined across edges that do not bend. Rounded surfaces keep their numbers."""
    a, b = twins[:, 0], twins[:, 1]
    flat = (surface[a] < 0) & (surface[b] < 0) & (np.einsum("ij,ij->i", normals[a], normals[b]) > COPLANAR)
    a, b = a[flat], b[flat]
    label = np.arange(len(surface))
    while True:
        least = np.minimum(label[a], label[b])
        before = label.copy()
        np.minimum.at(label, a, least)
        np.minimum.at(label, b, least)
        label = label[label]
        if np.array_equal(label, before):
            break
    _, numbers = np.unique(label, return_inverse=True)
    return np.where(surface < 0, first + numbers, surface)


def _edges(mesh: Mesh, twins: Ints, curves: tuple[Curve, ...]) -> Edges:
    a, b = twins[:, 0], twins[:, 1]
    bend = np.einsum("ij,ij->i", mesh.normals[a], mesh.normals[b])
    kept = bend < COPLANAR
    a, b, bend = a[kept], b[kept], bend[kept]
    ends = mesh.vertices[twins[kept, 2:]]
    sides = np.stack([mesh.normals[a], mesh.normals[b]], axis=1)
    smooth = mesh.curved[a] & mesh.curved[b] & (mesh.surface[a] == mesh.surface[b])
    either = np.flatnonzero((mesh.curved[a] | mesh.curved[b]) & ~smooth)
    if len(either):
        middles = ends[either].mean(axis=1)
        one, one_true = _true_normals(mesh, a[either], middles, curves)
        other, other_true = _true_normals(mesh, b[either], middles, curves)
        limit = np.where(one_true & other_true, TANGENT, FACETS_TANGENT)
        smooth[either] = np.einsum("ij,ij->i", one, other) > limit
    # The outline of a turned surface does not run along its facets: see ``Solid.rounds``.
    turned = np.array([curve.turned is not None for curve in curves] + [False])
    within = [mesh.curved[side] & turned[np.minimum(mesh.surface[side], len(curves))] for side in (a, b)]
    drawn = ~(smooth & (within[0] | within[1]))
    return Edges(ends[drawn], sides[drawn], smooth[drawn])


def _true_normals(mesh: Mesh, triangles: Ints, points: Floats, curves: tuple[Curve, ...]) -> tuple[Floats, Flags]:
    """Normals at points of some triangles: of the round itself where a triangle stands for one; and whether they are exact."""
    normals = mesh.normals[triangles].copy()
    exact = np.ones(len(triangles), dtype=bool)
    rounded = np.where(mesh.curved[triangles], mesh.surface[triangles], -1)
    for number in np.unique(rounded[rounded >= 0]).tolist():
        rows, curve = rounded == number, curves[number]
        if curve.centre is None:
            exact[rows] = False
            continue
        normals[rows] = _round_normals(curve, points[rows], normals[rows])
    return normals, exact


def _round_normals(curve: Curve, points: Floats, facets: Floats) -> Floats:
    """Of the true round at points of facets with these normals."""
    axis = np.array(curve.axis)
    radial = points - np.array(curve.centre)
    height = radial @ axis
    radial -= height[:, None] * axis
    radius = np.linalg.norm(radial, axis=1)
    radial /= np.maximum(radius, 1e-9)[:, None]
    along = np.zeros(len(points))
    if curve.turned and curve.turned.ring:
        along, radius = height - curve.turned.ring[1], radius - curve.turned.ring[0]
    elif curve.turned:
        # A facet of a cone leans as the cone does.
        along = facets @ axis
        radius = np.sqrt(np.maximum(1.0 - along**2, 0.0)) * np.sign(np.einsum("ij,ij->i", radial, facets))
    found = radial * radius[:, None] + along[:, None] * axis
    found /= np.maximum(np.linalg.norm(found, axis=1, keepdims=True), 1e-9)
    return found * np.where(np.einsum("ij,ij->i", found, facets) < 0, -1.0, 1.0)[:, None]
