"""What is a box, such as a drawer: a floor between upright sides all round."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.model.place import Axis
from drawleaf.model.plan import Part


def is_box(parts: Sequence[Part]) -> bool:
    """Whether these parts make a box with one floor, open above. One that stands loose in a piece is a drawer that runs on wood."""
    ways = [part.thickness for part in parts]
    return ways.count(Axis.X) >= 2 and ways.count(Axis.Y) >= 2 and ways.count(Axis.Z) == 1
