"""From where to look: the view in which what matters is seen best, judged before the lines are worked out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from drawleaf.derive.operations_standing_rabbet import KINDS as STANDING_KINDS
from drawleaf.draw.view import CORNERS, Vector, View
from drawleaf.model.place import Face
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
        edge = next((str(one.value) for one in operation.settings if one.name == "edge"), None)
        if operation.kind in STANDING_KINDS and edge:
            # A rabbet in what stands is seen from its open edge; its other side looks into the piece.
            found += [Face(edge).normal] * sum(part in parts for part, _ in operation.features)
            continue
        for part, feature in operation.features:
            if part in parts:
                face = getattr(feature, "into", None) or getattr(feature, "face", None)
                found += [face.normal] if face else [edge.normal for edge in getattr(feature, "edge", ())]
    return tuple(found)


def _shares(
    solids: Solids, view: View, shown: Sequence[str], new: Sequence[str], offsets: Mapping[str, Vector]
) -> list[float]:
    """For each new part, how much of the area that it would show alone is seen, times how squarely it shows itself.

    Parts are judged by the boxes around them: near enough, and quick.
    """
    boxes = {part: box for part in shown if (box := _box(solids, part, offsets)) is not None}
    if not boxes:
        return []
    corners = np.vstack([view.on_paper(_corners(box)) for box in boxes.values()])
    low, high = corners.min(axis=0), corners.max(axis=0)
    cell = float((high - low).max()) / _GRID or 1.0
    size = np.ceil((high - low) / cell).astype(int) + 2
    depth = np.full((size[0], size[1]), -np.inf)
    owner = np.full((size[0], size[1]), -1)
    names = list(boxes)
    for index, name in enumerate(names):
        for corner, sides in _faces_seen(view, boxes[name]):
            flat = (view.on_paper(np.vstack([corner, corner + sides])) - low) / cell
            _paint(depth, owner, index, flat, view.depth(np.vstack([corner, corner + sides])))
    seen = np.bincount(owner[owner >= 0], minlength=len(names)) * cell**2
    shares: list[float] = []
    for name in (part for part in new if part in boxes):
        extent = boxes[name][1] - boxes[name][0]
        faces = np.array([extent[1] * extent[2], extent[0] * extent[2], extent[0] * extent[1]])
        alone, largest = float(faces @ np.abs(view.axes[2])), float(faces.max())
        area = float(seen[names.index(name)])
        shares.append(0.6 * min(1.0, area / max(alone, 1.0)) + 0.4 * min(1.0, area / max(largest, 1.0)))
    return shares


def _box(solids: Solids, part: str, offsets: Mapping[str, Vector]) -> np.ndarray | None:
    """(2, 3) low and high corner where the part is drawn; None for what has no body."""
    body = solids.body(part)
    return None if body is None else body.bounds + np.array(offsets.get(part, (0.0, 0.0, 0.0)))


def _corners(box: np.ndarray) -> np.ndarray:
    return np.array([[box[i >> axis & 1][axis] for axis in range(3)] for i in range(8)])


def _faces_seen(view: View, box: np.ndarray) -> list[tuple[np.ndarray, np.ndarray]]:
    """The (at most three) faces of a box that look at the viewer: a corner and the two sides from it."""
    faces: list[tuple[np.ndarray, np.ndarray]] = []
    extent = np.diag(box[1] - box[0])
    for axis in range(3):
        toward = float(view.axes[2][axis])
        if abs(toward) > 1e-9:
            corner = box[0].copy()
            corner[axis] = box[int(toward > 0)][axis]
            faces.append((corner, extent[[i for i in range(3) if i != axis]]))
    return faces


def _paint(depth: np.ndarray, owner: np.ndarray, index: int, points: np.ndarray, heights: np.ndarray) -> None:
    """One parallelogram (a corner and the ends of its two sides) into a depth picture: cells whose middle it covers nearest."""
    (x0, y0), (x1, y1), (x2, y2) = points
    area = (x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0)
    if abs(area) < 1e-9:
        return
    x3, y3 = x1 + x2 - x0, y1 + y2 - y0
    left, right = max(int(min(x0, x1, x2, x3)), 0), min(int(max(x0, x1, x2, x3)) + 1, depth.shape[0])
    bottom, top = max(int(min(y0, y1, y2, y3)), 0), min(int(max(y0, y1, y2, y3)) + 1, depth.shape[1])
    px, py = np.arange(left, right)[:, None] + 0.5, np.arange(bottom, top)[None, :] + 0.5
    b = ((px - x0) * (y2 - y0) - (x2 - x0) * (py - y0)) / area
    c = ((x1 - x0) * (py - y0) - (px - x0) * (y1 - y0)) / area
    near = heights[0] + b * (heights[1] - heights[0]) + c * (heights[2] - heights[0])
    patch, names = depth[left:right, bottom:top], owner[left:right, bottom:top]
    hit = (b >= 0) & (b <= 1) & (c >= 0) & (c <= 1) & (near > patch + 1e-6)
    patch[hit] = near[hit]
    names[hit] = index
