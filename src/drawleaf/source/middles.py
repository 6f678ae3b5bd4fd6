"""``at: {middle_of: door}``: what a place leaves out is the middle of that part, written out as the sum that it is."""

from __future__ import annotations

from typing import Any

from drawleaf.source.between import AXES
from drawleaf.source.positions import Path, Spot


def with_middles(value: Any, path: Path, spots: dict[Path, Spot]) -> None:
    """Writes the middles into every place of a tree, each where its ``middle_of`` stands."""
    if isinstance(value, list):
        for index, inner in enumerate(value):
            with_middles(inner, (*path, index), spots)
    if not isinstance(value, dict):
        return
    part = value.get("middle_of")
    if isinstance(part, str) and path[-1:] == ("at",):
        for axis, (low, high, _) in AXES.items():
            if axis not in value:
                value[axis] = f"({part}.{low} + {part}.{high}) / 2"
                spots[*path, axis] = spots.get((*path, "middle_of"), spots[path])
    for key, inner in value.items():
        with_middles(inner, (*path, key), spots)
