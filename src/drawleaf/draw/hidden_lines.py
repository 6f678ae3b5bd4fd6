"""Hidden lines removed: which stretch of which edge the eye sees, in a parallel view of closed solids.

A ray from the eye enters a closed solid by a face that looks at the eye. So an edge is hidden exactly where a front-facing triangle lies
before it; for one edge and one triangle that is one interval of the edge, cut out by four straight-line conditions (inside each
of the triangle's three sides; behind its plane). All pairs are worked out at once, in floats, without sampling.

"Edge of this part is hidden by that part from here to there" holds whatever else is shown, so it is kept for each pair of parts
and their relative place: the drawings of all steps share one computation.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from drawleaf.draw.chaining import CRUMB, chain, dedupe
from drawleaf.draw.linework import Linework, Polyline
from drawleaf.draw.projection import Body, BodyView, see
from drawleaf.draw.regions import visible_faces
from drawleaf.draw.view import Vector, View
from drawleaf.solids.build import Solids
from drawleaf.solids.solid import Solid

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

BEHIND = 0.005
"""Millimetres that an edge must lie behind a face to be hidden by it. Zero would let faces hide their own edges; from 1e-6 to
1e-2 nothing changes, so this also forgives the rounding of sizes."""

INSIDE = 1e-4
"""Millimetres by which a triangle hides past its sides, so that nothing shows through between two that share a side."""

Hits = tuple[Ints, Floats, Floats]
"""Edge numbers and the interval (as fractions of the edge) that is hidden, for one part before another."""


def project(
    solids: Solids,
    view: View,
    shown: Sequence[str],
    offsets: Mapping[str, Vector] | None = None,
    extra: Mapping[str, Solid] | None = None,
) -> Linework:
    """The scene as the viewer sees it.

    ``shown`` are ids of parts and fittings (a fitting without a body is passed over). Where lines of several fall together the one that
    is named first keeps the line. ``offsets`` move some of them, in millimetres of the piece's frame (exploded views, parts on their way
    into place). ``extra`` are further bodies under ids of the caller's own, such as screws from ``solids.fastener``; they are shown too.
    """
    bodies = _bodies(solids, view, shown, offsets or {}, extra or {})
    boxes = np.array([body.box for body in bodies]).reshape(-1, 4)
    bounds = (*boxes[:, :2].min(axis=0), *boxes[:, 2:].max(axis=0)) if bodies else (0.0, 0.0, 0.0, 0.0)
    return Linework(
        view,
        tuple(body.id for body in bodies),
        tuple(map(float, bounds)),  # type: ignore[arg-type]
        lambda: _polylines(solids, view, bodies, hidden=False),
        lambda: _polylines(solids, view, bodies, hidden=True),
        lambda: visible_faces(solids, view, bodies),
    )


def _bodies(
    solids: Solids, view: View, shown: Sequence[str], offsets: Mapping[str, Vector], extra: Mapping[str, Solid]
) -> list[Body]:
    found: list[tuple[str, Solid | None]] = [(an_id, solids.body(an_id)) for an_id in dict.fromkeys(shown)]
    found += [(an_id, solid) for an_id, solid in extra.items() if an_id not in shown]
    bodies = []
    for an_id, solid in found:
        if solid is not None:
            shift = view.axes @ np.array(offsets.get(an_id, (0.0, 0.0, 0.0)), dtype=float)
            bodies.append(Body(an_id, solid, _seen(solids, view, solid), shift))
    return bodies


def _seen(solids: Solids, view: View, solid: Solid) -> BodyView:
    key = ("seen", view, solid)
    if key not in solids.memo:
        solids.memo[key] = see(solid, view)
    return solids.memo[key]  # type: ignore[return-value]


def _polylines(solids: Solids, view: View, bodies: list[Body], hidden: bool) -> tuple[Polyline, ...]:
    """Visible lines, or the hidden ones that no visible line covers."""
    segments, owners = _visible_segments(solids, view, bodies)
    past = 2 * len(bodies)
    if hidden:
        behind, behind_owners = _hidden_segments(solids, view, bodies)
        segments, owners = np.concatenate([segments, behind]), np.concatenate([owners, behind_owners + past])
    segments, owners = dedupe(segments, owners)
    if hidden:
        segments, owners = segments[owners >= past], owners[owners >= past] - past
    long_enough = np.linalg.norm(segments[:, 1] - segments[:, 0], axis=1) > CRUMB
    lines = chain(segments[long_enough], owners[long_enough])
    return tuple(
        Polyline(points, bodies[owner // 2].id, "silhouette" if owner % 2 else "sharp") for points, owner in lines
    )


def _visible_segments(solids: Solids, view: View, bodies: list[Body]) -> tuple[Floats, Ints]:
    return _stretches(solids, view, bodies, hidden=False)


def _hidden_segments(solids: Solids, view: View, bodies: list[Body]) -> tuple[Floats, Ints]:
    segments, owners = _stretches(solids, view, bodies, hidden=True)
    back = [body.seen.lines.ends[~body.seen.lines.facing] + body.shift[:2] for body in bodies]
    who = [
        2 * i + body.seen.lines.silhouette[~body.seen.lines.facing].astype(np.int64) for i, body in enumerate(bodies)
    ]
    return np.concatenate([segments, *back]), np.concatenate([owners, *who])


def _stretches(solids: Solids, view: View, bodies: list[Body], hidden: bool) -> tuple[Floats, Ints]:
    """The visible (or hidden) stretches of all edges that have a face towards the viewer, and their owners."""
    hits = _all_hits(solids, view, bodies)
    segments, owners = [np.empty((0, 2, 2))], [np.empty(0, dtype=np.int64)]
    for i, body in enumerate(bodies):
        lines = body.seen.lines
        facing = np.flatnonzero(lines.facing)
        edge, low, high = hits[i]
        which, start, stop = _union(edge, low, high) if hidden else _complement(facing, edge, low, high)
        ends = lines.ends[which] + body.shift[:2]
        along = ends[:, 1] - ends[:, 0]
        cut = np.stack([ends[:, 0] + along * start[:, None], ends[:, 0] + along * stop[:, None]], axis=1)
        kept = np.linalg.norm(cut[:, 1] - cut[:, 0], axis=1) > CRUMB / 5.0
        segments.append(cut[kept])
        owners.append(2 * i + lines.silhouette[which[kept]].astype(np.int64))
    return np.concatenate(segments), np.concatenate(owners)


def _union(edge: Ints, low: Floats, high: Floats) -> tuple[Ints, Floats, Floats]:
    """Overlapping intervals of each edge made one."""
    if not len(edge):
        return edge, low, high
    order = np.lexsort((low, edge))
    edge, low, high = edge[order], low[order], high[order]
    reached = np.asarray(np.maximum.accumulate(high + 2.0 * edge), dtype=np.float64)
    fresh = np.concatenate([[True], low[1:] + 2.0 * edge[1:] > reached[:-1]])
    starts = np.flatnonzero(fresh)
    ends = np.concatenate([starts[1:], [len(edge)]]) - 1
    return edge[starts], low[starts], reached[ends] - 2.0 * edge[starts]


def _complement(edges: Ints, edge: Ints, low: Floats, high: Floats) -> tuple[Ints, Floats, Floats]:
    """What is left of each of ``edges`` (0 to 1) outside the intervals."""
    edge = np.concatenate([edge, edges, edges])
    low = np.concatenate([low, np.zeros(len(edges)), np.ones(len(edges))])
    high = np.concatenate([high, np.zeros(len(edges)), np.ones(len(edges))])
    order = np.lexsort((low, edge))
    edge, low, high = edge[order], low[order], high[order]
    reached = np.asarray(np.maximum.accumulate(high + 2.0 * edge) - 2.0 * edge, dtype=np.float64)
    open_after = (edge[1:] == edge[:-1]) & (low[1:] > reached[:-1])
    return edge[:-1][open_after], reached[:-1][open_after], low[1:][open_after]


def _all_hits(solids: Solids, view: View, bodies: list[Body]) -> list[Hits]:
    """For every body the intervals of its edges that the others and itself hide, from the store where it has them."""
    boxes = np.array([body.box for body in bodies]).reshape(-1, 4)
    slack = 2.0 * INSIDE
    apart = ((boxes[:, None, :2] > boxes[None, :, 2:] + slack) | (boxes[None, :, :2] > boxes[:, None, 2:] + slack)).any(
        2
    )
    pairs = [(int(i), int(j)) for i, j in np.argwhere(~apart)]
    keys = {(i, j): _pair_key(view, bodies[i], bodies[j]) for i, j in pairs}
    missing = [pair for pair in pairs if keys[pair] not in solids.memo]
    if missing:
        for pair, hits in _clip(bodies, missing).items():
            solids.memo[keys[pair]] = hits
    found: list[list[Hits]] = [[] for _ in bodies]
    for i, j in pairs:
        hits: Hits | None = solids.memo[keys[i, j]]  # type: ignore[assignment]
        if hits is not None:
            found[i].append(hits)
    nothing: Hits = (np.empty(0, dtype=np.int64), np.empty(0), np.empty(0))
    return [tuple(np.concatenate(column) for column in zip(nothing, *hits, strict=True)) for hits in found]  # type: ignore[misc]


def _pair_key(view: View, edge_body: Body, face_body: Body) -> tuple[object, ...]:
    relative = np.round(face_body.shift - edge_body.shift, 6) + 0.0
    return ("hits", view, edge_body.solid, face_body.solid, tuple(relative.tolist()))


def _clip(bodies: list[Body], missing: list[tuple[int, int]]) -> dict[tuple[int, int], Hits | None]:
    """Intervals of edges hidden by triangles, for the pairs of bodies asked for; None where there are none."""
    wanted = np.zeros((len(bodies), len(bodies)), dtype=bool)
    wanted[tuple(np.array(missing).T)] = True
    edges = _Edges([body if wanted[i].any() else None for i, body in enumerate(bodies)])
    faces = _Faces([body if wanted[:, j].any() else None for j, body in enumerate(bodies)])
    result: dict[tuple[int, int], Hits | None] = dict.fromkeys(missing)
    if not len(edges.owner) or not len(faces.owner):
        return result
    e, f = shapely.STRtree(shapely.box(*faces.boxes.T)).query(shapely.box(*_grown(edges.boxes).T))
    near = wanted[edges.owner[e], faces.owner[f]] & (faces.top[f] > edges.bottom[e] + BEHIND)
    e, f = e[near], f[near]
    e, f, low, high = _intervals(edges, faces, e, f)
    order = np.lexsort((low, e, faces.owner[f], edges.owner[e]))
    e, f, low, high = e[order], f[order], low[order], high[order]
    a, b = edges.owner[e], faces.owner[f]
    cuts = np.flatnonzero((np.diff(a) != 0) | (np.diff(b) != 0)) + 1
    for rows in np.split(np.arange(len(e)), cuts) if len(e) else []:
        i, j = int(a[rows[0]]), int(b[rows[0]])
        result[i, j] = _union(edges.number[e[rows]], low[rows], high[rows])
    return result


def _intervals(edges: _Edges, faces: _Faces, e: Ints, f: Ints) -> tuple[Ints, Ints, Floats, Floats]:
    """Where on edge e triangle f lies before it; pairs where it never does are dropped."""
    start, along = edges.start[e], edges.along[e]
    sides, plane = faces.sides[f], faces.plane[f]
    # Four conditions k t + c >= 0 along the edge.
    k = np.empty((4, len(e)))
    c = np.empty((4, len(e)))
    for side in range(3):
        k[side] = sides[:, side, 0] * along[:, 0] + sides[:, side, 1] * along[:, 1]
        c[side] = sides[:, side, 0] * start[:, 0] + sides[:, side, 1] * start[:, 1] + sides[:, side, 2] + INSIDE
    k[3] = plane[:, 0] * along[:, 0] + plane[:, 1] * along[:, 1] - along[:, 2]
    c[3] = plane[:, 0] * start[:, 0] + plane[:, 1] * start[:, 1] + plane[:, 2] - start[:, 2] - BEHIND
    level = np.abs(k) < 1e-12
    at = -c / np.where(level, 1.0, k)
    low = np.where(~level & (k > 0), at, 0.0).max(axis=0).clip(0.0)
    high = np.where(~level & (k < 0), at, 1.0).min(axis=0).clip(None, 1.0)
    never = (level & (c < 0)).any(axis=0)
    kept = ~never & (high - low > 1e-12)
    return e[kept], f[kept], low[kept], high[kept]


def _grown(boxes: Floats) -> Floats:
    return boxes + np.array([-1.0, -1.0, 1.0, 1.0]) * (2.0 * INSIDE)


class _Edges:
    """The facing edges of some bodies in one table: start (u, v, depth) and the way along, whose they are and their number there."""

    def __init__(self, bodies: list[Body | None]) -> None:
        starts, alongs, owners, numbers = [np.empty((0, 3))], [np.empty((0, 3))], [], []
        for i, body in enumerate(bodies):
            if body is None:
                continue
            lines = body.seen.lines
            number = np.flatnonzero(lines.facing)
            points = np.concatenate([lines.ends[number], lines.depth[number][..., None]], axis=2) + body.shift
            starts.append(points[:, 0])
            alongs.append(points[:, 1] - points[:, 0])
            owners.append(np.full(len(number), i))
            numbers.append(number)
        self.start, self.along = np.concatenate(starts), np.concatenate(alongs)
        self.owner = np.concatenate(owners) if owners else np.empty(0, dtype=np.int64)
        self.number = np.concatenate(numbers) if numbers else np.empty(0, dtype=np.int64)
        end = self.start + self.along
        self.boxes = np.concatenate([np.minimum(self.start, end)[:, :2], np.maximum(self.start, end)[:, :2]], axis=1)
        self.bottom = np.minimum(self.start, end)[:, 2]


class _Faces:
    """The front triangles of some bodies in one table, moved to their places."""

    def __init__(self, bodies: list[Body | None]) -> None:
        boxes, tops, planes, sides, owners = [np.empty((0, 4))], [], [np.empty((0, 3))], [np.empty((0, 3, 3))], []
        for i, body in enumerate(bodies):
            if body is None:
                continue
            fronts, shift = body.seen.fronts, body.shift
            plane, side = fronts.plane.copy(), fronts.sides.copy()
            plane[:, 2] += shift[2] - plane[:, :2] @ shift[:2]
            side[..., 2] -= side[..., :2] @ shift[:2]
            boxes.append(fronts.boxes + np.tile(shift[:2], 2))
            tops.append(fronts.top + shift[2])
            planes.append(plane)
            sides.append(side)
            owners.append(np.full(len(plane), i))
        self.boxes, self.plane, self.sides = np.concatenate(boxes), np.concatenate(planes), np.concatenate(sides)
        self.top = np.concatenate(tops) if tops else np.empty(0)
        self.owner = np.concatenate(owners) if owners else np.empty(0, dtype=np.int64)
