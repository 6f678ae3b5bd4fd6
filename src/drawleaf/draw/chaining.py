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
    """Number the values so that sorted neighbours nearer than ``gap`` share a number."""
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
    found = [
        (int(crowded[rows[0]]), *_spread(reach[crowded[rows]], owners[crowded[rows]]))
        for rows in _groups(line[crowded])
    ]
    rows = np.concatenate([np.flatnonzero(alone), *(np.full(len(who), row) for row, _, who in found)])
    spans = np.concatenate([reach[alone], *(stretch for _, stretch, _ in found)])
    who = np.concatenate([owners[alone], *(who for _, _, who in found)])
    ends = direction[rows][:, None] * spans[..., None] + (across[rows] * offset[rows][:, None])[:, None]
    return ends + middle, who


def _groups(number: Ints) -> list[Ints]:
    """Rows that share a number, number by number."""
    if not len(number):
        return []
    order = np.argsort(number, kind="stable")
    return np.split(order, np.flatnonzero(np.diff(number[order]) > 0) + 1)


def _spread(spans: Floats, owners: Ints) -> tuple[Floats, Ints]:
    """On one line: cut at all ends, give each stretch to its lowest owner, and join neighbours of one owner."""
    cuts = np.sort(spans.reshape(-1))
    cuts = cuts[np.concatenate([[True], np.diff(cuts) > SAME_PLACE])]
    middles = (cuts[:-1] + cuts[1:]) / 2.0
    covers = (spans[:, :1] < middles) & (middles < spans[:, 1:])
    nobody = owners.max() + 1
    who = np.where(covers, owners[:, None], nobody).min(axis=0) if len(middles) else np.empty(0, np.int64)
    turn = np.flatnonzero(np.concatenate([[True], who[1:] != who[:-1], [True]])) if len(who) else np.array([0])
    starts, ends = turn[:-1], turn[1:]
    kept = who[starts] != nobody if len(starts) else np.empty(0, bool)
    starts, ends = starts[kept], ends[kept]
    return np.column_stack([cuts[starts], cuts[ends]]), who[starts]


def chain(segments: Floats, owners: Ints) -> list[tuple[Floats, int]]:
    """Join segments of one owner end to end, through each meeting point the straightest pair first. Longest possible, fixed order."""
    if not len(segments):
        return []
    node = _nodes(segments, owners)
    partner = _partners(segments, node)
    used = np.zeros(len(segments), dtype=bool)
    chains: list[tuple[Floats, int]] = []
    ends_first = [half for half in range(2 * len(segments)) if half not in partner]
    for half in [*ends_first, *range(0, 2 * len(segments), 2)]:
        if used[half // 2]:
            continue
        points = [segments[half // 2, half % 2]]
        here: int | None = half
        while here is not None and not used[here // 2]:
            used[here // 2] = True
            points.append(segments[here // 2, 1 - here % 2])
            here = partner.get(here ^ 1)
        chains.append((np.array(points), int(owners[half // 2])))
    return chains


def _nodes(segments: Floats, owners: Ints) -> Ints:
    """A number for every end (2 i and 2 i + 1 of segment i): the same where ends of one owner meet."""
    points = segments.reshape(-1, 2)
    columns = clusters(points[:, 0], SAME_PLACE)
    rows = clusters(points[:, 1], SAME_PLACE)
    keys = np.column_stack([np.repeat(owners, 2), columns, rows])
    _, node = np.unique(keys, axis=0, return_inverse=True)
    return node.reshape(-1).astype(np.int64)


def _partners(segments: Floats, node: Ints) -> dict[int, int]:
    """Which end goes on into which: at each node the pair that bends least, then the next among those left."""
    away = segments[:, ::-1].reshape(-1, 2) - segments.reshape(-1, 2)
    away = away / np.linalg.norm(away, axis=1, keepdims=True)
    partner: dict[int, int] = {}
    for halves in _groups(node):
        if len(halves) == 2:
            a, b = int(halves[0]), int(halves[1])
            if a // 2 != b // 2:
                partner[a], partner[b] = b, a
        elif len(halves) > 2:
            bends = away[halves] @ away[halves].T
            i, j = np.triu_indices(len(halves), 1)
            for pick in np.argsort(np.round(bends[i, j], 9), kind="stable"):
                a, b = int(halves[i[pick]]), int(halves[j[pick]])
                if a not in partner and b not in partner and a // 2 != b // 2:
                    partner[a], partner[b] = b, a
    return partner
