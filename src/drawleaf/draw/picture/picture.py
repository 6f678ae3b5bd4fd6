"""From a projected scene to paper: where the view stands, areas tinted by light, outlines and edges."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely
import shapely.ops
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from drawleaf.draw.paper.placement import Rect
from drawleaf.draw.paper.style import LineStyle, shade
from drawleaf.draw.paper.svg import Poly, Pt, Sketch
from drawleaf.draw.sight.linework import Linework, Polyline
from drawleaf.draw.sight.view import Vector, View

_LIGHT = (-0.42, -0.62, 0.92)
"""From the piece towards the light: over the viewer's left shoulder for a piece seen from the front."""
DEEP, GENTLE = 0.82, 0.9
"""How dark a face turned away from the light gets: in pictures of the piece, and in step drawings."""
_SMALL = 0.02
"""Square millimetres on paper below which an area is not worth drawing."""


@dataclass(frozen=True, slots=True)
class Window:
    """Where a view is on paper: paper mm a piece mm, and the paper place of the view's u = v = 0."""

    factor: float
    origin: Pt

    def at(self, u: float, v: float) -> Pt:
        """A point of the view's plane on paper."""
        return (self.origin[0] + u * self.factor, self.origin[1] - v * self.factor)

    def point(self, view: View, place: Vector) -> Pt:
        """A point of the piece on paper."""
        return self.at(*view.point(place))

    def box(self, bounds: tuple[float, float, float, float]) -> Rect:
        """The paper rectangle of (u low, v low, u high, v high)."""
        left, bottom = self.at(bounds[0], bounds[1])
        right, top = self.at(bounds[2], bounds[3])
        return (left, top, right, bottom)


def window_at(bounds: tuple[float, float, float, float], factor: float, left: float, top: float) -> Window:
    """A window whose view has its top left corner at a place on paper."""
    return Window(factor, (left - bounds[0] * factor, top + bounds[3] * factor))


def window_fitting(bounds: tuple[float, float, float, float], room: Rect, most: float = 1.0) -> Window:
    """A window that fills a rectangle with the view, in the middle, at most at the factor ``most``."""
    wide, high = max(bounds[2] - bounds[0], 1e-6), max(bounds[3] - bounds[1], 1e-6)
    factor = min((room[2] - room[0]) / wide, (room[3] - room[1]) / high, most)
    left = (room[0] + room[2] - wide * factor) / 2
    top = (room[1] + room[3] - high * factor) / 2
    return window_at(bounds, factor, left, top)


def rings(region: BaseGeometry, window: Window) -> list[Poly]:
    """The rings of an area on paper, outer and inner, the largest piece first; specks are left out."""
    return rings_of_all([region], window)[0]


def rings_of_all(regions: Sequence[BaseGeometry], window: Window) -> list[list[Poly]]:
    """``rings`` of many areas at once."""
    pieces, owner = shapely.get_parts(np.array(regions, dtype=object), return_index=True)
    sizes = shapely.area(pieces)
    kept = np.flatnonzero(
        (shapely.get_type_id(pieces) == shapely.GeometryType.POLYGON) & (sizes * window.factor**2 >= _SMALL)
    )
    pieces, owner, sizes = pieces[kept], owner[kept], sizes[kept]
    # Largest first within each area, in an order that never changes.
    order = np.lexsort((*np.round(shapely.bounds(pieces), 3).T[::-1], -np.round(sizes, 3), owner))
    outlines, piece = shapely.get_rings(pieces[order], return_index=True)
    outlines = shapely.simplify(outlines, 0.02 / window.factor)
    points, ring = shapely.get_coordinates(outlines, return_index=True)
    x, y = window.origin
    placed = list(
        zip((x + points[:, 0] * window.factor).tolist(), (y - points[:, 1] * window.factor).tolist(), strict=True)
    )
    found: list[list[Poly]] = [[] for _ in regions]
    first = np.searchsorted(ring, np.arange(len(outlines) + 1)).tolist()
    for number, area in enumerate(owner[order][piece].tolist()):
        corners = placed[first[number] : first[number + 1] - 1]
        if len(corners) > 2:
            found[area].append(Poly(tuple(corners), closed=True))
    return found


def polygons(region: BaseGeometry) -> list[shapely.Polygon]:
    """The polygons of an area, largest first, in an order that never changes."""
    found = [g for g in shapely.get_parts(region).tolist() if isinstance(g, shapely.Polygon) and not g.is_empty]
    return sorted(found, key=lambda g: (-round(g.area, 3), *(round(b, 3) for b in g.bounds)))


