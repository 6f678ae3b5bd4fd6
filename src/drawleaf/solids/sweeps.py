"""Straight runs of a moulded section: prisms whose outline has lines and arcs, for mouldings and shaped edges."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import asin, ceil, cos, hypot, pi, radians, sin, sqrt, tan

import numpy as np
from manifold3d import Manifold, Mesh64, triangulate

from drawleaf.solids.cutters import ARC_TOLERANCE, triple
from drawleaf.solids.solid import Curve, Floats, Ints

LEAST_FACETS = 16
"""Facets in a quarter turn at least, so that a moulding looks round at any size."""

ARC_END = 0.002
"""Millimetres from the end of an arc to its first facet corner. The sliver there stands as steep as the arc does at its end, so that
the outline of an ogee is found up to the very point where it turns the other way. Less than what hidden lines take for touching."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """A line (``turn`` 0) or arc to the next corner of a section; ``turn`` in degrees, positive anticlockwise, less than 360 either way."""

    to: tuple[float, float]
    turn: float = 0.0


def sweep(
    start: tuple[float, float], section: Sequence[Stretch], origin: Floats, frame: Floats, length: float
) -> tuple[Manifold, tuple[Curve, ...]]:
    """The section, drawn anticlockwise from ``start`` back to it, run along a straight line.

    ``frame`` rows are the section's two axes and the direction of the run, right-handed; lengths in millimetres.
    """
    outline, stretch = outline_of(start, section)
    count = len(outline)
    here = np.arange(count)
    there = np.roll(here, -1)
    sides = np.column_stack([here, there, there + count, here, there + count, here + count]).reshape(-1, 3)
    cap = np.array(triangulate([outline]), dtype=np.int64)
    triangles = np.vstack([sides, cap[:, ::-1], cap + count])
    arcs = [number for number, one in enumerate(section) if one.turn]
    # Every arc is a surface of its own, everything flat one more.
    surface = np.concatenate([np.repeat(_numbered(stretch, arcs), 2), np.zeros(2 * len(cap), dtype=np.int64)])
    order = np.argsort(surface, kind="stable")
    first = Manifold.reserve_ids(len(arcs) + 1)
    flat = origin + outline @ frame[:2]
    mesh = Mesh64(
        vert_properties=np.vstack([flat, flat + frame[2] * length]),
        tri_verts=triangles[order].astype(np.uint64),
        run_index=np.searchsorted(surface[order], np.arange(len(arcs) + 2)).astype(np.uint64) * 3,
        run_original_id=np.arange(first, first + len(arcs) + 1).astype(np.uint32),
    )
    return Manifold(mesh), tuple(
        Curve(first + 1 + number, triple(frame[2]), triple(origin + np.array(centre) @ frame[:2]))
        for number, centre in enumerate(_centres(start, section))
    )


def _centres(start: tuple[float, float], section: Sequence[Stretch]) -> list[tuple[float, float]]:
    """The centres of the arcs in order."""
    starts = [start, *(one.to for one in section)]
    return [centre_of(at, arc) for at, arc in zip(starts, section, strict=False) if arc.turn]


def _numbered(stretch: Ints, arcs: Sequence[int]) -> Ints:
    """0 for the sides of lines, 1, 2, ... for those of the arcs in order."""
    numbers = np.zeros(int(stretch.max()) + 1, dtype=np.int64)
    numbers[list(arcs)] = np.arange(1, len(arcs) + 1)
    return numbers[stretch]


def outline_of(start: tuple[float, float], section: Sequence[Stretch]) -> tuple[Floats, Ints]:
    """Corners of the faceted outline from ``start`` on, and the stretch that the side after each corner belongs to."""
    corners: list[tuple[float, float]] = []
    stretch: list[int] = []
    at = start
    for number, one in enumerate(section):
        points = [at] if not one.turn else _arc(at, one)
        corners += points
        stretch += [number] * len(points)
        at = one.to
    return np.array(corners), np.array(stretch, dtype=np.int64)


def _arc(start: tuple[float, float], arc: Stretch) -> list[tuple[float, float]]:
    """Corners on an arc, all but its last."""
    turn = radians(arc.turn)
    cx, cy = centre_of(start, arc)
    radius = hypot(start[0] - cx, start[1] - cy)
    step = min(pi / 2.0 / LEAST_FACETS, 4.0 * asin(min(1.0, sqrt(ARC_TOLERANCE / (2.0 * radius)))))
    count = max(2, ceil(abs(turn) / step))
    sliver = min(ARC_END / radius / abs(turn), 0.1 / count)
    parts = [sliver, *(i / count for i in range(1, count)), 1.0 - sliver]
    x, y = start[0] - cx, start[1] - cy
    turns = [(cos(turn * part), sin(turn * part)) for part in parts]
    return [start, *((cx + x * c - y * s, cy + x * s + y * c) for c, s in turns)]


def centre_of(start: tuple[float, float], arc: Stretch) -> tuple[float, float]:
    """To the left of the chord for an anticlockwise arc, at half the chord over the tangent of half the turn."""
    off = 0.5 / tan(radians(arc.turn) / 2.0)
    dx, dy = arc.to[0] - start[0], arc.to[1] - start[1]
    return ((start[0] + arc.to[0]) / 2.0 - dy * off, (start[1] + arc.to[1]) / 2.0 + dx * off)
