"""How the sizes of parts follow the thickness of each sheet: the plan is placed once more with the sheet a hair thinner.

Lengths are exact, so what comes out is the very dependence that the author wrote, through faces, dimensions and joints alike. Where a
plan has a figure in place of a face, parts no longer meet in a sheet of another thickness, and nothing is said of it.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from drawleaf.model.catalogue import Form
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


def with_other_sheets(plan: Plan, reading: Reading) -> Plan:
    """The plan, which was resolved from this reading, with what changes in it for a sheet of another thickness."""
    reading = apply_edition(reading, None if reading.edition == plan.edition else plan.edition)
    used = {part.stock.id for part in plan.parts}
    sheets = [one for one in plan.stocks if one.material.form is Form.SHEET and one.id in used]
    found = (_other(plan, reading, one.id, one.thickness - HAIR) for one in sheets)
    return replace(plan, other_sheets=tuple(one for one in found if one.changes))


def _other(plan: Plan, reading: Reading, stock: str, thickness: Length) -> OtherSheet:
    if reading.plan is None:
        return OtherSheet(stock, ())
    bodies = Resolving(reading, reading.plan, Findings(), plan.lengths.units, {stock: thickness}).bodies() or {}
    changes = (_change(part, bodies[part.id]) for part in plan.parts if part.id in bodies)
    return OtherSheet(stock, tuple(one for one in changes if one.length or one.width))


def _change(part: Part, thinner: Part) -> SizeChange:
    return SizeChange(part.id, *(_share(part, thinner, axis) for axis in (part.length_axis, part.width_axis)))


def _share(part: Part, thinner: Part, axis: Axis) -> Fraction:
    """How much more for each unit that the sheet is thinner. What is marked from the standing piece is cut large enough as it is."""
    if part.fitted is not None and part.fitted.more(axis):
        return Fraction(0)
    return ((thinner.body.extent(axis) - part.body.extent(axis)).ratio(HAIR)).limit_denominator(FINEST)
