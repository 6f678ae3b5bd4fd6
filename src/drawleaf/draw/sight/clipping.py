"""What hides what: the stretches of edges before which front-facing triangles lie, for pairs of bodies.

For one edge and one triangle that is one interval of the edge, cut out by four straight-line conditions (inside each of the triangle's
three sides; behind its plane). All pairs are worked out at once, in floats, without sampling.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import shapely
from numpy.typing import NDArray

from drawleaf.draw.sight.projection import Body

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]
Cells = NDArray[np.object_]

BEHIND = 0.005
"""Millimetres that an edge must lie behind a face to be hidden by it. Zero would let faces hide their own edges; from 1e-6 to
1e-2 nothing changes, so this also forgives the rounding of sizes."""

INSIDE = 1e-4
"""Millimetres by which a triangle hides past its sides, so that nothing shows through between two that share a side."""

STEPS = 2.0**30
"""Fractions of an edge are kept to one in so many, so that they keep every bit when whole numbers are added to them."""

BATCH = 4096
"""So many boxes are looked up at a time: of a long piece seen from its end hundreds lie over each."""

Hits = tuple[Ints, Floats, Floats]
"""Edge numbers and the interval (as fractions of the edge) that is hidden, for one part before another."""

NOTHING: Hits = (np.empty(0, dtype=np.int64), np.empty(0), np.empty(0))


def may_hide(bodies: list[Body]) -> Flags:
    """(B, B): whether the second may hide some of the first: they overlap on paper and it is not wholly behind."""
    boxes = np.array([body.box for body in bodies])
    nearest = np.array([body.seen.depths[1] + body.shift[2] for body in bodies])
    farthest = np.array([body.seen.depths[0] + body.shift[2] for body in bodies])
    slack = 2.0 * INSIDE
    below = boxes[:, None, :2] <= boxes[None, :, 2:] + slack
    may = (below & below.transpose(1, 0, 2)).all(axis=2) & (nearest[None] > farthest[:, None])
    may[np.diag_indices(len(bodies))] = [not body.seen.convex for body in bodies]
    return may


def union(edge: Ints, low: Floats, high: Floats) -> Hits:
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


def complement(edges: Ints, edge: Ints, low: Floats, high: Floats) -> Hits:
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


def clip(bodies: list[Body], relative: Floats, missing: list[tuple[int, int]]) -> dict[tuple[int, int], Hits]:
    """Intervals of edges hidden by triangles, for the pairs of bodies asked for."""
    wanted = np.zeros((len(bodies), len(bodies)), dtype=bool)
    wanted[tuple(np.array(missing).T)] = True
    edges = _Edges([body if wanted[i].any() else None for i, body in enumerate(bodies)])
    faces = _Faces([body if wanted[:, j].any() else None for j, body in enumerate(bodies)])
    result: dict[tuple[int, int], Hits] = dict.fromkeys(missing, NOTHING)
    if not len(edges.owner) or not len(faces.owner):
        return result
    found = [_hidden(edges, faces, relative, len(bodies), *some) for some in _overlaps(edges, faces, wanted)]
    # One number for each edge and body before it, pair after pair, so that one pass does for all.
    number, low, high = (np.concatenate(column) for column in zip(*found, strict=True))
    numbers, number = np.unique(number, return_inverse=True)
    number, low, high = union(number.reshape(-1), low, high)
    pair, e = np.divmod(numbers[number], len(edges.owner))
    cuts = np.flatnonzero(np.diff(pair)) + 1
    columns = (np.split(column, cuts) for column in (pair, edges.number[e], low, high))
    for pairs, *hits in zip(*columns, strict=True):
        if len(pairs):
            i, j = divmod(int(pairs[0]), len(bodies))
            result[i, j] = (hits[0], hits[1], hits[2])
    return result


def _hidden(
    edges: _Edges, faces: _Faces, relative: Floats, bodies: int, e: Ints, f: Ints
) -> tuple[Ints, Floats, Floats]:
    """What some triangles hide of some edges, each interval with a number for the edge and the body before it."""
    e, f, low, high = _intervals(edges, faces, relative, e, f)
    numbers = (edges.owner[e] * bodies + faces.owner[f]) * len(edges.owner) + e
    kept, number = np.unique(numbers, return_inverse=True)
    number, low, high = union(number.reshape(-1), low, high)
    return kept[number], low, high


def _overlaps(edges: _Edges, faces: _Faces, wanted: Flags) -> Iterator[tuple[Ints, Ints]]:
    """Which edges and triangles overlap on paper, of the bodies asked for, the triangle not wholly behind. The tree is made of the fewer; what
    it is asked comes in batches, for most that overlap is dropped at once, and of a long piece seen from its end there are too many to hold."""
    few = len(edges.cells) < len(faces.cells)
    tree = shapely.STRtree(edges.cells if few else faces.cells)
    asked = faces.cells if few else edges.cells
    for start in range(0, len(asked), BATCH):
        number, hit = tree.query(asked[start : start + BATCH])
        e, f = (hit, number + start) if few else (number + start, hit)
        near = np.flatnonzero((faces.top[f] > edges.bottom[e]) & wanted[edges.owner[e], faces.owner[f]])
        yield e[near], f[near]


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
        if edges.slack.any():
            slack = np.where(edges.owner[e] == faces.owner[f], edges.slack[e], 0.0)
            near, far = near - slack, far - slack
    return near, far


class _Edges:
    """The facing edges of some bodies in one table: both ends as u, v, depth where the body was built; boxes (``cells``) and least
    depth where it stands; whose they are and their number there."""

    def __init__(self, bodies: list[Body | None]) -> None:
        points, shifts, owners, numbers, cells, slack = [], [], [], [], [], []
        for i, body in enumerate(bodies):
            if body is not None:
                number = np.flatnonzero(body.seen.lines.facing)
                points.append(body.seen.lines.points[number])
                shifts.append(np.broadcast_to(body.shift, (len(number), 3)))
                owners.append(np.full(len(number), i))
                numbers.append(number)
                slack.append(body.seen.lines.slack[number])
                cells.append(_placed(body.seen.lines.cells, body.shift))
        self.cells = np.concatenate(cells)
        self.owner, self.number, self.slack = np.concatenate(owners), np.concatenate(numbers), np.concatenate(slack)
        self.near, self.far = np.ascontiguousarray(np.concatenate(points).transpose(1, 2, 0))
        shift = np.concatenate(shifts)[:, 2]
        self.bottom = np.minimum(self.near[2], self.far[2]) + shift


class _Faces:
    """The front triangles of some bodies in one table. ``conditions`` (4, 3, T), where the body was built: the plane, as far as it must
    lie before an edge, and the three sides, let out as far as they hide past themselves; boxes and greatest depth where it stands."""

    def __init__(self, bodies: list[Body | None]) -> None:
        cells, tops, owners, conditions = [], [], [], []
        for i, body in enumerate(bodies):
            if body is not None:
                fronts = body.seen.fronts
                cells.append(_placed(fronts.cells, body.shift))
                tops.append(fronts.top + body.shift[2])
                owners.append(np.full(len(fronts.top), i))
                conditions.append(np.concatenate([fronts.plane[:, None], fronts.sides], axis=1))
        self.cells, self.top, self.owner = np.concatenate(cells), np.concatenate(tops), np.concatenate(owners)
        self.conditions = np.ascontiguousarray(np.concatenate(conditions).transpose(1, 2, 0))
        self.conditions[0, 2] -= BEHIND
        self.conditions[1:, 2] += INSIDE


def _placed(cells: Cells, shift: Floats) -> Cells:
    """Boxes moved on paper."""
    if not shift[:2].any():
        return cells
    return shapely.box(*(shapely.bounds(cells) + np.tile(shift[:2], 2)).T)
