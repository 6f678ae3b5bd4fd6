"""Which parts stand where a question is about: found among all by number, so that a long wall is not asked part by part."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import numpy as np
from numpy.typing import NDArray

from drawleaf.model.place import Axis
from drawleaf.model.plan import Part

HAIR = 0.01
"""Millimetres by which a part may lie beside the place and is given all the same: who asks decides by exact lengths."""


class Near:
    """Some parts with the room that each takes, as it is seen and as it is cut."""

    def __init__(self, parts: Iterable[Part]) -> None:
        self._parts = tuple(parts)
        self._room = np.array([_room(part) for part in self._parts], dtype=np.float64).reshape(-1, 3, 2)

    def within(self, places: Mapping[Axis, tuple[float, float]]) -> list[Part]:
        """The parts, in their order, that touch or overlap the stretch from a low to a high place along each of these axes, in mm."""
        found: NDArray[np.bool_] = np.ones(len(self._parts), dtype=bool)
        for axis, (low, high) in places.items():
            room = self._room[:, axis.index]
            found &= (room[:, 0] <= high + HAIR) & (room[:, 1] >= low - HAIR)
        return [self._parts[place] for place in np.flatnonzero(found).tolist()]


def _room(part: Part) -> list[tuple[float, float]]:
    spans = [(part.seen.span(axis), part.body.span(axis)) for axis in Axis]
    return [(min(seen.low, body.low).mm, max(seen.high, body.high).mm) for seen, body in spans]
