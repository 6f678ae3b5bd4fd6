"""Loose segments on paper into few lines: doubled lines drawn once, then joined end to end.

A segment has an owner: a small number, the lower the more its claim to a stretch that several draw.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]

SAME_ANGLE = 1e-6
"""Radians within which straight segments may lie on one line."""

SAME_PLACE = 2e-3
"""Millimetres within which lines or ends fall together."""

CRUMB = 5e-3
"""Millimetres; a shorter stretch that is left over is dropped."""


def clusters(values: Floats, gap: float) -> Ints:
    """(N,) numbers of the (N,) values, such that sorted neighbours nearer than ``gap`` share a number."""
    order = np.argsort(values, kind="stable")
    jumps = (
        np.concatenate([[0], np.diff(values[order]) > gap]).astype(np.int64) if len(values) else np.empty(0, np.int64)
    )
    numbers = np.empty(len(values), dtype=np.int64)
    numbers[order] = np.cumsum(jumps)
    return numbers


def dedupe(segments: Floats, owners: Ints) -> tuple[Floats, Ints]:
    """Draw every stretch once, for its lowest owner, and join stretches of one owner that continue each other in a straight line."""
    if not len(segments):
        return segments, owners
    middle = segments.reshape(-1, 2).mean(axis=0)
    segments = segments - middle
    along = segments[:, 1] - segments[:, 0]
    angle = np.arctan2(along[:, 1], along[:, 0]) % np.pi
    angle[angle > np.pi - SAME_ANGLE] -= np.pi
    bundle = clusters(angle, SAME_ANGLE)
    count = bundle.max() + 1
    shared = np.bincount(bundle, angle, count) / np.bincount(bundle, minlength=count)
    direction = np.column_stack([np.cos(shared), np.sin(shared)])[bundle]
    across = np.column_stack([-direction[:, 1], direction[:, 0]])
    offset = np.einsum("ij,ij->i", segments.mean(axis=1), across)
    width = float(np.ptp(offset)) + 1.0
    line = clusters(offset + bundle * width * 2.0, SAME_PLACE)
    reach = np.sort(np.einsum("ijk,ik->ij", segments, direction), axis=1)
    alone = np.bincount(line)[line] == 1
    crowded = np.flatnonzero(~alone)
    row, stretch, owner = _spread(line[crowded], reach[crowded], owners[crowded])
    rows = np.concatenate([np.flatnonzero(alone), crowded[row]])
    spans = np.concatenate([reach[alone], stretch])
    who = np.concatenate([owners[alone], owner])
    ends = direction[rows][:, None] * spans[..., None] + (across[rows] * offset[rows][:, None])[:, None]
    return ends + middle, who


def _spread(line: Ints, spans: Floats, owners: Ints) -> tuple[Ints, Floats, Ints]:
    """On each line: cut at all ends, give each stretch to its lowest owner, and join neighbours of one owner. A row of the line (for its
    place), the stretch and the owner."""
    if not len(line):
        return np.empty(0, np.int64), spans, owners
    order = np.argsort(line, kind="stable")
    _, first, count = np.unique(line[order], return_index=True, return_counts=True)
    number = np.repeat(np.arange(len(first)), count)
    cuts, where = spans[order].reshape(-1), np.repeat(number, 2)
    by_place = np.lexsort((cuts, where))
    cuts, where = cuts[by_place], where[by_place]
    kept = np.concatenate([[True], (np.diff(cuts) > SAME_PLACE) | (np.diff(where) > 0)])
    cuts, where = cuts[kept], where[kept]
    between = np.flatnonzero(where[1:] == where[:-1])
    low, high, where = cuts[between], cuts[between + 1], where[between]
    if not len(low):
        return np.empty(0, np.int64), np.empty((0, 2)), np.empty(0, np.int64)
    # Every stretch against every span of its line.
    many = count[where]
    stretch = np.repeat(np.arange(len(where)), many)
    starts = np.cumsum(many) - many
    span = order[first[where][stretch] + np.arange(len(stretch)) - starts[stretch]]
    middles = ((low + high) / 2.0)[stretch]
    nobody = owners.max() + 1
    covers = (spans[span, 0] < middles) & (middles < spans[span, 1])
    who = np.minimum.reduceat(np.where(covers, owners[span], nobody), starts)
    turn = np.concatenate([[True], (np.diff(who) != 0) | (np.diff(where) != 0), [True]])
    begin = np.flatnonzero(turn[:-1])
    end = np.flatnonzero(turn[1:])
    owned = who[begin] != nobody
    begin, end = begin[owned], end[owned]
    return order[first[where[begin]]], np.column_stack([low[begin], high[end]]), who[begin]


def _groups(number: Ints) -> list[Ints]:
    """Rows that share a number, number by number."""
    if not len(number):
        return []
    order = np.argsort(number, kind="stable")
    return np.split(order, np.flatnonzero(np.diff(number[order]) > 0) + 1)


def chain(segments: Floats, owners: Ints) -> list[tuple[Floats, int]]:
    """Join segments of one owner end to end, through each meeting point the straightest pair first. Longest possible, fixed order."""
    if not len(segments):
        return []
    node = _nodes(segments, owners)
    partner = _partners(segments, node)
    ends_first = np.flatnonzero(partner < 0).tolist()
    partners: list[int] = partner.tolist()
    used = [False] * len(segments)
    points = segments.reshape(-1, 2)
    chains: list[tuple[Floats, int]] = []
    for half in [*ends_first, *range(0, 2 * len(segments), 2)]:
        if used[half // 2]:
            continue
        ends = [half]
        here = half
        while here >= 0 and not used[here // 2]:
            used[here // 2] = True
            ends.append(here ^ 1)
            here = partners[here ^ 1]
        chains.append((points[ends], int(owners[half // 2])))
    return chains


def _nodes(segments: Floats, owners: Ints) -> Ints:
    """A number for every end (2 i and 2 i + 1 of segment i): the same where ends of one owner meet."""
    points = segments.reshape(-1, 2)
    columns = clusters(points[:, 0], SAME_PLACE)
    rows = clusters(points[:, 1], SAME_PLACE)
    keys = (np.repeat(owners, 2) * len(points) + columns) * len(points) + rows
    _, node = np.unique(keys, return_inverse=True)
    return node.reshape(-1).astype(np.int64)


def _partners(segments: Floats, node: Ints) -> Ints:
    """Which end goes on into which (-1: none): at each node the pair that bends least, then the next among those left."""
    partner = np.full(len(node), -1, dtype=np.int64)
    order = np.argsort(node, kind="stable")
    count = np.bincount(node)
    first = np.cumsum(count) - count
    a, b = order[first[count == 2]], order[first[count == 2] + 1]
    apart = a // 2 != b // 2
    partner[a[apart]], partner[b[apart]] = b[apart], a[apart]
    crowded = count[node[order]] > 2
    for halves in _groups(node[order][crowded]):
        _pair_up(segments, order[crowded][halves], partner)
    return partner


def _pair_up(segments: Floats, halves: Ints, partner: Ints) -> None:
    """Find partners among the ends that meet in one node."""
    away = segments[halves // 2, 1 - halves % 2] - segments[halves // 2, halves % 2]
    away = away / np.linalg.norm(away, axis=1, keepdims=True)
    bends = away @ away.T
    i, j = np.triu_indices(len(halves), 1)
    for pick in np.argsort(np.round(bends[i, j], 9), kind="stable"):
        a, b = int(halves[i[pick]]), int(halves[j[pick]])
        if partner[a] < 0 and partner[b] < 0 and a // 2 != b // 2:
            partner[a], partner[b] = b, a
