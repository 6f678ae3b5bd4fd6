"""A close look: what is too small to see in a step's drawing, enlarged in a circle in a free corner."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import product

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from drawleaf.draw.paper.frame import extent
from drawleaf.draw.paper.lettering import run_box
from drawleaf.draw.paper.placement import around, crosses, grown, lines_cross
from drawleaf.draw.paper.style import BALLOON, INSET, LEADER, NEW_BALLOON, WHITE
from drawleaf.draw.paper.svg import Circle, Fill, Poly, Pt, Sketch, Stroke
from drawleaf.draw.picture.panes import clipped
from drawleaf.draw.picture.picture import Window
from drawleaf.draw.sight.linework import Linework
from drawleaf.draw.sight.view import Vector, View
from drawleaf.solids.build import Solids

TINY = 13.0
"""Where all that can be seen of what is new measures less than this on paper (mm), it is worth enlarging."""
SPECK = 4.0
"""A thing that measures less than this (mm) is enlarged even where the rest of what is new is large: a button below a table top."""
_RADIUS = 17.0
_LARGEST = 4.0
_GAP = 4.0
_WIDE_ROOM = 100.0
"""A room wider than this (mm) has place beside the drawing."""


def sizes_in(view: View, solids: Solids, parts: Sequence[str], offsets: Mapping[str, Vector]) -> dict[str, float]:
    """How long each of the parts is in the view (mm of the piece), whether others hide some of it or not: the longer side of its box."""
    found: dict[str, float] = {}
    for part in parts:
        if (box := solids.box(part)) is not None:
            ends = view.on_paper(np.array(list(product(*(box + np.array(offsets.get(part, (0.0, 0.0, 0.0)))).T))))
            found[part] = float(np.ptp(ends, axis=0).max())
    return found


def worth_enlarging(
    work: Linework, window: Window, sizes: Mapping[str, float]
) -> tuple[float, float, float, float] | None:
    """Where all that is new can hardly be seen, or one thing of it is no more than a speck: the box about it in the view's plane (about the
    largest such part, where there are several). ``sizes`` (mm of the piece) are those of what is new: a large part of which a corner shows
    is no speck, and is no clearer with that corner enlarged."""
    seen = {part: work.outline(part) for part in sizes if not work.outline(part).is_empty}
    if not seen or len(seen) == len(work.shown):
        return None
    shows = (max(o.bounds[2] - o.bounds[0], o.bounds[3] - o.bounds[1]) for o in seen.values())
    if max(shows) * window.factor <= TINY:
        tiny = list(seen.values())
    else:
        tiny = [outline for part, outline in seen.items() if sizes[part] * window.factor <= SPECK]
    largest = max(tiny, key=lambda o: (round(o.area, 1), o.bounds), default=None)
    return largest.bounds if largest is not None else None  # type: ignore[return-value]


def add_inset(
    sketch: Sketch,
    window: Window,
    region: tuple[float, float, float, float],
    paint: Callable[[Sketch, Window], None],
    room: float,
) -> None:
    """Draws what ``paint`` draws about a ``region`` of the view's plane, enlarged, in a circle beside the drawing, or below it in a narrow
    ``room``; a small circle and a line show where it is taken from."""
    left, top, right, bottom = window.box(region)
    middle = ((left + right) / 2, (top + bottom) / 2)
    reach = max(((right - left) ** 2 + (bottom - top) ** 2) ** 0.5 / 2 + 1.5, 4.0)
    times = min(_LARGEST, _RADIUS / reach)
    if times < 1.6:
        return
    small = _RADIUS / times
    center = _center(sketch, middle, room)
    factor = window.factor * times
    u, v = (middle[0] - window.origin[0]) / window.factor, (window.origin[1] - middle[1]) / window.factor
    enlarged = Window(factor, (center[0] - u * factor, center[1] + v * factor))
    if not sketch.rough:
        close = Sketch(labels=sketch.labels)
        paint(close, enlarged)
        _clip_into(sketch, close, shapely.Point(center).buffer(_RADIUS, quad_segs=24))
        sketch.panes += clipped(close.panes, center, _RADIUS)
    sketch.shape(INSET, Circle(center, _RADIUS))
    sketch.shape(INSET, Circle(middle, small))
    far = ((center[0] - middle[0]) ** 2 + (center[1] - middle[1]) ** 2) ** 0.5
    unit = ((center[0] - middle[0]) / far, (center[1] - middle[1]) / far)
    sketch.line(
        LEADER,
        (middle[0] + unit[0] * small, middle[1] + unit[1] * small),
        (center[0] - unit[0] * _RADIUS, center[1] - unit[1] * _RADIUS),
    )


def _center(sketch: Sketch, middle: Pt, room: float) -> Pt:
    """A place for the circle outside all that is drawn, with a way to it that crosses no words and no leaders."""
    left, top, right, bottom = extent(sketch)
    out = _GAP + _RADIUS

    def held(value: float, low: float, high: float) -> float:
        return min(max(value, low + _RADIUS), max(high - _RADIUS, low + _RADIUS))

    ys = [held(middle[1] + by, top, bottom) for by in (0.0, -20.0, 20.0, -40.0, 40.0)]
    xs = [held(middle[0] + by, left, right) for by in (0.0, -20.0, 20.0, -40.0, 40.0)]
    beside = [(x, y) for x in (right + out, left - out) for y in ys]
    under = [(x, y) for y in (bottom + out, top - out) for x in xs]
    places = [*beside, *under] if room > _WIDE_ROOM else [*under, *beside]
    boxes = [grown(run_box(run), 0.6) for run in sketch.texts]
    lines = [
        (shape.points[0], shape.points[-1])
        for shape in sketch.strokes.get(LEADER, ())
        if isinstance(shape, Poly) and len(shape.points) > 1
    ]
    circles = [c for style in (BALLOON, NEW_BALLOON) for c in sketch.strokes.get(style, ()) if isinstance(c, Circle)]

    def clear(place: Pt) -> bool:
        way = (middle, place)
        hit = any(crosses(way, box) for box in boxes) or any(lines_cross(way, line) for line in lines)
        return not hit and not any(crosses(way, around(c.center, 2 * c.radius, 2 * c.radius)) for c in circles)

    return next((place for place in places if clear(place)), places[0])


def _clip_into(sketch: Sketch, close: Sketch, circle: shapely.Polygon) -> None:
    sketch.under.append(Fill((_poly(circle.exterior.coords),), WHITE, "inset-ground"))
    # Most of a large piece lies outside the circle: what cannot reach it is left out before shapes are folded together.
    for fill in close.under:
        for ring in _rings(_area(_near(fill.rings, circle)).intersection(circle)):
            sketch.under.append(Fill(ring, fill.color, fill.name))
    for style, shapes in close.strokes.items():
        for shape in _near(shapes, circle):
            for piece in shapely.get_parts(_line(shape).intersection(circle)).tolist():
                if isinstance(piece, shapely.LineString) and len(piece.coords) > 1:
                    sketch.shape(style, Poly(tuple((point[0], point[1]) for point in piece.coords)))
    for fill in close.over:
        for one in _near(fill.rings, circle):
            for ring in _rings(_area((one,)).intersection(circle)):
                sketch.over.append(Fill(ring, fill.color, fill.name))


def _near(shapes: Iterable[Stroke], circle: shapely.Polygon) -> Iterator[Stroke]:
    """The shapes whose boxes meet the circle's box."""
    left, top, right, bottom = circle.bounds
    for shape in shapes:
        if isinstance(shape, Circle):
            (x, y), r = shape.center, shape.radius
            low_x, low_y, high_x, high_y = x - r, y - r, x + r, y + r
        elif shape.points:
            low_x, high_x = min(p[0] for p in shape.points), max(p[0] for p in shape.points)
            low_y, high_y = min(p[1] for p in shape.points), max(p[1] for p in shape.points)
        else:
            continue
        if low_x <= right and high_x >= left and low_y <= bottom and high_y >= top:
            yield shape


