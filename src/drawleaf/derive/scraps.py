"""Scraps to make that hold or guide the work: how many of each size, and which offcut gives them."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.derive.operations.helps import at_once
from drawleaf.model.helps import Help, HelpRow
from drawleaf.model.lists import Layouts
from drawleaf.model.steps import Step
from drawleaf.units import Length

ALIKE = Length.of_mm(2)
"""An offcut this much thicker or thinner than the usual scrap does as well."""


def list_helps(steps: Sequence[Step], layouts: Layouts) -> tuple[HelpRow, ...]:
    """One row for each kind and size, in the order in which they are first needed. What serves again is made once."""
    counts: dict[object, int] = {}
    numbers: dict[object, list[int]] = {}
    first: dict[object, Help] = {}
    for step in steps:
        alike: dict[object, list[Help]] = {}
        for one in step.helps:
            alike.setdefault((one.kind, one.name, one.size, one.exact, one.note), []).append(one)
        for key, helps in alike.items():
            first.setdefault(key, helps[0])
            counts[key] = max(counts.get(key, 0), at_once(step, helps))
            numbers.setdefault(key, []).append(step.number)
    return tuple(
        HelpRow(
            one.kind,
            one.name,
            counts[key],
            one.size,
            one.exact,
            one.note,
            tuple(numbers[key]),
            None if one.size is None else offcut_for(layouts, one.size),
        )
        for key, one in first.items()
    )


def offcut_for(layouts: Layouts, size: tuple[Length, Length, Length]) -> tuple[str, int] | None:
    """The first layout that leaves a piece as large. Scraps are small, and are not counted against each other."""
    long, wide, thick = size
    for kind, some in (("board", layouts.boards), ("sheet", layouts.sheets)):
        for layout in some:
            if abs(layout.stock.thickness - thick) > ALIKE:
                continue
            for offcut in layout.offcuts:
                if max(offcut.length, offcut.width) >= long and min(offcut.length, offcut.width) >= wide:
                    return kind, layout.number
    return None
