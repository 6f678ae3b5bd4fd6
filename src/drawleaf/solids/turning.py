"""Turned bodies: a section carried once round an axis, for knobs, feet and legs."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi

import numpy as np
from manifold3d import Manifold, Mesh64

from drawleaf.solids.cutters import triple
from drawleaf.solids.solid import Curve, Floats, Ints, Turned
from drawleaf.solids.sweeps import Stretch, centre_of, outline_of

FACETS = 48
"""Facets once round."""


def turn(foot: float, section: Sequence[Stretch], origin: Floats, frame: Floats) -> tuple[Manifold, tuple[Curve, ...]]:
    """A body whose section runs from the axis at height ``foot`` outwards and back to the axis, anticlockwise; corners are (radius, height).

    ``frame`` rows: two directions across the axis and the axis itself, right-handed; millimetres.
    """
    corners, stretch = outline_of((0.0, foot), section)
    corners = np.vstack([corners, [section[-1].to]])
    turns = np.arange(FACETS) * (2.0 * pi / FACETS)
    around = np.cos(turns)[:, None] * frame[0] + np.sin(turns)[:, None] * frame[1]
    # One point where the outline meets the axis, else a ring of them.
    sizes = np.where(corners[:, 0] > 1e-9, FACETS, 1)
    first = np.cumsum(sizes) - sizes
    points = [origin + z * frame[2] + r * (around if r > 1e-9 else np.zeros((1, 3))) for r, z in corners]
    flat = [
        not one.turn and abs(one.to[1] - at[1]) < 1e-9 for one, at in zip(section, _starts(foot, section), strict=True)
    ]
    numbers = np.cumsum([not plane for plane in flat]) * ~np.array(flat)
    bands = [_band(int(first[k]), int(sizes[k]), int(first[k + 1]), int(sizes[k + 1])) for k in range(len(corners) - 1)]
    surface = np.repeat(numbers[stretch], [len(band) for band in bands])
    order = np.argsort(surface, kind="stable")
    runs = int(numbers.max()) + 1
    ids = Manifold.reserve_ids(runs)
    mesh = Mesh64(
        vert_properties=np.vstack(points),
        tri_verts=np.vstack(bands)[order].astype(np.uint64),
        run_index=np.searchsorted(surface[order], np.arange(runs + 1)).astype(np.uint64) * 3,
        run_original_id=np.arange(ids, ids + runs).astype(np.uint32),
    )
    curves = [
        Curve(ids + int(number), triple(frame[2]), triple(origin), _turned(at, one, corners[stretch_rows]))
        for number, at, one, stretch_rows in zip(
            numbers, _starts(foot, section), section, _rows(stretch, len(section)), strict=True
        )
        if number
    ]
    return Manifold(mesh), tuple(curves)


def _starts(foot: float, section: Sequence[Stretch]) -> list[tuple[float, float]]:
    return [(0.0, foot), *(one.to for one in section[:-1])]


def _rows(stretch: Ints, count: int) -> list[Ints]:
    """The corners of each stretch, both ends with it."""
    return [np.append(np.flatnonzero(stretch == k), np.flatnonzero(stretch == k)[-1] + 1) for k in range(count)]


def _turned(at: tuple[float, float], one: Stretch, corners: Floats) -> Turned:
    step = 2.0 * pi / FACETS * float(corners[:, 0].max())
    if not one.turn:
        return Turned(None, step)
    along = np.diff(corners, axis=0)
    return Turned(centre_of(at, one), max(step, float(np.hypot(along[:, 0], along[:, 1]).max())))


def _band(low: int, low_size: int, high: int, high_size: int) -> Ints:
    """Triangles between two neighbouring rings (or a ring and a point)."""
    here = np.arange(FACETS)
    there = (here + 1) % FACETS
    found = []
    if low_size > 1:
        found.append(np.column_stack([low + here, low + there, high + (there if high_size > 1 else 0 * there)]))
    if high_size > 1:
        found.append(np.column_stack([low + (here if low_size > 1 else 0 * here), high + there, high + here]))
    return np.vstack(found)
