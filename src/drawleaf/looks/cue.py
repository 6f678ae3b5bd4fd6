"""Something of a known size in a picture: a plain mug where one would set it down, on the piece or on the floor beside it."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from manifold3d import Manifold

from drawleaf.looks.scene import Body, Plain, body_of, corners_of
from drawleaf.solids.cutters import cylinder
from drawleaf.solids.solid import Floats, Solid

_ACROSS, _HIGH = 82.0, 95.0
_HANDLE = 80.0
"""Millimetres from the mug's middle to the end of its handle."""
_CELL = 8.0
_COLOR = Plain((0.10, 0.20, 0.26), 0.18)


def cue(bodies: Sequence[Body], *, hangs: bool) -> tuple[Body, ...]:
    """A mug, 82 mm across and 95 mm high, on the highest level place of the piece that has room for it, else on the floor to its right.

    Nothing where a piece on the wall has no such place.
    """
    spot = _level_place(bodies)
    if spot is None and not hangs:
        points = corners_of(bodies)
        low, high = points.min(axis=0), points.max(axis=0)
        spot = np.array([high[0] + 130.0, low[1] + 60.0, low[2]])
    return () if spot is None else (_mug(spot),)


def _level_place(bodies: Sequence[Body]) -> Floats | None:
    """(3) The place, in mm, nearest to three quarters of the way to the right, in the middle of its depth."""
    points = corners_of(bodies)
    low, high = points.min(axis=0), points.max(axis=0)
    tops = _tops(bodies, low, high)
    round_, handle = _reach(0.0, _ACROSS / 2.0 + 4.0, _ACROSS / 2.0 + 4.0), _reach(_HANDLE / 2.0, _HANDLE / 2.0, 12.0)
    under = np.unique(np.concatenate([round_, handle]), axis=0)
    margin = int(np.ceil(_HANDLE / _CELL)) + 1
    padded = np.pad(tops, margin, constant_values=-np.inf)
    near = np.stack([np.roll(padded, (-one[0], -one[1]), (0, 1)) for one in under])
    near = near[:, margin:-margin, margin:-margin]
    with np.errstate(invalid="ignore"):
        level = np.isfinite(tops) & (np.abs(near - tops).max(axis=0) < 0.5)
    if not level.any():
        return None
    # The middle of a board that looks level to the half millimetre is level at the same height everywhere.
    height = tops[level].max()
    cells = np.argwhere(level & (tops > height - 0.5))
    wanted = np.array([cells[:, 0].min() + 0.75 * np.ptp(cells[:, 0]), cells[:, 1].mean()])
    column, row = cells[np.argmin(np.linalg.norm(cells - wanted, axis=1))]
    return np.array([low[0] + (column + 0.5) * _CELL, low[1] + (row + 0.5) * _CELL, tops[column, row]])


def _reach(middle: float, wide: float, deep: float) -> np.ndarray:
    """(N, 2) cells under an ellipse whose middle is so far to the right of the mug's; its half width and half depth in mm."""
    count = int(np.ceil((middle + wide) / _CELL))
    across, along = np.meshgrid(np.arange(-count, count + 1), np.arange(-count, count + 1), indexing="ij")
    inside = ((across * _CELL - middle) / wide) ** 2 + (along * _CELL / deep) ** 2 <= 1.0
    return np.column_stack([across[inside], along[inside]])


def _tops(bodies: Sequence[Body], low: Floats, high: Floats) -> Floats:
    """(X, Y) the height of the highest face over each cell of the floor in mm; minus infinity where there is none."""
    count = np.maximum(np.ceil((high - low)[:2] / _CELL).astype(int), 1)
    tops = np.full(tuple(count), -np.inf)
    for body in bodies:
        for triangle in body.in_scene()[0]:
            _raise_to(tops, triangle, low)
    return tops


def _raise_to(tops: Floats, triangle: Floats, low: Floats) -> None:
    """The cells whose middle is under a triangle (3, 3) that looks up become as high as it."""
    a, b, c = triangle
    area = float((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]))
    if area <= 1e-6:  # it stands on edge or looks down: something above it looks up
        return
    first = np.maximum(np.floor((triangle[:, :2].min(axis=0) - low[:2]) / _CELL - 0.5).astype(int), 0)
    last = np.minimum(np.ceil((triangle[:, :2].max(axis=0) - low[:2]) / _CELL).astype(int), tops.shape)
    if (last <= first).any():
        return
    x = low[0] + (np.arange(first[0], last[0]) + 0.5) * _CELL - a[0]
    y = low[1] + (np.arange(first[1], last[1]) + 0.5) * _CELL - a[1]
    right, back = np.meshgrid(x, y, indexing="ij")
    to_b = (right * (c[1] - a[1]) - back * (c[0] - a[0])) / area
    to_c = (back * (b[0] - a[0]) - right * (b[1] - a[1])) / area
    inside = (to_b >= -1e-9) & (to_c >= -1e-9) & (to_b + to_c <= 1.0 + 1e-9)
    height = a[2] + to_b * (b[2] - a[2]) + to_c * (c[2] - a[2])
    part = tops[first[0] : last[0], first[1] : last[1]]
    np.maximum(part, np.where(inside, height, -np.inf), out=part)


def _mug(spot: Floats) -> Body:
    outer, rim = cylinder(spot + np.array([0.0, 0.0, 0.3]), (0.0, 0.0, 1.0), _ACROSS / 2.0, _HIGH)
    inner, bore = cylinder(spot + np.array([0.0, 0.0, 5.0]), (0.0, 0.0, 1.0), _ACROSS / 2.0 - 3.5, _HIGH + 5.0)
    ring, _ = cylinder(spot + np.array([52.0, -5.5, 50.0]), (0.0, 1.0, 0.0), 27.0, 11.0)
    eye, _ = cylinder(spot + np.array([52.0, -7.0, 50.0]), (0.0, 1.0, 0.0), 19.0, 14.0)
    mug: Manifold = (ring - eye) - inner + (outer - inner)
    return body_of(Solid(mug, (rim, bore)), _COLOR)
