"""From where to look: the view in which what matters is seen best, judged before the lines are worked out."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from drawleaf.draw.sight.view import CORNERS, Vector, View, posed
from drawleaf.model.plan import Fastener
from drawleaf.model.settings import StandingRabbetSettings
from drawleaf.model.steps import Operation, Pose
from drawleaf.solids.build import Solids

Floats = NDArray[np.float64]

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
    pose: Pose = Pose.UPRIGHT,
) -> View:
    """Where the new parts show most of themselves, the worked ``faces`` look at the viewer and the fasteners' heads can be seen; of the
    ``views`` in the room where the piece lies in that pose."""
    boxes = _boxes(solids, shown, offsets)
    wanted = [part for part in new if part in boxes]
    if pose is not Pose.UPRIGHT:
        views = [view for view in views if view.axes[2][2] > 0]  # what lies on the bench is not seen from below it
    seen = [posed(view, pose) for view in views]

    def merit(index: int, shares: Sequence[float]) -> float:
        toward = seen[index].axes[2]
        facing = [max(0.0, float(toward @ np.array(face))) for face in faces]
        heads = [max(0.0, -float(toward @ np.array(f.direction))) for f in fasteners]
        value = sum(shares) / max(len(shares), 1) + 0.5 * min(shares, default=0.0)
        value += 1.6 * sum(facing) / max(len(facing), 1) + 0.8 * sum(heads) / max(len(heads), 1)
        room = views[index]
        liked = _LIKED.get(room.name, 1.0) * (_BELOW if room.axes[2][2] < 0 else 1.0)
        return round(value * liked, 4)

    # Judged best first by what nothing can better: parts of which nothing is hidden. Most views need no picture then.
    most = [merit(index, _shares(view, boxes, wanted, hidden=False)) for index, view in enumerate(seen)]
    best: tuple[float, int] | None = None
    for index in sorted(range(len(views)), key=lambda i: (-most[i], i)):
        if best is None or (most[index], -index) > best:
            found = merit(index, _shares(seen[index], boxes, wanted)), -index
            best = found if best is None else max(best, found)
    assert best is not None
    return seen[-best[1]]


def areas_seen(solids: Solids, view: View, shown: Sequence[str]) -> dict[str, float]:
    """About how much of each part can be seen, in square millimetres of the drawing plane. Parts are judged by the boxes around them."""
    return _seen(view, _boxes(solids, shown, {}))


def worked_faces(operations: Sequence[Operation], parts: Sequence[str]) -> tuple[Vector, ...]:
    """Outward directions of the faces that the operations cut into, on the given parts."""
    found: list[Vector] = []
    for operation in operations:
        if isinstance(operation.settings, StandingRabbetSettings):
            # A rabbet in what stands is seen from its open edge; its other side looks into the piece.
            found += [operation.settings.edge.normal] * sum(part in parts for part, _ in operation.features)
            continue
        for part, feature in operation.features:
            if part in parts:
                face = getattr(feature, "into", None) or getattr(feature, "face", None)
                found += [face.normal] if face else [edge.normal for edge in getattr(feature, "edge", ())]
    return tuple(found)


def _shares(view: View, boxes: Mapping[str, Floats], new: Sequence[str], *, hidden: bool = True) -> list[float]:
    """For each new part, how much of the area that it would show alone is seen, times how squarely it shows itself.

    Parts are judged by the boxes around them: near enough, and quick. All that faces the viewer counts as seen where nothing is ``hidden``.
    """
    seen = _seen(view, boxes) if hidden else None
    shares: list[float] = []
    for name in new:
        extent = boxes[name][1] - boxes[name][0]
        faces = np.array([extent[1] * extent[2], extent[0] * extent[2], extent[0] * extent[1]])
        alone, largest = float(faces @ np.abs(view.axes[2])), float(faces.max())
        area = seen[name] if seen is not None else np.inf
        most = min(1.0, area / max(largest, 1.0)) if seen is not None else 1.0
        shares.append(0.6 * min(1.0, area / max(alone, 1.0)) + 0.4 * most)
    return shares


def _seen(view: View, boxes: Mapping[str, Floats]) -> dict[str, float]:
    """The area on paper in which each box can be seen."""
    if not boxes:
        return {}
    around = np.array(list(boxes.values()))
    corners, sides = _faces_seen(view, around)
    points = np.concatenate([corners[..., None, :], corners[..., None, :] + sides], axis=2)
    flat, depths = points @ view.axes[:2].T, points @ view.axes[2]
    low, high = _reach(view, around)
    cell = float((high - low).max()) / _GRID or 1.0
    size = np.ceil((high - low) / cell).astype(int) + 2
    depth = np.full((size[0], size[1]), -np.inf)
    owner = np.full((size[0], size[1]), -1)
    flat = (flat - low) / cell
    for index in range(len(around)):
        for face in range(corners.shape[1]):
            _paint(depth, owner, index, flat[index, face], depths[index, face])
    areas = np.bincount(owner[owner >= 0], minlength=len(around)) * cell**2
    return dict(zip(boxes, areas.tolist(), strict=True))


def _boxes(solids: Solids, shown: Sequence[str], offsets: Mapping[str, Vector]) -> dict[str, Floats]:
    """(2, 3) low and high corner where each part is drawn; what has no body is left out."""
    boxes = {part: box for part in shown if (box := solids.box(part)) is not None}
    return {part: box + np.array(offsets.get(part, (0.0, 0.0, 0.0))) for part, box in boxes.items()}


def _reach(view: View, boxes: Floats) -> tuple[Floats, Floats]:
    """The low and the high corner on paper around (N, 2, 3) boxes."""
    ends = np.array([boxes[:, [i & 1, i >> 1 & 1, i >> 2 & 1], [0, 1, 2]] for i in range(8)]).reshape(-1, 3)
    flat = view.on_paper(ends)
    return flat.min(axis=0), flat.max(axis=0)


def _faces_seen(view: View, boxes: Floats) -> tuple[Floats, Floats]:
    """The (at most three) faces of each of (N, 2, 3) boxes that look at the viewer: (N, F, 3) corners and (N, F, 2, 3) sides from them."""
    toward = view.axes[2]
    axes = [axis for axis in range(3) if abs(toward[axis]) > 1e-9]
    extent = (boxes[:, 1] - boxes[:, 0])[:, :, None] * np.eye(3)
    corners = np.repeat(boxes[:, None, 0], len(axes), axis=1)
    for place, axis in enumerate(axes):
        corners[:, place, axis] = boxes[:, int(toward[axis] > 0), axis]
    sides = np.stack([extent[:, [i for i in range(3) if i != axis]] for axis in axes], axis=1)
    return corners, sides


def _paint(depth: Floats, owner: NDArray[np.int64], index: int, points: Floats, heights: Floats) -> None:
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
