"""From a body's triangles to flat charts: each plane of a part is one rectangle of texels, which a look fills and the triangles point into.

Wood is worked out in space, so neighbouring charts agree along their edges without being sewn together.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from drawleaf.looks.noise import Floats, Points
from drawleaf.solids.solid import Ints

GUTTER = 2
"""Texels around each chart that repeat its rim, so that nothing of a neighbour shows at its edge."""
_DIRECTIONS, _PLACES = 200.0, 20.0
"""Triangles lie in one plane whose normals agree to a 200th and whose places to a 20th of a millimetre."""


@dataclass(frozen=True, slots=True)
class Grain:
    """How a part's frame lies in the frame of its wood: ``middle`` in mm, and which axis runs along the grain, across and through."""

    middle: tuple[float, float, float]
    axes: tuple[int, int, int]


@dataclass(frozen=True, eq=False, slots=True)
class Chart:
    """A plane of a part. ``normal``, ``s`` and ``t`` are unit vectors in the wood's frame (along, across, through); ``low`` the least s and t of its
    triangles and ``off`` its distance along the normal, in mm; ``texel`` the size of a texel in s and t, ``count`` how many there are, gutters included.
    ``flat`` are (N, 3, 2) the corners of its triangles in s and t.
    """

    normal: tuple[float, float, float]
    s: tuple[float, float, float]
    t: tuple[float, float, float]
    low: tuple[float, float]
    off: float
    texel: tuple[float, float]
    count: tuple[int, int]
    flat: Floats

    @property
    def rims(self) -> NDArray[np.float32]:
        """(N, 2, 2) the ends of its outline in s and t. Asked of what is seen alone: of a piece with many holes that is a tenth of all charts."""
        return _rims(self.flat)

    def points(self) -> Points:
        """The middle of every texel in the wood's frame; arrays that broadcast to (rows, columns), each as small as it can be."""
        s = self.low[0] + (np.arange(self.count[0]) - GUTTER + 0.5) * self.texel[0]
        t = self.low[1] + (np.arange(self.count[1]) - GUTTER + 0.5) * self.texel[1]
        found = []
        for axis in range(3):
            value = np.full((1, 1), self.off * self.normal[axis])
            if abs(self.s[axis]) > 1e-6:
                value = value + self.s[axis] * s[None, :]
            if abs(self.t[axis]) > 1e-6:
                value = value + self.t[axis] * t[:, None]
            found.append(value.astype(np.float32))
        return found[0], found[1], found[2]


def charts_of(
    triangles: Floats, normals: Floats, grain: Grain, texel: float, finest: float
) -> tuple[Ints, list[Chart], Floats]:
    """The chart of each triangle (N), the charts, and (N, 3, 2) where the corners lie in them, in texels.

    ``triangles`` (N, 3, 3) in mm and ``normals`` (N, 3) are in the part's frame. ``texel`` is the size of one in mm across the grain; ``finest`` the
    same through the thickness on edges.
    """
    order = list(grain.axes)
    corners = (triangles - np.array(grain.middle))[:, :, order]
    facing = np.round(normals[:, order] * _DIRECTIONS) / _DIRECTIONS
    facing = facing / np.linalg.norm(facing, axis=1, keepdims=True)
    off = np.einsum("ij,ikj->ik", facing, corners).mean(axis=1)
    keys = np.column_stack([np.round(facing * _DIRECTIONS), np.round(off * _PLACES)]).astype(np.int64)
    _, first, chart_of = np.unique(keys, axis=0, return_index=True, return_inverse=True)
    chart_of = chart_of.reshape(-1)
    charts: list[Chart] = []
    places = np.zeros((len(triangles), 3, 2))
    for number, leader in enumerate(first.tolist()):
        rows = chart_of == number
        chart, spots = _chart(corners[rows], facing[leader], float(off[rows].mean()), texel, finest)
        charts.append(chart)
        places[rows] = spots
    return chart_of, charts, places


def _chart(corners: Floats, normal: Floats, off: float, texel: float, finest: float) -> tuple[Chart, Floats]:
    s, t = _directions(normal)
    flat = np.stack([corners @ s, corners @ t], axis=-1)
    low, high = flat.reshape(-1, 2).min(axis=0), flat.reshape(-1, 2).max(axis=0)
    sizes = [_texel(way, texel, finest, abs(float(normal[2])) < 0.8) for way in (s, t)]
    count = [int(np.ceil((high[k] - low[k]) / sizes[k])) + 2 * GUTTER + 1 for k in range(2)]
    chart = Chart(
        _triple(normal),
        _triple(s),
        _triple(t),
        (float(low[0]), float(low[1])),
        off,
        (sizes[0], sizes[1]),
        (count[0], count[1]),
        flat,
    )
    return chart, (flat - low) / np.array(sizes) + GUTTER


