"""Edge profiles along outlines of lines and arcs: the section carried from corner to corner, mitred where the outline turns.

An arc has the very facets that the outline itself has, so that the profile begins where the wood ends.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from manifold3d import Manifold, Mesh64, triangulate

from drawleaf.model.plan import EdgeProfile, Part
from drawleaf.model.shapes import Course
from drawleaf.solids.cutters import OVERSHOOT, triple
from drawleaf.solids.edge_runs import SECTIONS, section_of
from drawleaf.solids.solid import Curve, Floats, Ints, Turned
from drawleaf.solids.sweeps import Stretch, centre_of, outline_of

SLIVER = 0.01
"""Millimetres: what is shorter at the end of an arc is a sliver of its facets."""

PAST = 1e-4
"""Millimetres that a profile runs past an end where the outline goes on smoothly, so that no skin stays between two cuts."""


@dataclass(frozen=True, slots=True)
class _Path:
    """A faceted course in its plane: ``points`` (N, 2), the stretch that the side after each belongs to, the ways in from each corner."""

    course: Course
    stretches: list[Stretch]
    start: tuple[float, float]
    points: Floats
    stretch: Ints
    inward: Floats

    @property
    def sides(self) -> int:
        return len(self.points) if self.course.closed else len(self.points) - 1


def along_course(profile: EdgeProfile, course: Course, part: Part) -> tuple[Manifold, tuple[Curve, ...]]:
    """The void of a profile along a course, at the broad face that the profile's edge names."""
    flat = next(face for face in profile.edge if face.axis is course.axis)
    swapped = profile.edge[0] is flat and not profile.round_what
    start, section = _section(profile, swapped)
    outline, piece = _facets(start, section)
    path = _path_of(course)
    a, b = (axis.index for axis in course.axis.others())
    along = course.axis.index
    level, down = part.body.face(flat).mm, -float(flat.side)
    count, rings = len(outline), len(path.points)
    vertices = np.zeros((rings, count, 3))
    plane = path.points[:, None, :] + path.inward[:, None, :] * outline[None, :, :1]
    vertices[..., a], vertices[..., b] = plane[..., 0], plane[..., 1]
    vertices[..., along] = level + down * outline[None, :, 1]
    triangles, numbers = _skin(path, count, piece)
    if not course.closed:
        cap = np.array(triangulate([outline]), dtype=np.int64)
        triangles = np.vstack([triangles, cap[:, ::-1], cap + (rings - 1) * count])
        numbers = np.concatenate([numbers, np.zeros(2 * len(cap), dtype=np.int64)])
    flatly = vertices.reshape(-1, 3)
    if _volume(flatly, triangles) < 0.0:
        triangles = triangles[:, ::-1]
    surfaces = _surfaces(path, section)
    order = np.argsort(numbers, kind="stable")
    first = Manifold.reserve_ids(len(surfaces) + 1)
    mesh = Mesh64(
        vert_properties=flatly,
        tri_verts=np.ascontiguousarray(triangles[order], dtype=np.uint64),
        run_index=np.searchsorted(numbers[order], np.arange(len(surfaces) + 2)).astype(np.uint64) * 3,
        run_original_id=np.arange(first, first + len(surfaces) + 1).astype(np.uint32),
    )
    starts = (start, *(one.to for one in section))
    curves = [
        _curve(path, number, starts[kind], section[kind], (a, b, along), (level, down), first + place)
        for place, (number, kind) in enumerate(surfaces, start=1)
        if path.stretches[number].turn or section[kind].turn
    ]
    return Manifold(mesh), tuple(curves)


def _facets(start: tuple[float, float], section: list[Stretch]) -> tuple[Floats, Ints]:
    """The faceted outline without the slivers at the ends of its arcs: where two cuts run side by side nothing so thin can be told apart."""
    points, stretch = outline_of(start, section)
    near = np.linalg.norm(np.roll(points, -1, axis=0) - points, axis=1) < SLIVER
    kept = ~(near | np.roll(near, 1))
    corners = np.concatenate([[0], np.flatnonzero(np.diff(stretch)) + 1])
    kept[corners] = True
    return points[kept], stretch[kept]


def _section(profile: EdgeProfile, swapped: bool) -> tuple[tuple[float, float], list[Stretch]]:
    """The section of what is taken away: first coordinate in from the outline, second into the wood from the broad face."""
    size, out = profile.size.mm, -OVERSHOOT
    if profile.kind == "chamfer":
        return (out, out), [Stretch((size + OVERSHOOT, out)), Stretch((out, size + OVERSHOOT)), Stretch((out, out))]
    if profile.kind not in SECTIONS:
        rounded = [Stretch((size, 0.0)), Stretch((0.0, size), -90.0)]
        return (out, out), [Stretch((size, out)), *rounded, Stretch((out, size)), Stretch((out, out))]
    section = section_of(profile.kind, size)
    if not swapped:
        return (out, out), section
    # The other way round about the diagonal: backwards, so that it stays anticlockwise; mirrored and backwards, an arc turns as it did.
    ends = [(out, out), *(one.to for one in section)]
    turns = [one.turn for one in section]
    return (out, out), [Stretch((ends[n][1], ends[n][0]), turns[n]) for n in range(len(section) - 1, -1, -1)]


