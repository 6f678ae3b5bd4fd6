"""Hidden lines removed: which stretch of which edge the eye sees, in a parallel view of closed solids.

A ray from the eye enters a closed solid by a face that looks at the eye. So an edge is hidden exactly where a front-facing triangle lies
before it (``clipping.py``).

"Edge of this part is hidden by that part from here to there" holds whatever else is shown, so it is kept for each pair of parts
and their relative place: the drawings of all steps share one computation.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from drawleaf.draw.sight.chaining import CRUMB, chain, dedupe
from drawleaf.draw.sight.clipping import NOTHING, Hits, clip, complement, may_hide, union
from drawleaf.draw.sight.linework import Linework, Polyline
from drawleaf.draw.sight.projection import Body, behind_their_like, seen
from drawleaf.draw.sight.regions import Visible
from drawleaf.draw.sight.view import Vector, View
from drawleaf.solids.build import Solids
from drawleaf.solids.homes import AtHome
from drawleaf.solids.memos import Memo
from drawleaf.solids.solid import Solid

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]


_HITS: Memo[tuple[View, Solid, Solid, bytes], Hits] = Memo(lambda key: key[1:3])
"""What the second solid hides of the edges of the first, in a view and where the second stands as the bytes say."""


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
    visible = Visible(solids, view, bodies)
    return Linework(
        view,
        tuple(body.id for body in bodies),
        tuple(map(float, bounds)),  # type: ignore[arg-type]
        lambda: _polylines(solids, view, bodies, hidden=False),
        lambda: _polylines(solids, view, bodies, hidden=True),
        visible.faces,
        visible.outline,
    )


def _bodies(
    solids: Solids, view: View, shown: Sequence[str], offsets: Mapping[str, Vector], extra: Mapping[str, Solid]
) -> list[Body]:
    found = [(an_id, solids.at_home(an_id)) for an_id in dict.fromkeys(shown)]
    found += [(an_id, AtHome(solid, (0.0, 0.0, 0.0))) for an_id, solid in extra.items() if an_id not in shown]
    bodies = []
    for an_id, home in found:
        if home.solid is not None:
            shift = view.axes @ (np.array(home.at) + np.array(offsets.get(an_id, (0.0, 0.0, 0.0))))
            bodies.append(Body(an_id, home.solid, seen(solids, view, home.solid), shift))
    return bodies


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
    which, start, stop = complement(np.flatnonzero(facing), edge, low, high)
    pieces = [_cut(ends, owner, which, start, stop)]
    if hidden:
        past = 2 * len(bodies)
        pieces.append(_cut(ends, owner + past, *union(edge, low, high)))
        pieces.append((ends[~facing], owner[~facing] + past))
    segments, owners = (np.concatenate(column) for column in zip(*pieces, strict=True))
    return segments, owners


def _cut(ends: Floats, owner: Ints, which: Ints, start: Floats, stop: Floats) -> tuple[Floats, Ints]:
    """Stretches of some edges, without the specks."""
    near, along = ends[which, 0], ends[which, 1] - ends[which, 0]
    cut = np.stack([near + along * start[:, None], near + along * stop[:, None]], axis=1)
    kept = np.linalg.norm(cut[:, 1] - cut[:, 0], axis=1) > CRUMB / 5.0
    return cut[kept], owner[which[kept]]


def _all_hits(solids: Solids, view: View, bodies: list[Body], first: Ints) -> Hits:
    """The intervals of all edges that something hides, from the store where it has them. Edges are numbered through, body after body."""
    places = np.array([body.shift for body in bodies])
    relative = np.round(places[None] - places[:, None], 9) + 0.0
    store = _HITS.all(solids.memos)
    may, cover = may_hide(bodies), behind_their_like(bodies)
    may[:, list(cover)] = False  # what such a body hides its cover hides too
    for i, j in cover.items():
        may[i] = False
        may[i, j] = True
    pairs = [(int(i), int(j)) for i, j in np.argwhere(may)]
    keys = [(view, bodies[i].solid, bodies[j].solid, relative[i, j].tobytes()) for i, j in pairs]
    missing = {pair: key for pair, key in zip(pairs, keys, strict=True) if key not in store}
    for group in _groups(list(missing), len(bodies)):
        for pair, hits in clip(bodies, relative, group).items():
            store[missing[pair]] = hits
    found = [(pair[0], store[key]) for pair, key in zip(pairs, keys, strict=True)]
    found = [(i, hits) for i, hits in found if len(hits[0])]
    if not found:
        return NOTHING
    edge, low, high = (np.concatenate(column) for column in zip(*(hits for _, hits in found), strict=True))
    return edge + np.repeat([first[i] for i, _ in found], [len(hits[0]) for _, hits in found]), low, high


def _groups(pairs: list[tuple[int, int]], bodies: int) -> list[list[tuple[int, int]]]:
    """What is asked for in two: bodies of which much is unknown behind all others; then the well-known ones behind those alone."""
    if not pairs:
        return []
    asked = np.bincount([i for i, _ in pairs], minlength=bodies)
    fresh = asked * 2 > asked.max()
    groups = [[pair for pair in pairs if fresh[pair[0]] == new] for new in (True, False)]
    return [group for group in groups if group]
