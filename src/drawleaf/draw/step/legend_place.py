"""Where the legend of a step's drawing stands: in rows below it, or in a column in or beside one of its corners, where the picture becomes
larger that way."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import chain

import shapely
from shapely.geometry.base import BaseGeometry

from drawleaf.draw.paper.frame import Room, extent
from drawleaf.draw.paper.lettering import run_box
from drawleaf.draw.paper.placement import Rect, grown
from drawleaf.draw.paper.style import BALLOON, FASTENER, HIDDEN, LEADER, MOTION, NEW_BALLOON
from drawleaf.draw.paper.svg import Circle, Pt, Sketch
from drawleaf.draw.picture.picture import window_fitting
from drawleaf.draw.piece.exploded import on_paper
from drawleaf.draw.sight.linework import Linework
from drawleaf.draw.step.legend import Entry, column_size, rows_height
from drawleaf.draw.step.squaring import BELOW

_CLEAR = 2.5
"""Millimetres between a column and what is drawn."""
_AROUND = 18.0
"""What numbers take of the width and of the height, about (mm)."""
_GROWS = 1.2
"""By how much a drawing may still be enlarged on its page, about: one that leaves no width free cannot be."""
_STEP = 2.0
_MARKS = (BALLOON, NEW_BALLOON, LEADER, FASTENER, HIDDEN, MOTION)


def stands_beside(
    found: Sequence[Entry],
    work: Linework,
    bounds: tuple[float, float, float, float],
    room: Room,
    *,
    numbered: bool,
    figure: float,
    figure_high: float,
) -> bool:
    """Whether the picture becomes larger with the legend in a column. ``bounds`` are the picture's in the view's plane (mm of the piece);
    ``figure`` is the width (mm) of what stands beside it anyway, ``figure_high`` high (mm), with the column below it where the room allows."""
    if not found:
        return False
    wide, high = bounds[2] - bounds[0], bounds[3] - bounds[1]
    around = _AROUND if numbered else 2.0
    column = column_size(found)
    row = min(sum(column_size([one])[0] for one in found), room.width)

    def size(width: float, height: float) -> float:
        return min(max(width - around, 1.0) / wide, max(height - around, 1.0) / high)

    below = size(room.width - figure, room.height - rows_height(found, room.width))
    total_below = max(below * wide + around + figure, row)
    if figure and below_figure(found, room, figure_high):
        over = max(figure, column[0] + _CLEAR)
    else:
        about = size(room.width, room.height)
        window = window_fitting(bounds, (0.0, 0.0, wide * about, high * about), most=about)
        box = window.box(bounds)
        left, _ = corner(on_paper(work, window), box, column)
        over = figure + max(0.0, left + column[0] - box[2], box[0] - left)
    beside = size(room.width - over, room.height)
    total_beside = beside * wide + around + over
    return beside * min(_GROWS, room.width / total_beside) > 1.04 * below * min(_GROWS, room.width / total_below)


def below_figure(found: Sequence[Entry], room: Room, high: float) -> bool:
    """Whether the column fits below a figure so ``high`` (mm) that stands beside the picture."""
    return high + BELOW + column_size(found)[1] <= room.height - 2.0


def corner(drawn: BaseGeometry, box: Rect, column: tuple[float, float]) -> Pt:
    """The left upper corner of a column of that size which stands in a corner of the drawing's ``box``, as little beyond it as keeps clear
    of what is ``drawn``."""
    wide, high = column
    near = shapely.buffer(drawn, _CLEAR, quad_segs=2)
    shapely.prepare(near)
    left, top, right, bottom = box
    rows = (bottom - high, top)
    best: tuple[float, Pt] | None = None
    for y in rows:
        for side in (1, -1):
            for x, over in _slides(left, right, wide, side):
                if best is not None and over >= best[0] - 1e-9:
                    break
                if not near.intersects(shapely.box(x, y, x + wide, y + high)):
                    best = (over, (x, y))
                    break
    assert best is not None
    return best[1]


def _slides(left: float, right: float, wide: float, side: int) -> Iterator[tuple[float, float]]:
    """Left edges of a column that is slid outward from one side of the box, and how far it reaches beyond."""
    count = int((wide + 2 * _CLEAR) / _STEP) + 2
    for k in range(count):
        over = min(k * _STEP, wide + 2 * _CLEAR)
        yield (right - wide + over if side > 0 else left - over), over


def all_drawn(sketch: Sketch, picture: BaseGeometry) -> BaseGeometry:
    """The picture's area with all numbers, names, marks and arrows on the sketch."""
    boxes = [grown(run_box(run), 0.6) for run in sketch.texts]
    pieces: list[BaseGeometry] = [shapely.box(*box) for box in boxes]
    shapes = chain(
        chain.from_iterable(sketch.strokes.get(style, ()) for style in _MARKS),
        chain.from_iterable(fill.rings for fill in sketch.over),
    )
    for shape in shapes:
        if isinstance(shape, Circle):
            pieces.append(shapely.Point(shape.center).buffer(shape.radius, quad_segs=4))
        elif len(shape.points) > 1:
            pieces.append(shapely.LineString(shape.points))
    return shapely.union_all([picture, *pieces])


def in_corner(sketch: Sketch, picture: BaseGeometry, found: Sequence[Entry]) -> Pt:
    """Where the column of these signs stands in a drawing, by its left upper corner."""
    return corner(all_drawn(sketch, picture), extent(sketch), column_size(found))
