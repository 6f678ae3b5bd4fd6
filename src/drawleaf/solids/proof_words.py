"""How proofs speak of places and sizes: floats of the solids in the plan's own lengths."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from drawleaf.model.plan import Part, Plan
from drawleaf.units import MM_PER_INCH, Length


def length_text(plan: Plan, millimetres: float) -> str:
    """A measured length as the plan prints lengths; one too small for that in millimetres."""
    length = Length(Fraction(round(millimetres * 1000), 1000))
    step = max(plan.lengths.mm_step, plan.lengths.inch_step * MM_PER_INCH)
    if 0 < abs(millimetres) < step:
        return f"{millimetres:.2g} mm"
    return plan.lengths.text(length)


def box_text(plan: Plan, low: Sequence[float], high: Sequence[float]) -> str:
    """Where a box lies: ``x from 0 to 3/4 in, y from ...``."""
    sides = (
        f"{axis} from {length_text(plan, a)} to {length_text(plan, b)}"
        for axis, a, b in zip("xyz", map(float, low), map(float, high), strict=True)
    )
    return ", ".join(sides)


def size_text(plan: Plan, low: Sequence[float], high: Sequence[float]) -> str:
    """How large a box is: ``1/4 in x 3/4 in x 15-1/2 in`` along x, y, z."""
    return " × ".join(length_text(plan, float(b) - float(a)) for a, b in zip(low, high, strict=True))


def part_text(part: Part) -> str:
    """A part as a message names it: what it is called and its id in the source."""
    return f"{part.name} ({part.id})"
