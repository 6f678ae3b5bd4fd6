"""Smooth noise and dice from integers alone: the same on every machine and with every version of numpy.

Points are given as three arrays that fit together as numpy broadcasts them. Where each varies along an axis of its own, as on a face that
is square to the board, the noise is worked out along one axis after the other, which is many times faster.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.floating[Any]]
"""Single precision; doubles where numpy makes them on the way."""
Points = tuple[Floats, Floats, Floats]
"""Along the grain, across it, through the thickness: millimetres, each broadcastable to the others."""

_MOST_TABLE = 6_000_000
"""Above so many places in the lattice it is not made whole beforehand."""
_U32 = np.uint32


def roll(seed: int, *which: int) -> float:
    """A fixed throw of the dice: a share from 0 to 1."""
    value = np.array([seed & 0xFFFFFFFF], dtype=_U32)
    for number in which:
        value = _mixed(value ^ np.array([(number * 0x9E3779B1) & 0xFFFFFFFF], dtype=_U32))
    return float(_mixed(value)[0]) / 2.0**32


def bell(seed: int, *which: int) -> float:
    """A fixed throw, spread about 0 like a bell: so many times the standard deviation, never beyond 3."""
    return 2.0 * (sum(roll(seed, *which, extra) for extra in (1, 2, 3)) - 1.5)


def cell(seed: int, *indices: NDArray[np.int32]) -> Floats:
    """(N) a throw from 0 to 1 for each cell of a lattice, by its numbers."""
    value = np.full(1, seed & 0xFFFFFFFF, dtype=_U32)
    for factor, index in zip((0x8DA6B343, 0xD8163841, 0xCB1AB31F), indices, strict=False):
        value = value ^ (index.astype(np.int32).view(_U32) * _U32(factor))
    return _mixed(value).astype(np.float32) * np.float32(1.0 / 2.0**32)


def noise(seed: int, at: Points, scale: Sequence[float]) -> Floats:
    """(N) smooth noise from -1 to 1 at points; ``scale`` is the size in mm of its lumps along each axis."""
    places = [np.asarray(values, dtype=np.float32) / np.float32(size) for values, size in zip(at, scale, strict=True)]
    lows = [int(np.floor(values.min())) for values in places]
    counts = [int(np.floor(values.max())) - low + 2 for values, low in zip(places, lows, strict=True)]
    runs = [_run_of(values) for values in places]
    moving = [run for run in runs if run is not None]
    apart = all(run is not None or values.size == 1 for run, values in zip(runs, places, strict=True))
    if apart and len(set(moving)) == len(moving):
        return _along_axes(seed, places, lows, counts, runs)
    return _everywhere(seed, places, lows, counts)


def wave(seed: int, at: Floats) -> Floats:
    """(N) smooth noise from -1 to 1 along a line, a lump to each unit of ``at``."""
    low = int(np.floor(at.min()))
    table = _lattice(seed, [np.arange(low, int(np.floor(at.max())) + 2), np.zeros(1, int), np.zeros(1, int)])[:, 0, 0]
    index = np.floor(at).astype(np.int64)
    return _between(table[index - low], table[index - low + 1], at - index.astype(np.float32))


def _run_of(values: Floats) -> int | None:
    """The one dimension along which an array varies; None where there is none, or more than one."""
    long = [dimension for dimension, size in enumerate(values.shape) if size > 1]
    return long[0] if len(long) == 1 else None


def _along_axes(
    seed: int, places: Sequence[Floats], lows: Sequence[int], counts: Sequence[int], runs: Sequence[int | None]
) -> Floats:
    shape = np.broadcast_shapes(*(values.shape for values in places))
    table = _lattice(seed, [np.arange(low, low + count) for low, count in zip(lows, counts, strict=True)])
    # What shrinks most comes first, so that the long ones are worked out on as little as can be.
    for axis in sorted(range(3), key=lambda one: places[one].size / counts[one]):
        flat = places[axis].reshape(-1)
        index = np.floor(flat).astype(np.int64)
        weight = (flat - index.astype(np.float32)).reshape([-1 if one == axis else 1 for one in range(3)])
        first = np.take(table, index - lows[axis], axis=axis)
        table = _between(first, np.take(table, index - lows[axis] + 1, axis=axis), weight)
    order = sorted((axis for axis in range(3) if runs[axis] is not None), key=lambda axis: runs[axis] or 0)
    fixed = [axis for axis in range(3) if runs[axis] is None]
    spread = [1] * len(shape)
    for axis in order:
        run = runs[axis]
        assert run is not None
        spread[run] = places[axis].size
    return np.broadcast_to(np.transpose(table, (*fixed, *order)).reshape(spread), shape)


def _everywhere(seed: int, places: Sequence[Floats], lows: Sequence[int], counts: Sequence[int]) -> Floats:
    wide = np.broadcast_arrays(*places)
    indices = [np.floor(values).astype(np.int32) for values in wide]
    weights = [_eased(values - index.astype(np.float32)) for values, index in zip(wide, indices, strict=True)]
    table = None
    if counts[0] * counts[1] * counts[2] <= min(_MOST_TABLE, 2 * wide[0].size):
        table = _lattice(seed, [np.arange(low, low + count) for low, count in zip(lows, counts, strict=True)])
    found = np.zeros(wide[0].shape, np.float32)
    for corner in range(8):
        steps = [(corner >> axis) & 1 for axis in range(3)]
        share = np.ones(wide[0].shape, np.float32)
        for step, weight in zip(steps, weights, strict=True):
            share = share * (weight if step else 1.0 - weight)
        if table is None:
            value = cell(seed, *(index + step for index, step in zip(indices, steps, strict=True))) * 2.0 - 1.0
        else:
            spots = [i - low + step for i, low, step in zip(indices, lows, steps, strict=True)]
            value = table[spots[0], spots[1], spots[2]]
        found += share * value
    return found


def _lattice(seed: int, axes: Sequence[NDArray[np.int64]]) -> Floats:
    """Throws from -1 to 1 at the corners of a lattice."""
    a, b, c = (axis.astype(np.int32) for axis in axes)
    return cell(seed, a[:, None, None], b[None, :, None], c[None, None, :]) * np.float32(2.0) - np.float32(1.0)


def _between(first: Floats, second: Floats, weight: Floats) -> Floats:
    return first + (second - first) * _eased(weight)


def _eased(weight: Floats) -> Floats:
    return weight * weight * (np.float32(3.0) - np.float32(2.0) * weight)


def _mixed(value: NDArray[np.uint32]) -> NDArray[np.uint32]:
    """The bits well stirred (the end of MurmurHash3, which its author gave to the public domain)."""
    value = value ^ (value >> _U32(16))
    value = value * _U32(0x85EBCA6B)
    value = value ^ (value >> _U32(13))
    value = value * _U32(0xC2B2AE35)
    return value ^ (value >> _U32(16))