def _area(rings: Iterable[Stroke]) -> BaseGeometry:
    """Even-odd: each ring turns what it encloses over."""
    area: BaseGeometry = shapely.Polygon()
    for ring in rings:
        area = area.symmetric_difference(_solid(ring))
    return area


def _solid(ring: Stroke) -> BaseGeometry:
    if isinstance(ring, Circle):
        return shapely.Point(ring.center).buffer(ring.radius)
    return shapely.Polygon(ring.points).buffer(0) if len(ring.points) > 2 else shapely.Polygon()


def _line(shape: Stroke) -> BaseGeometry:
    if isinstance(shape, Circle):
        return shapely.Point(shape.center).buffer(shape.radius).exterior
    points = [*shape.points, shape.points[0]] if shape.closed else list(shape.points)
    return shapely.LineString(points) if len(points) > 1 else shapely.LineString()


def _rings(area: BaseGeometry) -> list[tuple[Stroke, ...]]:
    return [
        tuple(_poly(ring.coords) for ring in (polygon.exterior, *polygon.interiors))
        for polygon in shapely.get_parts(area).tolist()
        if isinstance(polygon, shapely.Polygon) and polygon.area > 0.02
    ]


def _poly(coords: Iterable[tuple[float, ...]]) -> Poly:
    points = [(float(point[0]), float(point[1])) for point in coords]
    return Poly(tuple(points[:-1]), closed=True)
