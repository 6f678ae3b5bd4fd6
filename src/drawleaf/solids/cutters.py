"""The bodies that parts are made of and cut with: boxes, and prisms for bores and edge profiles.

Corner points are given, never size and place, so that faces that meet in the plan have the same coordinates to the last bit.
"""

from __future__ import annotations

from math import asin, ceil, cos, pi, sin, sqrt

import numpy as np
from manifold3d import Manifold, Mesh64

from drawleaf.model.place import Box, Face
from drawleaf.model.plan import Bore, BoxCut, EdgeProfile, Part
from drawleaf.solids.solid import Curve, Floats

OVERSHOOT = 1.0
"""Millimetres that a cutter runs past an open face, so that no skin of no thickness stays."""

ARC_TOLERANCE = 0.02
"""The most, in millimetres, that a facet of a round-over stands off the true arc."""

_BOX_CORNERS = np.array(
    [
        [0, 1, 2],
        [1, 3, 2],
        [4, 6, 5],
        [5, 6, 7],
        [0, 4, 1],
        [1, 4, 5],
        [2, 3, 6],
        [3, 7, 6],
        [0, 2, 4],
        [2, 6, 4],
        [1, 5, 3],
        [3, 5, 7],
    ]
)


def box_of(box: Box) -> Floats:
    """(2, 3): the low and high corner in millimetres."""
    spans = (box.x, box.y, box.z)
    return np.array([[span.low.mm for span in spans], [span.high.mm for span in spans]])


def block(low: Floats, high: Floats) -> Manifold:
    """An axis-aligned block between two corners."""
    picks = np.array([[x, y, z] for x in (0, 1) for y in (0, 1) for z in (0, 1)])
    return _manifold(np.where(picks, high, low), _BOX_CORNERS)


def prism(outline: Floats, origin: Floats, frame: Floats, length: float) -> Manifold:
    """A prism whose (N, 2) anticlockwise ``outline`` can be fanned from its first point; ``frame`` rows are u, v and the direction of length."""
    count = len(outline)
    flat = origin + outline @ frame[:2]
    ring, following = np.arange(1, count - 1), np.arange(2, count)
    first = np.zeros_like(ring)
    here = np.arange(count)
    there = np.roll(here, -1)
    triangles = [
        np.column_stack([first, following, ring]),
        np.column_stack([first, ring, following]) + count,
        np.column_stack([here, there, there + count]),
        np.column_stack([here, there + count, here + count]),
    ]
    return _manifold(np.vstack([flat, flat + frame[2] * length]), np.vstack(triangles))


def facets_of(radius: float) -> int:
    """How many sides stand for a circle: by the radius alone, so that a pin and its hole have the same facets."""
    return 24 if radius <= 8.0 else 32 if radius <= 16.0 else 48


def circle(radius: float) -> Floats:
    """(N, 2) corners of a regular polygon of the same area as the circle, so that volumes are true; its first corner lies on u."""
    count = facets_of(radius)
    equal = radius * sqrt(2.0 * pi / (count * sin(2.0 * pi / count)))
    angles = np.arange(count) * (2.0 * pi / count)
    return equal * np.column_stack([np.cos(angles), np.sin(angles)])


def frame_along(direction: tuple[float, float, float]) -> Floats:
    """(3, 3) with the rows u, v and direction, right-handed. By the direction's axis alone (not its sign), so that round things line up."""
    w = np.array(direction, dtype=float)
    w /= np.linalg.norm(w)
    helper = np.array([1.0, 0.0, 0.0]) if abs(w[2]) > 0.9 else np.array([0.0, 0.0, 1.0])
    u = helper - w * (helper @ w)
    u /= np.linalg.norm(u)
    return np.array([u, np.cross(w, u), w])


def cylinder(
    start: Floats,
    direction: tuple[float, float, float],
    radius: float,
    length: float,
    side: tuple[float, float, float] | None = None,
) -> tuple[Manifold, Curve]:
    """A round bar from ``start`` along ``direction``; a corner of its facets lies to that ``side``, where one is given."""
    frame = frame_along(direction)
    if side is not None:
        u = np.array(side) / np.linalg.norm(side)
        frame = np.array([u, np.cross(frame[2], u), frame[2]])
    bar = prism(circle(radius), start, frame, length)
    return bar, Curve(bar.original_id(), triple(frame[2]), triple(start))