@lru_cache(maxsize=4096)
def light_on(normal: Vector, darkest: float = DEEP, light: Vector = _LIGHT) -> float:
    """How light a face looks, as a share: 1 full in the light, less turned away. ``light`` is where the light comes from."""
    size = sum(c * c for c in light) ** 0.5
    turned = sum(a * b for a, b in zip(normal, light, strict=True)) / size
    return darkest + (1.08 - darkest) * max(0.0, turned) / 0.79


def paint_faces(
    sketch: Sketch, work: Linework, window: Window, tint: dict[str, str], default: str, darkest: float = DEEP
) -> None:
    """Fills every visible face with its part's tint in the light of its direction."""
    if sketch.rough:
        sketch.fill(default, *_reach_of_faces(work, window), name="face")
        return
    by_color: dict[str, list[Poly]] = {}
    light = work.view.from_room(_LIGHT)
    areas = rings_of_all([face.region for face in work.shaded_faces], window)
    for face, area in zip(work.shaded_faces, areas, strict=True):
        color = shade(tint.get(face.part, default), min(1.12, light_on(face.normal, darkest, light)))
        by_color.setdefault(color, []).extend(area)
    for color in sorted(by_color):
        if by_color[color]:
            sketch.fill(color, *by_color[color], name="face")


def _reach_of_faces(work: Linework, window: Window) -> list[Poly]:
    """A line from corner to corner of the box about all faces that are worth drawing."""
    boxes, sizes = _boxes_of_faces(work)
    boxes = boxes[sizes * window.factor**2 >= _SMALL]
    if not len(boxes):
        return []
    low, high = boxes[:, :2].min(axis=0).tolist(), boxes[:, 2:].max(axis=0).tolist()
    return [Poly((window.at(*low), window.at(*high)))]


@lru_cache(maxsize=8)
def _boxes_of_faces(work: Linework) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Box and area of every piece of a face. Kept while a drawing is fitted into its frame."""
    pieces = shapely.get_parts(np.array([face.region for face in work.shaded_faces], dtype=object))
    return shapely.bounds(pieces).reshape(-1, 4), shapely.area(pieces)


def paint_flat(sketch: Sketch, work: Linework, window: Window, parts: Sequence[str], color: str, name: str) -> None:
    """Fills what can be seen of some parts with one colour."""
    region = work.region(parts)
    found = rings(region, window)
    if found:
        sketch.fill(color, *found, name=name)


def paint_outline(
    sketch: Sketch, work: Linework, window: Window, parts: Iterable[str], style: LineStyle, heal: float = 0.4
) -> None:
    """The outline of what can be seen of some parts together; gaps under ``heal`` mm of the piece are closed first."""
    if sketch.rough:
        return
    region = work.region(parts)
    healed = region.buffer(heal, join_style="mitre").buffer(-heal, join_style="mitre")
    for ring in rings(healed, window):
        sketch.shape(style, ring)


def paint_lines(
    sketch: Sketch, lines: Iterable[Polyline], window: Window, style: LineStyle, parts: frozenset[str] | None = None
) -> None:
    """Lines in one style; of some parts only, where ``parts`` are given."""
    (x, y), factor = window.origin, window.factor
    for line in lines:
        if parts is None or line.part in parts:
            if sketch.rough:
                u0, v0, u1, v1 = line.box
                sketch.shape(style, Poly(((x + u0 * factor, y - v0 * factor), (x + u1 * factor, y - v1 * factor))))
                continue
            points = tuple((x + u * factor, y - v * factor) for u, v in line.points.tolist())
            if len(points) > 1:
                sketch.shape(style, Poly(points))


def inner_point(region: BaseGeometry, avoid: BaseGeometry | None = None) -> tuple[float, float] | None:
    """A point well inside the largest piece of an area, off what it should ``avoid`` where possible; None for an empty area."""
    free = region.difference(avoid) if avoid is not None else region
    found = polygons(free) or polygons(region)
    if not found or found[0].area <= 0:
        return None
    largest = found[0]
    tolerance = max(0.5, (largest.area**0.5) / 25)
    point = shapely.ops.polylabel(largest, tolerance) if largest.area > 1 else largest.representative_point()
    return (point.x, point.y)
