"""Bodies written compactly: points in 16 bits an axis, triangles and edges by number, each shape once."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from drawleaf.draw.turnable.surfaces import Naming
from drawleaf.model.place import Face
from drawleaf.model.turnable import Shape, Surface, Vector
from drawleaf.solids.solid import Solid

STEPS = 65535
"""Steps along each axis: the longest board is exact to a few hundredths of a millimetre."""

Ints = NDArray[np.int64]


class Shapes:
    """The shapes met so far, each with a number of its own."""

    def __init__(self) -> None:
        self._known: dict[Shape, int] = {}
        self._of_solids: dict[tuple[int, frozenset[int] | None], tuple[Solid, int]] = {}

    def number(self, solid: Solid, naming: Naming | None = None) -> int:
        """The number of a body's shape. ``naming`` says what its surfaces are; bodies that differ in that alone are two shapes."""
        # Parts that are one solid at home have the same cuts, so that only what is fresh tells their surfaces apart.
        key = id(solid), naming.fresh if naming is not None else None
        if key not in self._of_solids:
            self._of_solids[key] = solid, self.add(written(solid, naming))
        return self._of_solids[key][1]

    def add(self, shape: Shape) -> int:
        """The number of a shape, which it gets where it is a new one."""
        return self._known.setdefault(shape, len(self._known))

    def all(self) -> tuple[Shape, ...]:
        """All of them by number."""
        return tuple(self._known)


def written(solid: Solid, naming: Naming | None = None) -> Shape:
    """The body in its own frame."""
    mesh = solid.mesh
    low, high = mesh.vertices.min(axis=0), mesh.vertices.max(axis=0)
    grain = np.where(high > low, high - low, 1.0) / STEPS
    points, which = np.unique(np.rint((mesh.vertices - low) / grain).astype(np.int64), axis=0, return_inverse=True)
    which = which.reshape(-1)
    corners, surface = which[mesh.corners], mesh.surface
    # Corners that fall together leave a triangle without area.
    whole = (corners[:, 0] != corners[:, 1]) & (corners[:, 1] != corners[:, 2]) & (corners[:, 2] != corners[:, 0])
    order = np.flatnonzero(whole)[np.argsort(surface[whole], kind="stable")]
    edges = solid.edges
    ends = np.rint((edges.ends[~edges.smooth] - low) / grain).astype(np.int64)
    return Shape(
        rounded(low, 4),
        rounded(grain, 9),
        points.astype("<u2").tobytes(),
        _numbers(corners[order], len(points)),
        _numbers(_found(points, ends), len(points)),
        _surfaces(solid, order, naming) if naming is not None else (Surface(len(order)),),
        naming.lean if naming is not None else None,
    )


def block(size: Vector) -> Shape:
    """A plain block of that size (mm), from the origin, each of its sides named."""
    points = np.array(list(itertools.product((0, STEPS), repeat=3)), dtype=np.int64)  # x slowest, z fastest
    corners, edges, named = [], [], []
    for face in Face:
        own = np.flatnonzero(points[:, face.axis.index] == (STEPS if face.side > 0 else 0))
        a, b, c, d = own[[0, 1, 3, 2]].tolist()  # round the face
        turn = np.cross(points[b] - points[a], points[c] - points[b])[face.axis.index] * face.side
        round_it = (a, b, c, d) if turn > 0 else (d, c, b, a)
        corners += [round_it[:3], (round_it[0], *round_it[2:])]
        edges += [(min(pair), max(pair)) for pair in itertools.pairwise((*round_it, round_it[0]))]
        named.append(Surface(2, face))
    grain = tuple(side / STEPS for side in size)
    return Shape(
        (0.0, 0.0, 0.0),
        rounded(grain, 9),
        points.astype("<u2").tobytes(),
        _numbers(np.array(corners), len(points)),
        _numbers(np.array(sorted(set(edges))), len(points)),
        tuple(named),
    )


def _surfaces(solid: Solid, order: Ints, naming: Naming) -> tuple[Surface, ...]:
    mesh = solid.mesh
    numbers, counts = np.unique(mesh.surface[order], return_counts=True)
    found: list[Surface] = []
    for number, count in zip(numbers.tolist(), counts.tolist(), strict=True):
        rows = mesh.surface == number
        weights = mesh.areas[rows] / max(float(mesh.areas[rows].sum()), 1e-12)
        middle = weights @ mesh.triangles[rows].mean(axis=1)
        normal = None if mesh.curved[rows].any() else mesh.normals[rows][0]
        named = naming.surface(middle, normal, count)
        last = found[-1] if found else None
        if last is not None and (last.face, last.cut, last.fresh) == (named.face, named.cut, named.fresh):
            found[-1] = Surface(last.triangles + count, named.face, named.cut, named.fresh)
        else:
            found.append(named)
    return tuple(found)


def _found(points: Ints, ends: Ints) -> Ints:
    """(E, 2) the numbers of (E, 2, 3) end points; edges that shrink to a point or whose ends are no corners are left out."""
    places = {tuple(point): number for number, point in enumerate(points.tolist())}
    pairs = [(places.get(tuple(a)), places.get(tuple(b))) for a, b in ends.tolist()]
    kept = sorted({(min(a, b), max(a, b)) for a, b in pairs if a is not None and b is not None and a != b})
    return np.array(kept, dtype=np.int64).reshape(-1, 2)


def _numbers(values: Ints, count: int) -> bytes:
    return values.astype("<u2" if count <= STEPS + 1 else "<u4").tobytes()


def rounded(values: Sequence[float] | NDArray[np.float64], digits: int = 3) -> Vector:
    """Three figures with so many decimals, none of them a negative nought."""
    x, y, z = (round(float(value), digits) + 0.0 for value in values)
    return (x, y, z)