def box_cut(cut: BoxCut) -> Manifold:
    """The void of a square-cornered cut, run past the faces that it breaks through."""
    low, high = box_of(cut.box)
    for face in cut.open:
        (low if face.side < 0 else high)[face.axis.index] += face.side * OVERSHOOT
    return block(low, high)


def bore(hole: Bore, part: Part) -> tuple[Manifold, Curve]:
    """The void of a bore. It starts far enough outside that the whole rim of a slanting one is cut."""
    radius = hole.diameter.mm / 2.0
    direction = np.array(hole.direction) / np.linalg.norm(hole.direction)
    steep = max(abs(float(direction @ np.array(hole.face.normal))), 1e-3)
    before = OVERSHOOT + radius * sqrt(max(0.0, 1.0 - steep * steep)) / steep
    if hole.depth is not None:
        length = before + hole.depth.mm
    else:
        low, high = box_of(part.body)
        length = 2.0 * before + float(np.linalg.norm(high - low))
    return cylinder(np.array(hole.start.mm) - direction * before, hole.direction, radius, length, hole.side)


def arc_facets(radius: float) -> int:
    """Facets in a quarter of a round-over: enough for ``ARC_TOLERANCE``, by the radius alone."""
    turn = 2.0 * asin(min(1.0, sqrt(ARC_TOLERANCE / (2.0 * radius)))) * 2.0
    return max(8, ceil(pi / 2.0 / turn))


def profile_outline(kind: str, size: float) -> Floats:
    """(N, 2) the outline of what an edge profile takes away, in a plane across the edge: first the overshot corner, then round to it again.

    Axes run into the wood from the two faces. The corners of a round-over's facets lie on the true arc, tangent to both faces.
    """
    out = -OVERSHOOT
    if kind == "chamfer":
        return np.array([[out, out], [size + OVERSHOOT, out], [out, size + OVERSHOOT]])
    count = arc_facets(size)
    turns = [pi / 2.0 * i / count for i in range(count + 1)]
    arc = [(size - size * sin(t), size - size * cos(t)) for t in turns]
    arc[0], arc[-1] = (size, 0.0), (0.0, size)
    return np.array([(out, out), (size, out), *arc, (out, size)])


def edge_place(profile: EdgeProfile, part: Part) -> tuple[Floats, Floats, float]:
    """Where an edge profile's section is run from, its axes (into the wood from the edge's two faces, and along the edge), and how far:
    past both ends of the edge."""
    one, other = profile.edge
    corners = box_of(part.body)
    run = next(
        axis for axis in (Face.LEFT.axis, Face.FRONT.axis, Face.BOTTOM.axis) if axis not in (one.axis, other.axis)
    )
    u, v = -np.array(one.normal), -np.array(other.normal)
    w = np.cross(u, v)
    forward = bool(w[run.index] > 0)
    origin = np.zeros(3)
    for face in (one, other):
        origin[face.axis.index] = corners[int(face.side > 0), face.axis.index]
    origin[run.index] = corners[0 if forward else 1, run.index] - w[run.index] * OVERSHOOT
    length = float(corners[1, run.index] - corners[0, run.index]) + 2.0 * OVERSHOOT
    return origin, np.array([u, v, w]), length


def edge_profile(profile: EdgeProfile, part: Part) -> tuple[Manifold, Curve | None]:
    """The void of a round-over or chamfer, run past both ends of its edge."""
    origin, frame, length = edge_place(profile, part)
    size = profile.size.mm
    body = prism(profile_outline(profile.kind, size), origin, frame, length)
    if profile.kind == "chamfer":
        return body, None
    return body, Curve(body.original_id(), triple(frame[2]), triple(origin + size * (frame[0] + frame[1])))


def triple(vector: Floats) -> tuple[float, float, float]:
    """A vector as plain floats."""
    x, y, z = vector
    return (float(x), float(y), float(z))


def _manifold(vertices: Floats, triangles: np.ndarray) -> Manifold:
    mesh = Mesh64(
        vert_properties=np.ascontiguousarray(vertices, dtype=np.float64),
        tri_verts=np.ascontiguousarray(triangles, dtype=np.uint64),
    )
    return Manifold(mesh).as_original()
