"""A single solid's front faces in a view: what of them shows when nothing else stands before it, and its whole outline.

Two plane faces in a parallel view: one lies before the other on one side of a straight line on paper (where their planes cross), so
what it hides is itself cut along that line. No sorting by depth, so nothing can come out in a wrong order.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from drawleaf.draw.sight.projection import BodyView, Fronts

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]
Regions = NDArray[np.object_]

BEFORE = 0.001
"""Millimetres that a face must lie before another to hide it."""

SPECK = 0.002
"""A region thinner than this (area over outline, in millimetres) is left out."""

HAIR = 1e-6
"""Gaps and threads in an outline narrower than this (millimetres) are closed: rounding leaves them between areas that join."""

MANY = 60
"""A region with more corners is trimmed before it is compared."""

NOTHING = shapely.Polygon()


@dataclass(frozen=True, eq=False)
class Faces:
    """Plane faces on paper: regions, planes (F, 3) with depth = a u + b v + c, outward normals (F, 3) in
    the piece's frame, and which are facets of a rounded surface."""

    regions: Regions
    planes: Floats
    normals: Floats
    curved: Flags

    def pick(self, faces: Ints) -> Faces:
        """Some of them."""
        return Faces(self.regions[faces], self.planes[faces], self.normals[faces], self.curved[faces])

    def moved(self, shift: Floats) -> Faces:
        """The same faces moved on paper and in depth."""
        if not shift.any():
            return self
        planes = self.planes.copy()
        planes[:, 2] += shift[2] - planes[:, :2] @ shift[:2]
        return Faces(moved(self.regions, shift), planes, self.normals, self.curved)


def moved(regions: Regions, shift: Floats) -> Regions:
    """Regions moved on paper."""
    if not shift[:2].any():
        return regions
    there = shapely.transform(regions, lambda points: points + shift[:2])
    # Where two sides of an area all but touch, rounding may bring them together.
    for number in np.flatnonzero(~shapely.is_valid(there)).tolist():
        there[number] = cleaned(shapely.make_valid(there[number], method="structure", keep_collapsed=False))
    return there


def joined(regions: Regions) -> BaseGeometry:
    """Areas that lie side by side, none over another, as one."""
    whole = shapely.union_all(regions)
    # Where many all but touch, this union has been seen to lose one of them; on a grid it is sound, if slower.
    if whole.area < 0.9999 * float(shapely.area(regions).sum()):
        whole = shapely.union_all(regions, grid_size=HAIR)
    return shapely.set_precision(whole, HAIR)


def faces_alone(body: BodyView) -> Faces:
    """What shows of each front face of a solid that stands alone. These regions do not overlap: together they are its outline."""
    whole = _whole_faces(body.fronts)
    if body.convex or not len(whole.regions):
        return whole
    near, entire = before(whole, whole)
    shows = ~_covered(whole, entire)
    sizes = shapely.area(whole.regions)
    under, over = np.nonzero(near & shows[:, None])
    order = np.lexsort((over, -sizes[over], under))
    under, over = under[order], over[order]
    parts = parts_before(whole, whole, under, over, entire[under, over])
    regions = less(whole.regions, under, parts)
    faces = np.flatnonzero(shows & ~shapely.is_empty(regions))
    found = whole.pick(faces)
    return Faces(regions[faces], found.planes, found.normals, found.curved)


def less(regions: Regions, which: Ints, parts: Regions) -> Regions:
    """The regions without parts: ``which`` gives the region of which each part is taken, one after the other, in rising order. Those that
    change are cleaned; what has nothing left is empty."""
    left, changed = regions.copy(), np.zeros(len(regions), dtype=bool)
    present = ~shapely.is_empty(parts)
    which, parts = which[present], parts[present]
    turn = np.arange(len(which)) - np.searchsorted(which, which)
    for number in range(int(turn.max(initial=-1)) + 1):
        now = np.flatnonzero(turn == number)
        now = now[~shapely.is_empty(left[which[now]])]
        left[which[now]] = shapely.difference(left[which[now]], parts[now])
        changed[which[now]] = True
    for number in np.flatnonzero(changed).tolist():
        left[number] = cleaned(left[number])
    return left


def _covered(faces: Faces, entire: Flags) -> Flags:
    """Which faces lie whole behind one other face."""
    covered = np.zeros(len(faces.regions), dtype=bool)
    under, over = np.nonzero(entire)
    larger = shapely.area(faces.regions[over]) > shapely.area(faces.regions[under])
    under, over = under[larger], over[larger]
    shapely.prepare(faces.regions)
    covered[under[shapely.covers(faces.regions[over], faces.regions[under])]] = True
    return covered


def before(under: Faces, over: Faces) -> tuple[Flags, Flags]:
    """(U, O) tables: whether the second may hide some of the first (their boxes overlap and it lies before it there), and
    whether it lies before it everywhere."""
    mine, theirs = shapely.bounds(under.regions), shapely.bounds(over.regions)
    low = np.maximum(mine[:, None, :2], theirs[None, :, :2])
    high = np.minimum(mine[:, None, 2:], theirs[None, :, 2:])
    difference = over.planes[None] - under.planes[:, None]
    a, b = difference[..., :2] * low, difference[..., :2] * high
    highest = difference[..., 2] + np.maximum(a, b).sum(axis=2)
    lowest = difference[..., 2] + np.minimum(a, b).sum(axis=2)
    near = (low < high).all(axis=2) & (highest > BEFORE)
    # Boxes of facets overlap far more often than the facets do.
    _drop_apart(near, under, over)
    _drop_apart(near.T, over, under)
    return near, near & (lowest >= 0.0)


