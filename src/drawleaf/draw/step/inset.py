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

LEAST = 25.0
"""A new thing that is shorter than this on paper (mm) is worth enlarging."""
_RADIUS, _WIDEST = 17.0, 22.0
_WORTH = 1.6
"""What would be no more than so many times as large is not drawn twice."""
_SEEN = 0.5
"""Of what others hide, so much of its length shows at least: a corner of it is no clearer enlarged."""
_LARGEST = 8.0
_GAP = 4.0
_WIDE_ROOM = 100.0
"""A room wider than this (mm) has place beside the drawing."""


Bounds = tuple[float, float, float, float]


def sizes_in(view: View, solids: Solids, parts: Sequence[str], offsets: Mapping[str, Vector]) -> dict[str, float]:
    """How long each of the parts is in the view (mm of the piece), whether others hide some of it or not: its box from corner to corner."""
    found: dict[str, float] = {}
    for part in parts:
        if (box := solids.box(part)) is not None:
            ends = view.on_paper(np.array(list(product(*(box + np.array(offsets.get(part, (0.0, 0.0, 0.0)))).T))))
            found[part] = float(np.hypot(*np.ptp(ends, axis=0)))
    return found


def smallest(
    work: Linework, sizes: Mapping[str, float], kinds: Sequence[Sequence[tuple[str, ...]]]
) -> tuple[float, Bounds] | None:
    """How long the smallest of the new things shows, and the box about it in the view's plane (mm of the piece); None where nothing new can
    be seen well. ``sizes`` (mm) are those of all that is new, ``kinds`` the things it makes up: of each kind the one counts that shows
    best."""
    small: list[tuple[float, Bounds]] = []
    for things in kinds:
        found = [(_long(box), box, thing) for thing in things if (box := _box(work, thing)) is not None]
        if not found:
            continue
        shows, box, thing = max(found, key=lambda one: (round(one[0], 2), one[1]))
        if shows >= _SEEN * max(sizes[one] for one in thing):
            small.append((shows, box))
    return min(small, key=lambda one: (round(one[0], 2), one[1]), default=None)


def can_enlarge(region: Bounds, factor: float) -> bool:
    """Whether a circle holds this much of the view's plane enlarged, where the drawing shows it at the ``factor``."""
    return _WORTH * _reach(region, factor) <= _WIDEST


def _reach(region: Bounds, factor: float) -> float:
    """The radius on paper (mm) about a region, with some of what is round it."""
    return 0.68 * factor * _long(region)


def _box(work: Linework, thing: Sequence[str]) -> Bounds | None:
    """The box about what shows of a thing."""
    boxes = [work.outline(one).bounds for one in thing if not work.outline(one).is_empty]
    if not boxes:
        return None
    return (min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes))


def _long(box: Bounds) -> float:
    """From corner to corner: most things lie slanting in a picture."""
    return float(np.hypot(box[2] - box[0], box[3] - box[1]))


def add_inset(
    sketch: Sketch,
    window: Window,
    region: Bounds,
    paint: Callable[[Sketch, Window], None],
    room: float,
) -> None:
    """Draws what ``paint`` draws about a ``region`` of the view's plane, enlarged, in a circle beside the drawing, or below it in a narrow
    ``room``; a small circle and a line show where it is taken from."""
    left, top, right, bottom = window.box(region)
    middle = ((left + right) / 2, (top + bottom) / 2)
    reach = _reach(region, window.factor)
    radius = min(max(_RADIUS, _WORTH * reach), _WIDEST)
    times = min(_LARGEST, radius / reach)
    if times < _WORTH:
        return
    small = radius / times
    center = _center(sketch, middle, room, radius, small)
    factor = window.factor * times
    u, v = (middle[0] - window.origin[0]) / window.factor, (window.origin[1] - middle[1]) / window.factor
    enlarged = Window(factor, (center[0] - u * factor, center[1] + v * factor))
    if not sketch.rough:
        close = Sketch(labels=sketch.labels)
        paint(close, enlarged)
        _clip_into(sketch, close, shapely.Point(center).buffer(radius, quad_segs=24))
        sketch.panes += clipped(close.panes, center, radius)
    sketch.shape(INSET, Circle(center, radius))
    sketch.shape(INSET, Circle(middle, small))
    far = ((center[0] - middle[0]) ** 2 + (center[1] - middle[1]) ** 2) ** 0.5
    unit = ((center[0] - middle[0]) / far, (center[1] - middle[1]) / far)
    sketch.line(
        LEADER,
        (middle[0] + unit[0] * small, middle[1] + unit[1] * small),
        (center[0] - unit[0] * radius, center[1] - unit[1] * radius),
    )


def _center(sketch: Sketch, middle: Pt, room: float, radius: float, small: float) -> Pt:
    """A place for the circle of that radius outside all that is drawn and the ``small`` circle round what it shows, with a way to it that crosses no words and no leaders."""
    left, top, right, bottom = extent(sketch)
    left, right = min(left, middle[0] - small), max(right, middle[0] + small)
    top, bottom = min(top, middle[1] - small), max(bottom, middle[1] + small)
    out = _GAP + radius

    def held(value: float, low: float, high: float) -> float:
        return min(max(value, low + radius), max(high - radius, low + radius))

    ys = [held(middle[1] + by, top, bottom) for by in (0.0, -20.0, 20.0, -40.0, 40.0)]
    xs = [held(middle[0] + by, left, right) for by in (0.0, -20.0, 20.0, -40.0, 40.0)]
    beside = [(x, y) for x in (right + out, left - out) for y in ys]
    under = [(x, y) for y in (bottom + out, top - out) for x in xs]
    # Never now here, now there: the picture would become smaller at each trial to fit it in.
    places = beside if room > _WIDE_ROOM else under
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