def _path_of(course: Course) -> _Path:
    corners = course.corners
    following = (*corners[1:], corners[0])
    pairs = list(zip(corners, following, strict=True))
    stretches = [Stretch((after.u.mm, after.v.mm), one.turn) for one, after in (pairs if course.closed else pairs[:-1])]
    start = (corners[0].u.mm, corners[0].v.mm)
    points, stretch = _facets(start, stretches)
    if not course.closed:
        points = np.vstack([points, [stretches[-1].to]])
        for end, step, more in (
            (0, points[0] - points[1], course.run_on[0]),
            (-1, points[-1] - points[-2], course.run_on[1]),
        ):
            points[end] += step / np.linalg.norm(step) * max(more, PAST)
    return _Path(course, stretches, start, points, stretch, _inward(points, course.closed))


def _inward(points: Floats, closed: bool) -> Floats:
    """(N, 2): from each point the way to the parallel course, one unit to the left."""
    ways = np.roll(points, -1, axis=0) - points
    ways /= np.linalg.norm(ways, axis=1)[:, None]
    before = np.roll(ways, 1, axis=0)
    if not closed:
        ways[-1] = ways[-2]
        before[0] = ways[0]
    left = np.column_stack([-(before[:, 1] + ways[:, 1]), before[:, 0] + ways[:, 0]])
    return left / (1.0 + np.einsum("ij,ij->i", before, ways))[:, None]


def _skin(path: _Path, count: int, piece: Ints) -> tuple[Ints, Ints]:
    """The triangles between one ring of the section and the next, and the number of the surface that each belongs to, from 1."""
    rings = len(path.points)
    here, across = np.arange(count), np.roll(np.arange(count), -1)
    kinds = int(piece.max()) + 1
    triangles, numbers = [], []
    for side in range(path.sides):
        low, high = side * count, (side + 1) % rings * count
        triangles.append(
            np.column_stack([here + low, across + low, across + high, here + low, across + high, here + high]).reshape(
                -1, 3
            )
        )
        numbers.append(np.repeat(1 + int(path.stretch[side]) * kinds + piece, 2))
    return np.vstack(triangles), np.concatenate(numbers)


def _surfaces(path: _Path, section: list[Stretch]) -> list[tuple[int, int]]:
    """Every stretch of the course with every stretch of the section: a surface each."""
    return [(number, kind) for number in range(len(path.stretches)) for kind in range(len(section))]


def _curve(
    path: _Path,
    number: int,
    at: tuple[float, float],
    piece: Stretch,
    axes: tuple[int, int, int],
    face: tuple[float, float],
    source: int,
) -> Curve:
    """What the surface is that one stretch of the section leaves along one stretch of the course. ``face`` is where the broad face lies and
    which way along its axis the wood is."""
    a, b, along = axes
    level, down = face
    starts = [path.start, *(one.to for one in path.stretches)]
    line = path.stretches[number]
    inner = centre_of(at, piece) if piece.turn else None
    way, middle = np.zeros(3), np.zeros(3)
    if not line.turn:
        step = np.array(line.to) - np.array(starts[number])
        step /= np.linalg.norm(step)
        way[a], way[b] = step
        place = np.array(starts[number]) + np.array([-step[1], step[0]]) * (inner[0] if inner else 0.0)
        middle[a], middle[b], middle[along] = *place, level + down * (inner[1] if inner else 0.0)
        return Curve(source, triple(way), triple(middle) if inner else None)
    centre = centre_of(starts[number], line)
    radius = float(np.hypot(starts[number][0] - centre[0], starts[number][1] - centre[1]))
    way[along] = down
    middle[a], middle[b], middle[along] = *centre, level
    facets = path.points[: len(path.stretch)][path.stretch == number]
    step = float(np.linalg.norm(np.diff(facets, axis=0), axis=1).max()) if len(facets) > 1 else radius
    # To the left of an arc that turns left lies its centre.
    ring = None if inner is None else (radius - inner[0] * (1.0 if line.turn > 0 else -1.0), inner[1])
    return Curve(source, triple(way), triple(middle), Turned(ring, step))


def _volume(points: Floats, triangles: Ints) -> float:
    p, q, r = (points[triangles[:, n]] for n in range(3))
    return float(np.einsum("ij,ij->i", p, np.cross(q, r)).sum()) / 6.0