def _drop_apart(near: Flags, small: Faces, large: Faces) -> None:
    """Strike out pairs of a facet and a face that do not overlap."""
    a, b = np.nonzero(near & small.curved[:, None])
    if len(a):
        shapely.prepare(large.regions)
        near[a, b] = shapely.intersects(large.regions[b], _shrunk(small.regions)[a])


def _shrunk(regions: Regions) -> Regions:
    """Each a little smaller about its middle, so that two that only share a side no longer touch."""
    points, owner = shapely.get_coordinates(regions, return_index=True)
    count = np.bincount(owner, minlength=len(regions)).clip(1)
    middle = np.column_stack([np.bincount(owner, points[:, k], len(regions)) / count for k in (0, 1)])[owner]
    smaller = regions.copy()
    shapely.set_coordinates(smaller, middle + (points - middle) * 0.999)
    return smaller


def parts_before(under: Faces, over: Faces, faces: Ints, others: Ints, entire: Flags) -> Regions:
    """For pairs of faces: the part of the other's region that lies before the face's plane, so far as it could hide the face. ``entire``
    says where it all does."""
    parts = over.regions[others]
    for pair in np.flatnonzero(shapely.get_num_coordinates(parts) >= MANY).tolist():
        parts[pair] = _about(parts[pair], under.regions[int(faces[pair])])
    some = np.flatnonzero(~entire & ~shapely.is_empty(parts))
    difference = over.planes[others[some]] - under.planes[faces[some]]
    points, owner = shapely.get_coordinates(parts[some], return_index=True)
    heights = (points * difference[owner, :2]).sum(axis=1) + (difference[owner, 2] - BEFORE)
    first = np.searchsorted(owner, np.arange(len(some)))
    if len(some):
        highest, lowest = np.maximum.reduceat(heights, first), np.minimum.reduceat(heights, first)
        parts[some[highest <= 0]] = NOTHING
        across = np.flatnonzero((highest > 0) & (lowest < 0))
        parts[some[across]] = _halves(parts[some[across]], difference[across])
    return parts


def _halves(regions: Regions, planes: Floats) -> Regions:
    """What of each region lies where its plane rises above ``BEFORE``."""
    halves = np.empty(len(regions), dtype=object)
    for number, (west, south, east, north) in enumerate(shapely.bounds(regions).tolist()):
        corners = np.array([[west, south], [east, south], [east, north], [west, north]])
        kept = _clip_outline(corners, corners @ planes[number, :2] + (planes[number, 2] - BEFORE))
        halves[number] = shapely.Polygon(kept) if len(kept) >= 3 else NOTHING
    return shapely.intersection(regions, halves)


def _about(region: BaseGeometry, face: BaseGeometry) -> BaseGeometry:
    """Of a region with many corners only what lies about the face."""
    west, south, east, north = face.bounds
    try:
        near = shapely.clip_by_rect(region, west - 1.0, south - 1.0, east + 1.0, north + 1.0)
    except shapely.errors.GEOSException:
        return region  # a corner that the rectangle just touches is more than its clipping knows how to cut
    return near if near.is_valid else region


def cleaned(region: BaseGeometry) -> BaseGeometry:
    """Only what has area, without the threads that rounding leaves."""
    parts = [part for part in shapely.get_parts(region) if part.geom_type == "Polygon"]
    kept = [part for part in parts if part.area > SPECK * part.length]
    if not kept:
        return NOTHING
    return kept[0] if len(kept) == 1 else shapely.MultiPolygon(kept)


def _whole_faces(fronts: Fronts) -> Faces:
    count = int(fronts.face.max()) + 1 if len(fronts.face) else 0
    order = np.argsort(fronts.face, kind="stable")
    groups = np.split(order, np.flatnonzero(np.diff(fronts.face[order])) + 1) if count else []
    triangles: Regions = np.asarray(shapely.polygons(fronts.corners), dtype=object) if count else np.empty(0, object)
    regions = np.empty(count, dtype=object)
    regions[:] = [_flat(triangles[group]) for group in groups]
    for face in np.flatnonzero(~shapely.is_valid(regions)).tolist():
        regions[face] = shapely.union_all(triangles[groups[face]])
    first = [int(group[0]) for group in groups]
    return Faces(regions, fronts.plane[first], fronts.normals[first], fronts.curved[first])


def _flat(triangles: Regions) -> BaseGeometry:
    """Triangles of one face share whole sides, so the fast union will do; slivers can spoil that."""
    if len(triangles) == 1:
        return triangles[0]
    try:
        return shapely.coverage_union_all(triangles)
    except shapely.GEOSException:
        return shapely.union_all(triangles)


def _clip_outline(corners: Floats, heights: Floats) -> list[Floats]:
    """A convex outline cut to where its heights are positive."""
    kept: list[Floats] = []
    for i in range(len(corners)):
        p, q, hp, hq = corners[i], corners[(i + 1) % len(corners)], heights[i], heights[(i + 1) % len(corners)]
        if hp >= 0:
            kept.append(p)
        if (hp > 0) != (hq > 0) and hp != hq:
            kept.append(p + (q - p) * (hp / (hp - hq)))
    return kept
