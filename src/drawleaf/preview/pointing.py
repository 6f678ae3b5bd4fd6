"""Which part of the piece is seen at a place of a drawing: along the line of sight to the first body that it meets.

The drawing says how it was projected (``model.drawings.Pane``), the solids what is there. So every face answers, whether it is tinted,
white or hatched, and none of it needs to be in the SVG.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import cos, pi, sin

import numpy as np
from numpy.typing import NDArray

from drawleaf.model.drawings import Drawing, Pane, Sight
from drawleaf.solids.build import Solids

Floats = NDArray[np.float64]

_NEAR = (0.0, 0.5, 1.1)
"""Millimetres on paper about the place that are tried one after the other: an outline is as wide as a pen, and a hand is not steady."""
_EDGE = 1e-9


def part_at(drawing: Drawing, solids: Solids, x: float, y: float) -> str | None:
    """The id of the part or fitting that is seen at (x, y), in mm on the drawing's paper; None where there is nothing."""
    for reach in _NEAR:
        for at in _around(x, y, reach):
            found = _at(drawing, solids, *at)
            if found is not None:
                return found
    return None


def _around(x: float, y: float, reach: float) -> Iterator[tuple[float, float]]:
    if not reach:
        yield x, y
        return
    for turn in range(8):
        yield x + reach * cos(turn * pi / 4), y + reach * sin(turn * pi / 4)


def _at(drawing: Drawing, solids: Solids, x: float, y: float) -> str | None:
    for pane in reversed(drawing.panes):
        left, top, right, bottom = pane.box
        if left <= x <= right and top <= y <= bottom:
            found = _in_pane(pane, solids, x, y)
            if found is not None:
                return found
    return None


def _in_pane(pane: Pane, solids: Solids, x: float, y: float) -> str | None:
    sight = pane.sight
    if sight is None:
        return pane.shown[0]
    place = np.array([(x - sight.origin[0]) / sight.factor, (sight.origin[1] - y) / sight.factor])
    offsets = dict(sight.offsets)
    nearest: tuple[float, str] | None = None
    for an_id in pane.shown:
        solid = solids.body(an_id)
        if solid is None:
            continue
        shift = np.array(sight.axes) @ np.array(offsets.get(an_id, (0.0, 0.0, 0.0)))
        depth = _met(solid.bounds, solid.mesh.triangles, sight, place - shift[:2], shift[2])
        # Where two meet at the same depth the one that is named first keeps the place, as it keeps the line.
        if depth is not None and (nearest is None or depth > nearest[0] + 1e-6):
            nearest = depth, an_id
    return nearest[1] if nearest else None


def _met(bounds: Floats, triangles: Floats, sight: Sight, place: Floats, shift: float) -> float | None:
    """How near to the viewer the line of sight through the place meets a solid; at the plane of a section where that cuts it; None where
    it passes by."""
    axes = np.array(sight.axes)
    if not _may_meet(bounds, axes, place):
        return None
    seen = triangles @ axes.T
    a, b, c = (seen[:, k, :2] - place for k in range(3))
    sides = np.stack([_cross(a, b), _cross(b, c), _cross(c, a)], axis=1)
    whole = sides.sum(axis=1)
    slack = _EDGE * np.abs(whole)
    facing = whole > _EDGE
    hit = (np.abs(whole) > _EDGE) & np.where(
        facing, (sides >= -slack[:, None]).all(axis=1), (sides <= slack[:, None]).all(axis=1)
    )
    if not hit.any():
        return None
    # Each corner counts by the side that lies across from it.
    weights = sides[hit][:, [1, 2, 0]] / whole[hit, None]
    depths = (weights * seen[hit][:, :, 2]).sum(axis=1) + shift
    front = facing[hit]
    if sight.nearest is not None:
        # A face in the plane itself belongs to what lies behind the plane if it looks at the viewer, else to what is cut away.
        behind = depths <= sight.nearest + np.where(front, 1e-6, -1e-6)
        depths, front = depths[behind], front[behind]
        if not len(depths):
            return None
        if not front[int(depths.argmax())]:
            return sight.nearest  # the line leaves the solid there, so the plane cuts it
    return float(depths.max())


def _may_meet(bounds: Floats, axes: Floats, place: Floats) -> bool:
    """Whether the box about a solid covers the place."""
    corners = np.array([[x, y, z] for x in bounds[:, 0] for y in bounds[:, 1] for z in bounds[:, 2]]) @ axes[:2].T
    return bool((corners.min(axis=0) <= place).all() and (place <= corners.max(axis=0)).all())


def _cross(a: Floats, b: Floats) -> Floats:
    return a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]
