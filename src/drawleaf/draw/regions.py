"""What can be seen of each face: its region on paper less what lies before it. For tints and shading.

Two plane faces in a parallel view: one lies before the other on one side of a straight line on paper (where their planes cross), so
what it hides is itself cut along that line. No sorting by depth, so nothing can come out in a wrong order.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from drawleaf.draw.linework import ShadedFace
from drawleaf.draw.projection import Body
from drawleaf.draw.view import View
from drawleaf.solids.build import Solids
from drawleaf.solids.solid import Solid

Floats = NDArray[np.float64]

BEFORE = 0.001
"""Millimetres that a face must lie before another to hide it."""

SPECK = 0.002
"""A region thinner than this (area over outline, in millimetres) is left out."""


@dataclass(frozen=True, eq=False)
class FaceRegions:
    """The front faces of a solid where it was built: regions on paper, planes (depth = a u + b v + c) and normals."""

    regions: NDArray[np.object_]
    planes: Floats
    normals: Floats


def visible_faces(solids: Solids, view: View, bodies: Sequence[Body]) -> tuple[ShadedFace, ...]:
    """The visible part of every front face, body by body; faces that do not show are left out."""
    keys = {(i, j): _pair_key(view, bodies[i], bodies[j]) for i, j in _overlapping(bodies)}
    missing = [pair for pair, key in keys.items() if key not in solids.memo]
    if missing:
        for pair, cover in _cover(solids, view, bodies, missing).items():
            solids.memo[keys[pair]] = cover
    covers: list[dict[int, list[BaseGeometry]]] = [{} for _ in bodies]
    for (i, _over), key in keys.items():
        for face, cover in solids.memo[key].items():  # type: ignore[attr-defined]
            dx, dy = bodies[i].shift[:2]
            covers[i].setdefault(face, []).append(_shifted(cover, dx, dy))
    shaded: list[ShadedFace] = []
    for i, body in enumerate(bodies):
        faces = _faces(solids, view, body.solid)
        for number, whole in enumerate(faces.regions):
            region = _shifted(whole, body.shift[0], body.shift[1])
            if number in covers[i]:
                region = shapely.difference(region, shapely.union_all(covers[i][number]))
            region = _cleaned(region)
            if not region.is_empty:
                x, y, z = faces.normals[number]
                shaded.append(ShadedFace(body.id, (float(x), float(y), float(z)), region))
    return tuple(shaded)


def _overlapping(bodies: Sequence[Body]) -> list[tuple[int, int]]:
    boxes = np.array([body.box for body in bodies]).reshape(-1, 4)
    apart = ((boxes[:, None, :2] >= boxes[None, :, 2:]) | (boxes[None, :, :2] >= boxes[:, None, 2:])).any(axis=2)
    return [(int(i), int(j)) for i, j in np.argwhere(~apart)]


def _pair_key(view: View, under: Body, over: Body) -> tuple[object, ...]:
    relative = np.round(over.shift - under.shift, 6) + 0.0
    return ("cover", view, under.solid, over.solid, tuple(relative.tolist()))


def _faces(solids: Solids, view: View, solid: Solid) -> FaceRegions:
    key = ("faces", view, solid)
    if key not in solids.memo:
        fronts = solids.memo["seen", view, solid].fronts  # type: ignore[attr-defined]
        count = int(fronts.face.max()) + 1 if len(fronts.face) else 0
        triangles = shapely.polygons(fronts.corners) if count else np.empty(0, dtype=object)
        first = [int(np.flatnonzero(fronts.face == face)[0]) for face in range(count)]
        regions = np.array([_joined(triangles[fronts.face == face]) for face in range(count)], dtype=object)
        solids.memo[key] = FaceRegions(regions, fronts.plane[first], fronts.normals[first])
    return solids.memo[key]  # type: ignore[return-value]


def _joined(triangles: NDArray[np.object_]) -> BaseGeometry:
    """Triangles of one face share whole sides, so the fast union will do; slivers can spoil that."""
    if len(triangles) == 1:
        return triangles[0]
    try:
        joined = shapely.coverage_union_all(triangles)
    except shapely.GEOSException:
        return shapely.union_all(triangles)
    return joined if shapely.is_valid(joined) else shapely.union_all(triangles)


def _cover(
    solids: Solids, view: View, bodies: Sequence[Body], pairs: Sequence[tuple[int, int]]
) -> dict[tuple[int, int], dict[int, BaseGeometry]]:
    """For each pair of bodies: what of each face of the first the second covers, as regions where the first was built."""
    result: dict[tuple[int, int], dict[int, BaseGeometry]] = {pair: {} for pair in pairs}
    for i, j in pairs:
        under, over = _faces(solids, view, bodies[i].solid), _faces(solids, view, bodies[j].solid)
        if not len(under.regions) or not len(over.regions):
            continue
        shift = bodies[j].shift - bodies[i].shift
        planes = over.planes.copy()
        planes[:, 2] += shift[2] - planes[:, :2] @ shift[:2]
        regions = over.regions if not shift[:2].any() else shapely.transform(over.regions, lambda p, s=shift: p + s[:2])
        found: dict[int, list[BaseGeometry]] = {}
        for below, above in _before(under, regions, planes):
            part = _part_before(regions[above], planes[above] - under.planes[below])
            if not part.is_empty:
                found.setdefault(below, []).append(part)
        result[i, j] = {below: shapely.union_all(parts) for below, parts in found.items()}
    return result


def _before(under: FaceRegions, regions: NDArray[np.object_], planes: Floats) -> list[tuple[int, int]]:
    """Pairs of faces whose boxes overlap and where the second lies before the first somewhere in the overlap."""
    mine, theirs = shapely.bounds(under.regions), shapely.bounds(regions)
    low = np.maximum(mine[:, None, :2], theirs[None, :, :2])
    high = np.minimum(mine[:, None, 2:], theirs[None, :, 2:])
    difference = planes[None] - under.planes[:, None]
    highest = difference[..., 2] + np.maximum(difference[..., :2] * low, difference[..., :2] * high).sum(axis=2)
    near = (low < high).all(axis=2) & (highest > BEFORE)
    return [(int(a), int(b)) for a, b in np.argwhere(near)]


def _part_before(region: BaseGeometry, difference: Floats) -> BaseGeometry:
    """The part of the region where a u + b v + c > BEFORE."""
    west, south, east, north = region.bounds
    corners = np.array([[west, south], [east, south], [east, north], [west, north]])
    heights = corners @ difference[:2] + (difference[2] - BEFORE)
    if (heights >= 0).all():
        return region
    if (heights <= 0).all():
        return shapely.Polygon()
    kept = _clip_polygon(corners, heights)
    return shapely.intersection(region, shapely.Polygon(kept)) if len(kept) >= 3 else shapely.Polygon()


def _clip_polygon(corners: Floats, heights: Floats) -> Floats:
    """A convex outline cut to where its heights are positive."""
    kept: list[Floats] = []
    for i in range(len(corners)):
        p, q, hp, hq = corners[i], corners[(i + 1) % len(corners)], heights[i], heights[(i + 1) % len(corners)]
        if hp >= 0:
            kept.append(p)
        if (hp > 0) != (hq > 0) and hp != hq:
            kept.append(p + (q - p) * (hp / (hp - hq)))
    return np.array(kept)


def _shifted(region: BaseGeometry, dx: float, dy: float) -> BaseGeometry:
    if not dx and not dy:
        return region
    return shapely.transform(region, lambda points: points + np.array([dx, dy]))


def _cleaned(region: BaseGeometry) -> BaseGeometry:
    """Only what has area, without the threads that rounding leaves."""
    parts = [part for part in shapely.get_parts(region) if part.geom_type == "Polygon"]
    kept = [part for part in parts if part.area > SPECK * part.length]
    if not kept:
        return shapely.Polygon()
    return kept[0] if len(kept) == 1 else shapely.MultiPolygon(kept)
