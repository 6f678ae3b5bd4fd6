"""Screws where a part leans, measured on the solids: along the screw's own line, and beside it in each part's own frame."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from drawleaf.checks.context import Bench
from drawleaf.model.place import Axis
from drawleaf.model.plan import Fastener, Part, in_own_frame
from drawleaf.solids.fastener_proofs import runs_inside

FAR = 200.0
"""How far beyond its point a screw's line is followed to the far face of the wood, mm: past any wood that a screw is too near to leave."""


def figures_of(bench: Bench, fastener: Fastener) -> tuple[float, float, float, float, float] | None:
    """In mm: wood it goes through, how far it enters, wood left before its point (negative: how far it comes out), the nearest edge and
    the nearest end beside it in either part. None where it misses the second part, which the proofs report."""
    assert fastener.item.length is not None
    length = fastener.item.length.mm
    runs = [run for run in runs_inside(bench.solids.solid(fastener.into), fastener, length + FAR) if run[0] < length]
    if not runs:
        return None
    near, far = runs[0][0], runs[-1][1]
    beside = [
        *_beside(bench.parts[fastener.through], fastener, (0.0, near)),
        *_beside(bench.parts[fastener.into], fastener, (near,)),
    ]
    # Wood splits where the screw goes in; its point, which runs at a slant to the part, must stay covered on every side.
    point = min(room for room, _ in _beside(bench.parts[fastener.into], fastener, (length,)))
    radius = fastener.item.diameter.mm / 2.0 if fastener.item.diameter else 0.5
    left = min(far - length, point - radius)
    edge = min((room for room, is_end in beside if not is_end), default=float("inf"))
    end = min((room for room, is_end in beside if is_end), default=float("inf"))
    return near, length - near, left, edge, end


def _beside(part: Part, fastener: Fastener, places: tuple[float, ...]) -> Iterator[tuple[float, bool]]:
    """Room to the part's faces beside places of the screw, so far from its head, and whether each face is an end."""
    own = in_own_frame(part, fastener)
    way, start = np.array(own.direction), np.array(own.at.mm)
    along = max(Axis, key=lambda axis: abs(way[axis.index]))
    for axis in along.others():
        span, index = part.body.span(axis), axis.index
        for by in places:
            at = float(start[index] + way[index] * by)
            for room in (at - span.low.mm, span.high.mm - at):
                yield room, part.grain is axis and part.stock.material.solid
