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
Flags = NDArray[np.bool_]

BEHIND = 0.005
"""Millimetres that an edge must lie behind a face to be hidden by it. Zero would let faces hide their own edges; from 1e-6 to
1e-2 nothing changes, so this also forgives the rounding of sizes."""

INSIDE = 1e-4
"""Millimetres by which a triangle hides past its sides, so that nothing shows through between two that share a side."""

STEPS = 2.0**30
"""Fractions of an edge are kept to one in so many, so that they keep every bit when whole numbers are added to them."""

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
    if not bodies:
        return ()
    segments, owners = _stretches(solids, view, bodies, hidden)
    segments, owners = dedupe(segments, owners)
    if hidden:
        past = 2 * len(bodies)
        segments, owners = segments[owners >= past], owners[owners >= past] - past
    long_enough = np.linalg.norm(segments[:, 1] - segments[:, 0], axis=1) > CRUMB
    lines = chain(segments[long_enough], owners[long_enough])
    return tuple(
        Polyline(points, bodies[owner // 2].id, "silhouette" if owner % 2 else "sharp") for points, owner in lines
    )


def _stretches(solids: Solids, view: View, bodies: list[Body], hidden: bool) -> tuple[Floats, Ints]:
    """Visible stretches of all edges and their owners: twice the body's number, one more for a silhouette. Then, where they are asked
    for, the hidden ones; their owners count on from there."""
    counts = [len(body.seen.lines.facing) for body in bodies]
    first = np.cumsum([0, *counts])
    ends = np.concatenate([body.seen.lines.ends + body.shift[:2] for body in bodies])
    facing = np.concatenate([body.seen.lines.facing for body in bodies])
    silhouette = np.concatenate([body.seen.lines.silhouette for body in bodies])
    owner = 2 * np.repeat(np.arange(len(bodies)), counts) + silhouette
    edge, low, high = _all_hits(solids, view, bodies, first)
    which, start, stop = _complement(np.flatnonzero(facing), edge, low, high)
    pieces = [_cut(ends, owner, which, start, stop)]
    if hidden:
        past = 2 * len(bodies)
        pieces.append(_cut(ends, owner + past, *_union(edge, low, high)))
        pieces.append((ends[~facing], owner[~facing] + past))
    segments, owners = (np.concatenate(column) for column in zip(*pieces, strict=True))
    return segments, owners


def _cut(ends: Floats, owner: Ints, which: Ints, start: Floats, stop: Floats) -> tuple[Floats, Ints]:
    """Stretches of some edges, without the specks."""
    near, along = ends[which, 0], ends[which, 1] - ends[which, 0]
    cut = np.stack([near + along * start[:, None], near + along * stop[:, None]], axis=1)
    kept = np.linalg.norm(cut[:, 1] - cut[:, 0], axis=1) > CRUMB / 5.0
    return cut[kept], owner[which[kept]]


def _union(edge: Ints, low: Floats, high: Floats) -> Hits:
    """Overlapping intervals of each edge made one."""
    if not len(edge):
        return edge, low, high
    order = np.lexsort((low, edge))
    edge, low, high = edge[order], low[order], high[order]
    reached = _running(edge, high)
    fresh = np.concatenate([[True], (edge[1:] != edge[:-1]) | (low[1:] > reached[:-1])])
    starts = np.flatnonzero(fresh)
    ends = np.concatenate([starts[1:], [len(edge)]]) - 1
    return edge[starts], low[starts], reached[ends]


def _complement(edges: Ints, edge: Ints, low: Floats, high: Floats) -> Hits:
    """What is left of each of ``edges`` (0 to 1) outside the intervals."""
    edge = np.concatenate([edge, edges, edges])
    low = np.concatenate([low, np.zeros(len(edges)), np.ones(len(edges))])
    high = np.concatenate([high, np.zeros(len(edges)), np.ones(len(edges))])
    order = np.lexsort((low, edge))
    edge, low, high = edge[order], low[order], high[order]
    reached = _running(edge, high)
    open_after = (edge[1:] == edge[:-1]) & (low[1:] > reached[:-1])
    return edge[:-1][open_after], reached[:-1][open_after], low[1:][open_after]


def _running(edge: Ints, high: Floats) -> Floats:
    """The greatest so far on each edge; rows are in the order of edges."""
    return np.asarray(np.maximum.accumulate(high + 2.0 * edge) - 2.0 * edge, dtype=np.float64)


def _all_hits(solids: Solids, view: View, bodies: list[Body], first: Ints) -> Hits:
    """The intervals of all edges that something hides, from the store where it has them. Edges are numbered through, body after body."""
    places = np.array([body.shift for body in bodies])
    relative = np.round(places[None] - places[:, None], 6) + 0.0
    store: dict[object, Hits] = solids.memo.setdefault(("hits", view), {})  # type: ignore[assignment]
    pairs = [(int(i), int(j)) for i, j in np.argwhere(_may_hide(bodies))]
    keys = [(bodies[i].solid, bodies[j].solid, relative[i, j].tobytes()) for i, j in pairs]
    missing = {pair: key for pair, key in zip(pairs, keys, strict=True) if key not in store}
    if missing:
        for pair, hits in _clip(bodies, relative, list(missing)).items():
            store[missing[pair]] = hits
    found = [(pair[0], store[key]) for pair, key in zip(pairs, keys, strict=True)]
    found = [(i, hits) for i, hits in found if len(hits[0])]
    if not found:
        return _NOTHING
    edge, low, high = (np.concatenate(column) for column in zip(*(hits for _, hits in found), strict=True))
    return edge + np.repeat([first[i] for i, _ in found], [len(hits[0]) for _, hits in found]), low, high


_NOTHING: Hits = (np.empty(0, dtype=np.int64), np.empty(0), np.empty(0))


def _may_hide(bodies: list[Body]) -> Flags:
    """(B, B): whether the second may hide some of the first: they overlap on paper and it is not wholly behind."""
    boxes = np.array([body.box for body in bodies])
    nearest = np.array([body.seen.depths[1] + body.shift[2] for body in bodies])
    farthest = np.array([body.seen.depths[0] + body.shift[2] for body in bodies])
    slack = 2.0 * INSIDE
    below = boxes[:, None, :2] <= boxes[None, :, 2:] + slack
    may = (below & below.transpose(1, 0, 2)).all(axis=2) & (nearest[None] > farthest[:, None])
    may[np.diag_indices(len(bodies))] = [not body.seen.convex for body in bodies]
    return may


def _clip(bodies: list[Body], relative: Floats, missing: list[tuple[int, int]]) -> dict[tuple[int, int], Hits]:
    """Intervals of edges hidden by triangles, for the pairs of bodies asked for."""
    wanted = np.zeros((len(bodies), len(bodies)), dtype=bool)
    wanted[tuple(np.array(missing).T)] = True
    edges = _Edges([body if wanted[i].any() else None for i, body in enumerate(bodies)])
    faces = _Faces([body if wanted[:, j].any() else None for j, body in enumerate(bodies)])
    result: dict[tuple[int, int], Hits] = dict.fromkeys(missing, _NOTHING)
    if not len(edges.owner) or not len(faces.owner):
        return result
    e, f = shapely.STRtree(shapely.box(*faces.boxes.T)).query(shapely.box(*edges.boxes))
    near = np.flatnonzero((faces.top[f] > edges.bottom[e]) & wanted[edges.owner[e], faces.owner[f]])
    e, f, low, high = _intervals(edges, faces, relative, e[near], f[near])
    # One number for each edge and body before it, pair after pair, so that one pass does for all.
    behind, ahead = edges.owner[e], faces.owner[f]
    numbers, number = np.unique((behind * len(bodies) + ahead) * len(edges.owner) + e, return_inverse=True)
    number, low, high = _union(number.reshape(-1), low, high)
    pair, e = np.divmod(numbers[number], len(edges.owner))
    cuts = np.flatnonzero(np.diff(pair)) + 1
    columns = (np.split(column, cuts) for column in (pair, edges.number[e], low, high))
    for pairs, *hits in zip(*columns, strict=True):
        if len(pairs):
            i, j = divmod(int(pairs[0]), len(bodies))
            result[i, j] = (hits[0], hits[1], hits[2])
    return result


def _intervals(edges: _Edges, faces: _Faces, relative: Floats, e: Ints, f: Ints) -> tuple[Ints, Ints, Floats, Floats]:
    """Where on edge e triangle f lies before it; pairs where it never does are dropped."""
    # Most pairs fail one of the four conditions from end to end, and need no more than that.
    for which in range(4):
        near, far = _conditions(edges, faces, relative, e, f, which)
        kept = np.flatnonzero((near > 0.0) | (far > 0.0))
        e, f = e[kept], f[kept]
    low, high = np.zeros(len(e)), np.ones(len(e))
    for which in range(4):
        near, far = _conditions(edges, faces, relative, e, f, which)
        crossed = np.flatnonzero((near > 0.0) != (far > 0.0))
        near, far = near[crossed], far[crossed]
        at = near / (near - far)
        enters = far > 0.0
        low[crossed[enters]] = np.maximum(low[crossed[enters]], at[enters])
        high[crossed[~enters]] = np.minimum(high[crossed[~enters]], at[~enters])
    low, high = np.floor(low * STEPS) / STEPS, np.ceil(high * STEPS) / STEPS
    kept = high - low > 2.0 / STEPS
    return e[kept], f[kept], low[kept], high[kept]


def _conditions(edges: _Edges, faces: _Faces, relative: Floats, e: Ints, f: Ints, which: int) -> tuple[Floats, Floats]:
    """How well one of the four conditions is met at either end of the edges: 0 is the plane, 1 to 3 are the sides.

    Worked out where the edge's body was built, with the other body moved: so the store gives the very figures that would come out anew.
    """
    u, v, level = (column[f] for column in faces.conditions[which])
    if relative.any():
        du, dv, dd = relative[edges.owner[e], faces.owner[f]].T
        level = level - (u * du + v * dv) + (dd if which == 0 else 0.0)
    near = u * edges.near[0][e] + v * edges.near[1][e] + level
    far = u * edges.far[0][e] + v * edges.far[1][e] + level
    if which == 0:
        near -= edges.near[2][e]
        far -= edges.far[2][e]
    return near, far


class _Edges:
    """The facing edges of some bodies in one table: both ends as u, v, depth where the body was built; boxes and least depth where it
    stands; whose they are and their number there."""

    def __init__(self, bodies: list[Body | None]) -> None:
        points, shifts, owners, numbers = [], [], [], []
        for i, body in enumerate(bodies):
            if body is not None:
                number = np.flatnonzero(body.seen.lines.facing)
                points.append(body.seen.lines.points[number])
                shifts.append(np.broadcast_to(body.shift, (len(number), 3)))
                owners.append(np.full(len(number), i))
                numbers.append(number)
        self.owner, self.number = np.concatenate(owners), np.concatenate(numbers)
        self.near, self.far = np.ascontiguousarray(np.concatenate(points).transpose(1, 2, 0))
        shift = np.concatenate(shifts).T
        low, high = np.minimum(self.near, self.far) + shift, np.maximum(self.near, self.far) + shift
        slack = 2.0 * INSIDE
        self.boxes = (low[0] - slack, low[1] - slack, high[0] + slack, high[1] + slack)
        self.bottom = low[2]


class _Faces:
    """The front triangles of some bodies in one table. ``conditions`` (4, 3, T), where the body was built: the plane, as far as it must
    lie before an edge, and the three sides, let out as far as they hide past themselves; boxes and greatest depth where it stands."""

    def __init__(self, bodies: list[Body | None]) -> None:
        boxes, tops, owners, conditions = [], [], [], []
        for i, body in enumerate(bodies):
            if body is not None:
                fronts = body.seen.fronts
                boxes.append(fronts.boxes + np.tile(body.shift[:2], 2))
                tops.append(fronts.top + body.shift[2])
                owners.append(np.full(len(fronts.top), i))
                conditions.append(np.concatenate([fronts.plane[:, None], fronts.sides], axis=1))
        self.boxes, self.top, self.owner = np.concatenate(boxes), np.concatenate(tops), np.concatenate(owners)
        self.conditions = np.ascontiguousarray(np.concatenate(conditions).transpose(1, 2, 0))
        self.conditions[0, 2] -= BEHIND
        self.conditions[1:, 2] += INSIDE
