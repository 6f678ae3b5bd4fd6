"""Two parts that look at one another, as the sides of a bay do: holes for one shelf stand opposite in them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from drawleaf.model.place import Face
from drawleaf.model.plan import Bore, Part


def facing(parts: Sequence[Part]) -> tuple[Face, Face] | None:
    """The face of each of two parts that looks at the other; None for any other number, or where they do not stand flat before one another."""
    if len(parts) != 2 or parts[0].thickness is not parts[1].thickness:
        return None
    one, other = parts
    axis = one.thickness
    if one.seen.span(axis).high <= other.seen.span(axis).low:
        return axis.high, axis.low
    return (axis.low, axis.high) if other.seen.span(axis).high <= one.seen.span(axis).low else None


def opposite(bore: Bore, part: Part, row: str) -> Bore:
    """The hole in ``part`` that stands opposite to this one."""
    face = bore.face.opposite
    start = bore.start.moved(face.axis, part.seen.face(face))
    return replace(bore, face=face, start=start, direction=face.opposite.normal, row=row)
