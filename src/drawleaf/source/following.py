"""What follows from the rest of a part and need not be written: which way it is thick, and which way its grain runs."""

from __future__ import annotations

from typing import Any

from drawleaf.source.between import AXES, axes_between, stands
from drawleaf.source.positions import Path, Spot


def with_what_follows(entry: dict[str, Any], at: Path, held: dict[str, Any], spots: dict[Path, Spot]) -> None:
    """Writes ``thickness`` and ``grain`` into a part that leaves them out, each where the part stands. ``held`` are the parts beside it.

    A part is as thick as its stock on the one axis that has a single face, besides the axis of ``full_width``. The grain of a board runs along
    the one axis that is neither its thickness nor its full width.
    """
    between = axes_between(entry, held)
    given = {axis: 2 if keys in between else sum(key in entry for key in keys) for axis, keys in AXES.items()}
    single = [axis for axis in given if given[axis] == 1 and axis != entry.get("full_width")]
    if "thickness" not in entry and len(single) == 1 and min(given.values()) == 1:
        _write(entry, "thickness", single[0], at, spots)
    left = [axis for axis in AXES if axis not in (entry.get("thickness"), entry.get("full_width"))]
    if "grain" not in entry and len(left) == 1:
        _write(entry, "grain", left[0], at, spots)


def _write(entry: dict[str, Any], key: str, axis: str, at: Path, spots: dict[Path, Spot]) -> None:
    entry[key] = axis
    stands(spots, (*at, key), at)
