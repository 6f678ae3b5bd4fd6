"""From where to look: the view in which what matters is seen best, judged before the lines are worked out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from drawleaf.draw.view import CORNERS, Vector, View
from drawleaf.model.plan import Fastener
from drawleaf.model.steps import Operation
from drawleaf.solids.build import Solids

_GRID = 96
"""Cells along the longer side of the coarse picture that visibility is judged on."""
_LIKED = {"pictorial": 1.15, "pictorial from the left": 1.12}
"""The two views from the front and above are liked a little better: readers find their way more easily from the front."""
_BELOW = 0.8
"""A view from below is liked less: few readers will lie on the floor."""


def best_view(
    solids: Solids,
    shown: Sequence[str],
    new: Sequence[str],
    offsets: Mapping[str, Vector],
    faces: Sequence[Vector] = (),
    fasteners: Sequence[Fastener] = (),
    views: Sequence[View] = CORNERS,
) -> View:
    """Where the new parts show most of themselves, the worked ``faces`` look at the viewer and the fasteners' heads can be seen."""

    def merit(index: int) -> float:
        view = views[index]
        shares = _shares(solids, view, shown, new, offsets)
        toward = view.axes[2]
        facing = [max(0.0, float(toward @ np.array(face))) for face in faces]
        heads = [max(0.0, -float(toward @ np.array(f.direction))) for f in fasteners]
        value = sum(shares) / max(len(shares), 1) + 0.5 * min(shares, default=0.0)
        value += 1.6 * sum(facing) / max(len(facing), 1) + 0.8 * sum(heads) / max(len(heads), 1)
        liked = _LIKED.get(view.name, 1.0) * (_BELOW if toward[2] < 0 else 1.0)
        return round(value * liked, 4)

    return views[max(range(len(views)), key=lambda i: (merit(i), -i))]


def worked_faces(operations: Sequence[Operation], parts: Sequence[str]) -> tuple[Vector, ...]:
    """Outward directions of the faces that the operations cut into, on the given parts."""
    found: list[Vector] = []
    for operation in operations:
        for part, feature in operation.features:
            if part in parts:
                face = getattr(feature, "into", None) or getattr(feature, "face", None)
                found += [face.normal] if face else [edge.normal for edge in getattr(feature, "edge", ())]
    return tuple(found)


def _shares(
    solids: Solids, view: View, shown: Sequence[str], new: Sequence[str], offsets: Mapping[str, Vector]
) -> list[float]:
    """For each new part, how much of the area that it would show alone is seen, times how squarely it shows itself."""
    boxes = {part: _points(solids, part, offsets) for part in shown}
    boxes = {part: points for part, points in boxes.items() if points is not None}
    if not boxes:
        return []
    everything = np.vstack([view.on_paper(p.reshape(-1, 3)) for p in boxes.values()])
    low, high = everything.min(axis=0), everything.max(axis=0)
    cell = float((high - low).max()) / _GRID or 1.0
    size = np.ceil((high - low) / cell).astype(int) + 2
    depth = np.full((size[0], size[1]), -np.inf)
    owner = np.full((size[0], size[1]), -1)
    names = list(boxes)
    for index, name in enumerate(names):
        for triangle in boxes[name]:
            _paint(depth, owner, index, (view.on_paper(triangle) - low) / cell, view.depth(triangle))
    shares: list[float] = []
    for name in new:
        if name in boxes:
            alone = _alone(view, boxes[name], low, cell, size)
            seen = float((owner == names.index(name)).sum())
            best = _largest_face(solids, name) / cell**2
            shares.append(0.6 * seen / max(alone, 1.0) + 0.4 * min(1.0, seen / max(best, 1.0)))
    return shares


def _alone(view: View, triangles: np.ndarray, low: np.ndarray, cell: float, size: np.ndarray) -> float:
    depth, owner = np.full((size[0], size[1]), -np.inf), np.full((size[0], size[1]), -1)
    for triangle in triangles:
        _paint(depth, owner, 0, (view.on_paper(triangle) - low) / cell, view.depth(triangle))
    return float((owner == 0).sum())


def _points(solids: Solids, part: str, offsets: Mapping[str, Vector]) -> np.ndarray | None:
    """(N, 3, 3) triangles: the twelve of the part's box, which is near enough to judge by and quick."""
    body = solids.body(part)
    if body is None:
        return None
    low, high = body.bounds + np.array(offsets.get(part, (0.0, 0.0, 0.0)))
    corner = np.array([[(low, high)[i >> k & 1][k] for k in range(3)] for i in range(8)])
    quads = ((0, 1, 3, 2), (4, 5, 7, 6), (0, 1, 5, 4), (2, 3, 7, 6), (0, 2, 6, 4), (1, 3, 7, 5))
    return np.array(
        [[corner[a], corner[b], corner[c]] for q in quads for a, b, c in ((q[0], q[1], q[2]), (q[0], q[2], q[3]))]
    )


def _largest_face(solids: Solids, part: str) -> float:
    body = solids.body(part)
    if body is None:
        return 1.0
    sizes = sorted(body.bounds[1] - body.bounds[0])
    return float(sizes[1] * sizes[2])


def _paint(depth: np.ndarray, owner: np.ndarray, index: int, corners: np.ndarray, heights: np.ndarray) -> None:
    """One triangle into a depth picture: cells whose middle it covers and where it is nearest."""
    (x0, y0), (x1, y1), (x2, y2) = corners
    area = (x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0)
    if abs(area) < 1e-9:
        return
    left, right = max(int(min(x0, x1, x2)), 0), min(int(max(x0, x1, x2)) + 1, depth.shape[0])
    bottom, top = max(int(min(y0, y1, y2)), 0), min(int(max(y0, y1, y2)) + 1, depth.shape[1])
    px, py = np.meshgrid(np.arange(left, right) + 0.5, np.arange(bottom, top) + 0.5, indexing="ij")
    b = ((px - x0) * (y2 - y0) - (x2 - x0) * (py - y0)) / area
    c = ((x1 - x0) * (py - y0) - (px - x0) * (y1 - y0)) / area
    near = heights[0] + b * (heights[1] - heights[0]) + c * (heights[2] - heights[0])
    patch, names = depth[left:right, bottom:top], owner[left:right, bottom:top]
    hit = (b >= 0) & (c >= 0) & (b + c <= 1) & (near > patch + 1e-6)
    patch[hit] = near[hit]
    names[hit] = index
