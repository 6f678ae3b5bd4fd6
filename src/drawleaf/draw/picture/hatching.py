"""How cut faces are filled, by material: plywood by lines along its layers, solid wood by slanting lines across the grain and by
broken lines along it. Narrow lines, apart by at least 0.7 mm on paper (ISO 128-2 and 128-3, from memory)."""

from __future__ import annotations

from math import cos, radians, sin

import shapely
from shapely.geometry.base import BaseGeometry

from drawleaf.draw.paper.style import HATCH
from drawleaf.draw.paper.svg import Sketch
from drawleaf.draw.picture.picture import Window
from drawleaf.draw.sight.view import View
from drawleaf.model.place import Axis
from drawleaf.model.plan import Part

_LAYER = 1.1
_SLANT_PITCH, _GRAIN_PITCH = 1.7, 2.0
_DASH, _DASH_GAP = 7.0, 1.6
_THIN = 1.4
"""A cut face thinner than this on paper is filled instead: lines inside it would run together."""
_THIN_FILL = "#7c7f83"


def hatch_part(sketch: Sketch, window: Window, part: Part, region: BaseGeometry, view: View, order: int) -> None:
    """Hatch the cut face of a part; ``order`` turns the slant of neighbours of one material against one another."""
    thick = _thickness_on_paper(part, view, window)
    if thick is not None and thick < _THIN:
        for polygon in shapely.get_parts(region).tolist():
            sketch.fill(_THIN_FILL, _ring(polygon, window), name="thin")
        return
    if not part.stock.material.solid and thick is not None:
        _layers(sketch, window, part, region, view, thick)
    elif part.grain is not None and part.grain is not _toward(view):
        _along_grain(sketch, window, region, upright=_upright(view) is part.grain)
    else:
        _slanted(sketch, window, region, 45.0 if order % 2 else -45.0)


def _ring(polygon: shapely.Polygon, window: Window):  # type: ignore[no-untyped-def]
    from drawleaf.draw.paper.svg import Poly

    return Poly(tuple(window.at(u, v) for u, v in polygon.exterior.coords[:-1]), closed=True)


def _toward(view: View) -> Axis:
    return max(Axis, key=lambda axis: abs(view.axes[2][axis.index]))


def _upright(view: View) -> Axis:
    return max(Axis, key=lambda axis: abs(view.axes[1][axis.index]))


def _thickness_on_paper(part: Part, view: View, window: Window) -> float | None:
    """None where the part is cut along its face."""
    return None if part.thickness is _toward(view) else part.body.extent(part.thickness).mm * window.factor


def _layers(sketch: Sketch, window: Window, part: Part, region: BaseGeometry, view: View, thick: float) -> None:
    count = max(2, min(7, int(thick / _LAYER)))
    upright = part.thickness is _upright(view)
    span = part.body.span(part.thickness)
    row = view.axes[1 if upright else 0]
    sign = 1.0 if row[part.thickness.index] > 0 else -1.0
    for k in range(1, count):
        place = sign * (span.low.mm + (span.high.mm - span.low.mm) * k / count)
        _draw(sketch, window, region, _straight(region, place, upright))


def _straight(region: BaseGeometry, place: float, level: bool) -> shapely.LineString:
    west, south, east, north = region.bounds
    if level:
        return shapely.LineString([(west - 1, place), (east + 1, place)])
    return shapely.LineString([(place, south - 1), (place, north + 1)])


def _along_grain(sketch: Sketch, window: Window, region: BaseGeometry, upright: bool) -> None:
    pitch, dash, gap = (value / window.factor for value in (_GRAIN_PITCH, _DASH, _DASH_GAP))
    west, south, east, north = region.bounds
    low, high, start, end = (west, east, south, north) if upright else (south, north, west, east)
    count = max(1, round((high - low) / pitch))
    for row in range(1, count):
        place = low + (high - low) * row / count
        at = start - (row % 3) * (dash + gap) / 3
        while at < end:
            ends = [(place, at), (place, at + dash)] if upright else [(at, place), (at + dash, place)]
            _draw(sketch, window, region, shapely.LineString(ends))
            at += dash + gap


def _slanted(sketch: Sketch, window: Window, region: BaseGeometry, degrees: float) -> None:
    """Lines at an angle, anchored to the view's origin, so that all cut faces of a part match."""
    pitch = _SLANT_PITCH / window.factor
    along, across = (cos(radians(degrees)), sin(radians(degrees))), (-sin(radians(degrees)), cos(radians(degrees)))
    west, south, east, north = region.bounds
    corners = [(x, y) for x in (west, east) for y in (south, north)]
    heights = [x * across[0] + y * across[1] for x, y in corners]
    lengths = [x * along[0] + y * along[1] for x, y in corners]
    k = int(min(heights) // pitch)
    while k * pitch < max(heights):
        ends = [
            (along[0] * t + across[0] * k * pitch, along[1] * t + across[1] * k * pitch)
            for t in (min(lengths), max(lengths))
        ]
        _draw(sketch, window, region, shapely.LineString(ends))
        k += 1


def _draw(sketch: Sketch, window: Window, region: BaseGeometry, line: shapely.LineString) -> None:
    for piece in shapely.get_parts(region.intersection(line)).tolist():
        if isinstance(piece, shapely.LineString) and piece.length * window.factor > 0.3:
            sketch.line(HATCH, *(window.at(u, v) for u, v in piece.coords))
