"""Bodies with an outline of lines and arcs, run straight along an axis: shaped parts, openings, mouldings, rounds. And cuts along a plane."""

from __future__ import annotations

import numpy as np
from manifold3d import Manifold, Mesh64, triangulate

from drawleaf.model.place import Axis
from drawleaf.model.shapes import Outline, OutlineCut, PlaneCut, Section, Tilt
from drawleaf.solids.cutters import OVERSHOOT, cylinder, triple
from drawleaf.solids.solid import Curve, Floats, Solid
from drawleaf.solids.sweeps import Stretch, centre_of, outline_of

BEYOND = 10_000.0
"""Millimetres to which a shaped part's surroundings are cut away."""


def run_along(outline: Outline, low: float, high: float) -> tuple[Manifold, tuple[Curve, ...]]:
    """The outline run along its axis from ``low`` to ``high`` (mm). Corners keep their exact coordinates."""
    start, section = stretches(outline)
    points, stretch = outline_of(start, section)
    if _signed_area(points) < 0.0:
        start, section = stretches(_turned_round(outline))
        points, stretch = outline_of(start, section)
    a, b = (axis.index for axis in outline.axis.others())
    along = outline.axis.index
    count = len(points)
    vertices = np.zeros((2 * count, 3))
    vertices[:, a] = np.tile(points[:, 0], 2)
    vertices[:, b] = np.tile(points[:, 1], 2)
    vertices[:count, along], vertices[count:, along] = low, high
    here = np.arange(count)
    there = np.roll(here, -1)
    sides = np.column_stack([here, there, there + count, here, there + count, here + count]).reshape(-1, 3)
    cap = np.array(triangulate([points]), dtype=np.int64)
    triangles = np.vstack([sides, cap[:, ::-1], cap + count])
    if outline.axis is Axis.Y:
        # x and z with y make a left-handed frame: turn every triangle round.
        triangles = triangles[:, ::-1]
    arcs = [number for number, one in enumerate(section) if one.turn]
    numbers = np.zeros(len(section), dtype=np.int64)
    numbers[arcs] = np.arange(1, len(arcs) + 1)
    surface = np.concatenate([np.repeat(numbers[stretch], 2), np.zeros(2 * len(cap), dtype=np.int64)])
    order = np.argsort(surface, kind="stable")
    first = Manifold.reserve_ids(len(arcs) + 1)
    mesh = Mesh64(
        vert_properties=vertices,
        tri_verts=np.ascontiguousarray(triangles[order], dtype=np.uint64),
        run_index=np.searchsorted(surface[order], np.arange(len(arcs) + 2)).astype(np.uint64) * 3,
        run_original_id=np.arange(first, first + len(arcs) + 1).astype(np.uint32),
    )
    starts = [start, *(one.to for one in section)]
    curves = []
    for place, number in enumerate(arcs):
        centre = centre_of(starts[number], section[number])
        middle = np.zeros(3)
        middle[a], middle[b], middle[along] = *centre, low
        direction = np.zeros(3)
        direction[along] = 1.0
        curves.append(Curve(first + 1 + place, triple(direction), triple(middle)))
    return Manifold(mesh), tuple(curves)


def stretches(outline: Outline) -> tuple[tuple[float, float], list[Stretch]]:
    """The outline in millimetres, from its first corner back to it."""
    corners = outline.corners
    following = (*corners[1:], corners[0])
    section = [Stretch((after.u.mm, after.v.mm), one.turn) for one, after in zip(corners, following, strict=True)]
    return (corners[0].u.mm, corners[0].v.mm), section


def outline_cut(cut: OutlineCut) -> tuple[Manifold, tuple[Curve, ...]]:
    """The void of a cut along an outline: what is inside it, or all that is outside."""
    axis = cut.outline.axis
    low, high = cut.span.low.mm, cut.span.high.mm
    if axis.low in cut.open:
        low -= OVERSHOOT
    if axis.high in cut.open:
        high += OVERSHOOT
    body, curves = run_along(cut.outline, low, high)
    if not cut.keep:
        return body, curves
    size = [2 * BEYOND] * 3
    place = [-BEYOND] * 3
    size[axis.index], place[axis.index] = high - low, low
    around = Manifold.cube(tuple(size)).translate(tuple(place))  # type: ignore[arg-type]
    return around - body, curves


def section_body(section: Section, low: float, high: float) -> tuple[Manifold, tuple[Curve, ...]]:
    """The blank of a moulding or a round: its section run along the part. A round has the facets of a bore, so that it fits its hole."""
    if section.round:
        u, v = section.outline.bounds
        a, b = section.outline.axis.others()
        start, direction = np.zeros(3), np.zeros(3)
        start[a.index], start[b.index], start[section.outline.axis.index] = u.middle.mm, v.middle.mm, low
        direction[section.outline.axis.index] = 1.0
        bar, curve = cylinder(start, triple(direction), u.extent.mm / 2.0, high - low)
        return bar, (curve,)
    return run_along(section.outline, low, high)


def beyond(body: Manifold, cut: PlaneCut) -> Manifold:
    """The body less what lies beyond the plane."""
    normal = np.array(cut.normal) / np.linalg.norm(cut.normal)
    return body.trim_by_plane(triple(-normal), -float(normal @ np.array(cut.point.mm)))


def leaning(solid: Solid, tilt: Tilt) -> Solid:
    """The upright solid as it leans on the piece."""
    matrix = np.array(tilt.matrix)
    about = np.array(tilt.about.mm)
    placed = np.column_stack([matrix, about - matrix @ about])
    curves = tuple(
        Curve(
            curve.source,
            triple(matrix @ np.array(curve.axis)),
            None if curve.centre is None else triple(about + matrix @ (np.array(curve.centre) - about)),
            curve.turned,
        )
        for curve in solid.curves
    )
    return Solid(solid.manifold.transform(placed), curves)


def area_of(outline: Outline) -> float:
    """Square millimetres inside an outline, to its facets; negative where it is gone round clockwise."""
    return _signed_area(outline_of(*stretches(outline))[0])


def _signed_area(points: Floats) -> float:
    x, y = points[:, 0], points[:, 1]
    return float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)) / 2.0


def _turned_round(outline: Outline) -> Outline:
    """The same outline gone round the other way."""
    backwards = outline.corners[::-1]
    turns = [-one.turn for one in (*backwards[1:], backwards[0])]
    corners = tuple(type(one)(one.u, one.v, turn) for one, turn in zip(backwards, turns, strict=True))
    return Outline(outline.axis, corners)
