"""How the sizes of parts follow the thickness of each sheet: the plan is placed once more with the sheet a hair thinner.

Lengths are exact, so what comes out is the very dependence that the author wrote, through faces, dimensions and joints alike. Where a
plan has a figure in place of a face, parts no longer meet in a sheet of another thickness, and nothing is said of it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction

from drawleaf.model.catalogue import Form, Stock
from drawleaf.model.other_sheets import OtherSheet, SizeChange
from drawleaf.model.place import Axis
from drawleaf.model.plan import Part, Plan
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.resolver import Resolving
from drawleaf.source.editions import apply_edition
from drawleaf.source.reader import Reading
from drawleaf.units import Length

HAIR = Length.of_mm(Fraction(1, 1024))
FINEST = 64
"""Shares finer than this are no dependence that an author wrote: they come from roots and angles."""
APART = 2**40
"""Placed once for all sheets, each of them is so many times less thinner than the one before: what follows from one cannot be taken for what
follows from the next."""


def with_other_sheets(plan: Plan, reading: Reading) -> Plan:
    """The plan, which was resolved from this reading, with what changes in it for a sheet of another thickness."""
    reading = apply_edition(reading, None if reading.edition == plan.edition else plan.edition)
    used = {part.stock.id for part in plan.parts}
    sheets = [one for one in plan.stocks if one.material.form is Form.SHEET and one.id in used]
    found: list[OtherSheet] = []
    while sheets:
        some = _all_at_once(plan, reading, sheets) if len(sheets) > 1 else None
        found += some or [_other(plan, sheets[0].id, _thinner(plan, reading, {sheets[0].id: HAIR}))]
        sheets = sheets[1:] if some is None else []
    return replace(plan, other_sheets=tuple(one for one in found if one.changes))


def _thinner(plan: Plan, reading: Reading, by: Mapping[str, Length]) -> dict[str, Part]:
    """The bodies of the plan with some sheets so much thinner; none where they no longer make a plan."""
    if reading.plan is None:
        return {}
    measured = {stock.id: stock.thickness - by[stock.id] for stock in plan.stocks if stock.id in by}
    return Resolving(reading, reading.plan, Findings(), plan.lengths.units, measured).bodies() or {}


def _all_at_once(plan: Plan, reading: Reading, sheets: Sequence[Stock]) -> list[OtherSheet] | None:
    """What changes for each of the sheets, from placing the plan once with all of them thinner. None where it does not come out even: then
    something follows from a sheet in another way than by a share of its thickness."""
    by = {one.id: HAIR / APART**place for place, one in enumerate(sheets)}
    bodies = _thinner(plan, reading, by)
    if not bodies:
        return None
    changes: dict[str, list[SizeChange]] = {one.id: [] for one in sheets}
    for part in (one for one in plan.parts if one.id in bodies):
        long, wide = (_shares(part, bodies[part.id], axis, len(sheets)) for axis in (part.length_axis, part.width_axis))
        if long is None or wide is None:
            return None
        for sheet, length, width in zip(sheets, long, wide, strict=True):
            if length or width:
                changes[sheet.id].append(SizeChange(part.id, length, width))
    return [OtherSheet(stock, tuple(some)) for stock, some in changes.items()]


def _shares(part: Part, thinner: Part, axis: Axis, count: int) -> list[Fraction] | None:
    """How much more for each unit that each of so many sheets is thinner; None where that is not all of the difference."""
    left = _more(part, thinner, axis)
    found: list[Fraction] = []
    for _ in range(count):
        found.append(left.limit_denominator(FINEST))
        left = (left - found[-1]) * APART
    return None if left else found


def _other(plan: Plan, stock: str, bodies: Mapping[str, Part]) -> OtherSheet:
    changes = (_change(part, bodies[part.id]) for part in plan.parts if part.id in bodies)
    return OtherSheet(stock, tuple(one for one in changes if one.length or one.width))


def _change(part: Part, thinner: Part) -> SizeChange:
    length, width = (
        _more(part, thinner, axis).limit_denominator(FINEST) for axis in (part.length_axis, part.width_axis)
    )
    return SizeChange(part.id, length, width)


def _more(part: Part, thinner: Part, axis: Axis) -> Fraction:
    """How much more for each unit that the first sheet is thinner. What is marked from the standing piece is cut large enough as it is."""
    if part.fitted is not None and part.fitted.more(axis):
        return Fraction(0)
    return (thinner.body.extent(axis) - part.body.extent(axis)).ratio(HAIR)
