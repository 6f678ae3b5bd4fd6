"""Which way a drawer runs, by where its slides stand and what the line says."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Part
from drawleaf.model.run import Run
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.sources import Sources
from drawleaf.source.models import FittingEntry


def run_between(
    name: str,
    entry: FittingEntry,
    fixed: Sequence[Part],
    moving: Sequence[Part],
    sources: Sources,
    findings: Findings,
) -> Run | None:
    """How a drawer runs between the two parts that its slides are screwed to; reported where one of them bars its own way out."""
    out = Face(entry.opens or "front")
    level = (Axis.X, Axis.Y)
    between = [axis for axis in level if _lies_between(moving, fixed, axis)]
    across = next(axis for axis in level if axis is not out.axis)
    if across in between or not between:
        return Run(out, across)
    findings.error(
        "slides-opens",
        f"{name}: the drawer cannot come out at the {out.value}: its slides stand there, at the {out.axis.low.value} and the {out.axis.high.value}",
        sources.at(entry, "opens" if entry.opens is not None else "item"),
        "A drawer runs along its slides, between the two parts that they are screwed to.",
        f"Write “opens: {across.low.value}” or “opens: {across.high.value}”.",
    )
    return None


def middle_of(parts: Sequence[Part], axis: Axis) -> Fraction:
    """The mean of the parts' middles along an axis, in millimetres."""
    return sum((one.seen.span(axis).middle.exact_mm for one in parts), Fraction(0)) / len(parts)


def _lies_between(moving: Sequence[Part], fixed: Sequence[Part], axis: Axis) -> bool:
    """Whether the drawer lies between the two parts along an axis, which stand clear of one another there."""
    low, high = sorted((part.seen.span(axis) for part in fixed), key=lambda span: span.low.exact_mm)
    return low.high <= high.low and low.high.exact_mm <= middle_of(moving, axis) <= high.low.exact_mm