def _directions(normal: Floats) -> tuple[Floats, Floats]:
    """Along the grain as far as the plane allows, across the part on its ends; and square to that."""
    ahead = np.array([0.0, 1.0, 0.0]) if abs(normal[0]) > 0.9 else np.array([1.0, 0.0, 0.0])
    s = ahead - (ahead @ normal) * normal
    s /= np.linalg.norm(s)
    (a, b, c), (x, y, z) = normal.tolist(), s.tolist()
    return s, np.array([b * z - c * y, c * x - a * z, a * y - b * x])


def _texel(way: Floats, texel: float, finest: float, edge: bool) -> float:
    """Along the grain there is less to see than across it; on edges, through the thickness, there are plies."""
    if abs(way[0]) > 0.9:
        return 1.7 * texel
    return finest if edge and abs(way[2]) > 0.7 else texel


def _rims(flat: Floats) -> NDArray[np.float32]:
    """(N, 2, 2) the edges that only one of the triangles has."""
    ends = np.round(np.stack([flat, np.roll(flat, -1, axis=1)], axis=2).reshape(-1, 2, 2), 3)
    turned = (ends[:, 0, 0] > ends[:, 1, 0]) | ((ends[:, 0, 0] == ends[:, 1, 0]) & (ends[:, 0, 1] > ends[:, 1, 1]))
    ends[turned] = ends[turned][:, ::-1]
    unique, times = np.unique(ends.reshape(-1, 4), axis=0, return_counts=True)
    return unique[times == 1].reshape(-1, 2, 2).astype(np.float32)


@dataclass(frozen=True, slots=True)
class Packed:
    """An atlas of charts: its ``size`` in texels (wide, high), and the place of each chart's corner in it."""

    size: tuple[int, int]
    places: tuple[tuple[int, int], ...]


def packed(counts: Sequence[tuple[int, int]]) -> Packed:
    """Rectangles on shelves: the high ones first, each shelf as high as its first."""
    area = sum(wide * high for wide, high in counts)
    width = max(max((wide for wide, _ in counts), default=1), int(1.05 * area**0.5), 64)
    places: list[tuple[int, int]] = [(0, 0)] * len(counts)
    x = y = shelf = 0
    for index in sorted(range(len(counts)), key=lambda one: (-counts[one][1], -counts[one][0], one)):
        wide, high = counts[index]
        if x + wide > width:
            x, y, shelf = 0, y + shelf, 0
        places[index] = x, y
        x, shelf = x + wide, max(shelf, high)
    return Packed((width, y + shelf), tuple(places))


def darken_rims(color: Floats, chart: Chart, width: float = 0.55, share: float = 0.28) -> None:
    """A thin dark line along a chart's outline, in place: sharp edges are eased at the bench and gather a little dust, and flush joints show."""
    rows, columns = color.shape[:2]
    reach = [max(width, 0.75 * size) for size in chart.texel]
    strength = share * min(1.0, width / max(reach))
    shade = np.zeros((rows, columns), np.float32)
    for (s0, t0), (s1, t1) in (chart.rims - np.array(chart.low, np.float32)).tolist():
        first = [
            int((min(a, b) - r) / size) + GUTTER - 1
            for a, b, r, size in zip((s0, t0), (s1, t1), reach, chart.texel, strict=True)
        ]
        last = [
            int((max(a, b) + r) / size) + GUTTER + 2
            for a, b, r, size in zip((s0, t0), (s1, t1), reach, chart.texel, strict=True)
        ]
        left, right, top, bottom = max(0, first[0]), min(columns, last[0]), max(0, first[1]), min(rows, last[1])
        if left >= right or top >= bottom:
            continue
        s = ((np.arange(left, right) - GUTTER + 0.5) * chart.texel[0] - s0).astype(np.float32)[None, :]
        t = ((np.arange(top, bottom) - GUTTER + 0.5) * chart.texel[1] - t0).astype(np.float32)[:, None]
        ds, dt = s1 - s0, t1 - t0
        along = np.clip((s * ds + t * dt) / max(ds * ds + dt * dt, 1e-9), 0.0, 1.0)
        far = np.hypot((s - along * ds) / reach[0], (t - along * dt) / reach[1])
        spot = shade[top:bottom, left:right]
        np.maximum(spot, np.clip(1.3 - far, 0.0, 1.0), out=spot)
    color *= (1.0 - strength * shade)[..., None]


def _triple(values: Floats) -> tuple[float, float, float]:
    # Nought plainly, so that a plane square to the wood is seen to be so.
    a, b, c = (0.0 if abs(value) < 1e-9 else float(value) for value in values)
    return a, b, c
