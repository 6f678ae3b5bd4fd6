"""What is a box, such as a drawer: a floor between upright sides all round."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from drawleaf.model.near import Near
from drawleaf.model.openings import opening_of
from drawleaf.model.place import Axis
from drawleaf.model.plan import Assembly, Part
from drawleaf.units import Length

BESIDE, ABOVE = Length.of_inches(1) / 4, Length.of_inches(1) / 2
"""The most that is free on both sides together beside a drawer that runs on wood, and above it. Common practice, no source."""


def is_box(parts: Sequence[Part]) -> bool:
    """Whether these parts make a box with one floor, open above. One that stands loose in a piece is a drawer that runs on wood."""
    ways = [part.thickness for part in parts]
    return ways.count(Axis.X) >= 2 and ways.count(Axis.Y) >= 2 and ways.count(Axis.Z) == 1


def in_opening(box: Sequence[Part], standing: Near) -> bool:
    """Whether a loose box fills an opening that the ``standing`` parts make, as a drawer on wood does: from side to side, and in its height."""
    if not is_box(box):
        return False
    for across in (Axis.X, Axis.Y):
        side = next(part for part in box if part.thickness is across)
        beside, upright = (opening_of(side, box, standing, axis) for axis in (across, Axis.Z))
        if beside is not None and upright is not None and beside.gaps <= BESIDE and upright.gaps <= ABOVE:
            return True
    return False


def drawers_on_wood(parts: Sequence[Part], assemblies: Iterable[Assembly]) -> set[str]:
    """The loose assemblies that are such drawers."""
    loose = {assembly.id for assembly in assemblies if assembly.loose}
    standing = Near(part for part in parts if part.assembly not in loose)
    boxes: dict[str, list[Part]] = {}
    for part in parts:
        if part.assembly in loose:
            boxes.setdefault(part.assembly, []).append(part)
    return {name for name, box in boxes.items() if in_opening(box, standing)}
