"""Distances from one datum beside a view: where the parts begin and end, from the floor or from the left end, as many as there is room for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from shapely.geometry.base import BaseGeometry

from drawleaf.draw.paper.dimensions import Dimension
from drawleaf.draw.paper.lettering import label, length_label
from drawleaf.draw.paper.running import near, place_running
from drawleaf.draw.paper.svg import Sketch
from drawleaf.draw.sight.exact_places import exact_places, snapped
from drawleaf.draw.sight.view import View
from drawleaf.model.plan import Plan
from drawleaf.units import Length, LengthFormat

_SAME = 3.0
"""Places closer than this (mm) are dimensioned once."""
_SPILL = 4.0
"""Millimetres on paper by which a value may stand past the end of its side."""
_MOST = 8
"""So many places are dimensioned at most: more are a fan of lines in which none is found; the part drawings have them all."""

Bounds = tuple[float, float, float, float]


def levels(
    plan: Plan, view: View, axis: int, bounds: Bounds, regions: Mapping[str, BaseGeometry], room: float
) -> list[Length]:
    """Exact coordinates across (0) or up (1) the paper: both ends of the view, then the ends of what the ``regions`` show, those that
    reach furthest along the other direction first, as long as every value stands level near its place on the ``room`` mm of paper."""
    exact = exact_places(plan, view, axis)
    found = [end for end in (snapped(exact, bounds[axis]), snapped(exact, bounds[axis + 2])) if end is not None]
    if len(found) < 2:
        ends = [(region.bounds[axis], region.bounds[axis + 2]) for region in regions.values() if not region.is_empty]
        outer = [min(low for low, _ in ends), max(high for _, high in ends)] if ends else []
        found = [end for end in (snapped(exact, value) for value in outer) if end is not None]
    if len(found) < 2:
        return []
    first = found[0]
    form = plan.lengths
    factor = room / (bounds[axis + 2] - bounds[axis])

    def readable(places: Sequence[Length]) -> bool:
        marks = [
            ((place.mm - bounds[axis]) * factor, length_label(form, abs(place - first))) for place in sorted(places)
        ]
        return near(marks, limit=room + _SPILL, upright=axis == 1)

    for one in sorted(regions, key=lambda one: (-_extent(regions[one], 1 - axis), one)):
        if regions[one].is_empty:
            continue
        for value in (regions[one].bounds[axis], regions[one].bounds[axis + 2]):
            place = snapped(exact, value)
            if place is None or any(abs(place - other).mm <= _SAME for other in found):
                continue
            if len(found) < _MOST and readable([*found, place]):
                found.append(place)
    return sorted(found)


def _extent(region: BaseGeometry, axis: int) -> float:
    return round(region.bounds[axis + 2] - region.bounds[axis], 2) if not region.is_empty else 0.0


def place_levels(
    sketch: Sketch,
    form: LengthFormat,
    side: str,
    places: Sequence[Length],
    bounds: Bounds,
    factor: float,
    band: float = 0.0,
) -> None:
    """Draws the distances below (``bottom``) or at the ``right`` of a view whose left upper corner is at 0, 0, outside a ``band`` mm wide;
    nothing where there is only the place that they are measured from."""
    if len(places) < 2:
        return
    axis = 0 if side == "bottom" else 1
    extent = (bounds[axis + 2] - bounds[axis]) * factor
    other = (bounds[3 - axis] - bounds[1 - axis]) * factor
    at = [(_paper(place, bounds, factor, axis), length_label(form, abs(place - places[0]))) for place in places]
    place_running(sketch, side, other + band, (at[0][0], label("0")), at[1:], start=band, limit=extent + _SPILL)


def from_end_to_end(
    form: LengthFormat, axis: int, places: Sequence[Length], bounds: Bounds, factor: float
) -> Dimension:
    """The distance between the outermost of the places, to be drawn in one."""
    low, high = sorted((_paper(places[0], bounds, factor, axis), _paper(places[-1], bounds, factor, axis)))
    return Dimension(low, high, length_label(form, places[-1] - places[0]))


def _paper(place: Length, bounds: Bounds, factor: float, axis: int) -> float:
    return (place.mm - bounds[0]) * factor if axis == 0 else (bounds[3] - place.mm) * factor
