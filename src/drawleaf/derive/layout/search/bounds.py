"""How few sheets or boards can do, proven: dual feasible functions.

A dual feasible function maps sizes in 0..1 so that whatever fits side by side still sums to at most one; products of two, one for each axis,
bound the sheets from below. Functions: Fekete & Schepers, Mathematical Programming 91 (2001), 11-31, and Mathematical
Methods of Operations Research 60 (2004), 311-329 (from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from drawleaf.derive.layout.search.guillotine import Kind

SAFE = 1e-6
MOST_THRESHOLDS = 40

Mapping = Callable[[int, int], float]
"""A dual feasible function of a size in a whole."""


def least_sheets(sheet: tuple[int, int], kinds: Sequence[Kind]) -> int:
    """No layout of all pieces can do with fewer sheets. A piece that may turn counts by its weaker way to lie; the kerf is folded in."""
    if not kinds:
        return 0
    counts = np.array([kind.count for kind in kinds], dtype=float)
    straight_long, straight_wide = _mapped(sheet, kinds, turned=False)
    weights = straight_long[:, None, :] * straight_wide[None, :, :]
    if any(kind.turns for kind in kinds):
        turned_long, turned_wide = _mapped(sheet, kinds, turned=True)
        turned = turned_long[:, None, :] * turned_wide[None, :, :]
        may = np.array(
            [kind.turns and kind.width <= sheet[0] and kind.length <= sheet[1] for kind in kinds], dtype=bool
        )
        must = np.array([kind.length > sheet[0] or kind.width > sheet[1] for kind in kinds], dtype=bool)
        weights = np.where(may & ~must, np.minimum(weights, turned), np.where(must, turned, weights))
    total = float((weights @ counts).max())
    return max(int(np.ceil(total - SAFE)), 1)


def least_boards(length: int, sizes: Sequence[tuple[int, int]]) -> int:
    """No way to cut all ``(size, count)`` pieces can do with fewer boards of one length."""
    return least_sheets((length, 1), [Kind(size, 1, count, False) for size, count in sizes])


def _mapped(sheet: tuple[int, int], kinds: Sequence[Kind], *, turned: bool) -> tuple[np.ndarray, np.ndarray]:
    """Every function on every kind's extent, along and across the sheet. Both ways of lying share one set of functions for each axis."""
    result = []
    for axis in (0, 1):
        whole = sheet[axis]
        every = sorted({min(size, whole) for kind in kinds for size in (kind.length, kind.width)})
        functions = _functions(every, whole)
        own = [(kind.width, kind.length) if turned else (kind.length, kind.width) for kind in kinds]
        result.append(np.array([[apply(min(one[axis], whole), whole) for one in own] for apply in functions]))
    return result[0], result[1]


def _functions(sizes: list[int], whole: int) -> list[Mapping]:
    """The identity, the stair functions, and threshold functions at the sizes that occur (evenly thinned out where there are many)."""
    thresholds = [size for size in sizes if 2 * size <= whole]
    thresholds = sorted({*thresholds, *(whole - size for size in sizes if 2 * size > whole and size < whole)})
    if len(thresholds) > MOST_THRESHOLDS:
        step = len(thresholds) / MOST_THRESHOLDS
        thresholds = [thresholds[int(at * step)] for at in range(MOST_THRESHOLDS)]
    functions: list[Mapping] = [lambda size, whole: size / whole]
    functions += [_stair(steps) for steps in range(1, 6)]
    functions += [_threshold(at) for at in thresholds]
    functions += [_counted(at) for at in thresholds]
    return functions


def _stair(steps: int) -> Mapping:
    """u(k): sizes rounded to k-ths from above, exact multiples of 1/(k+1) kept."""

    def apply(size: int, whole: int) -> float:
        scaled = (steps + 1) * size
        return size / whole if scaled % whole == 0 else (scaled // whole) / steps

    return apply


def _threshold(least: int) -> Mapping:
    """U(e): small pieces count nothing, pieces that leave less than e beside them count whole."""

    def apply(size: int, whole: int) -> float:
        if size > whole - least:
            return 1.0
        return size / whole if size >= least else 0.0

    return apply


def _counted(least: int) -> Mapping:
    """phi(e): how many pieces of at least e fit, beside large ones or by themselves."""

    def apply(size: int, whole: int) -> float:
        most = whole // least
        if 2 * size > whole:
            return 1.0 - ((whole - size) // least) / most
        return 1.0 / most if size >= least else 0.0

    return apply
