"""What could not be read in a sketch: words upon one another, words struck through by a dimension line or a leader."""

from __future__ import annotations

from itertools import combinations, pairwise

from drawleaf.draw.paper.lettering import cap_height, text_width
from drawleaf.draw.paper.placement import Rect, crosses, overlap
from drawleaf.draw.paper.style import DIMENSION, LEADER
from drawleaf.draw.paper.svg import Poly, Pt, Sketch, TextRun, turned

_HAIR = 0.03
"""Millimetres by which two boxes may touch."""


def clashes(sketch: Sketch) -> int:
    """How many pairs of words overlap, and how often a line crosses one. A label's own lines of words are not counted."""
    boxes = [(run.label, _capitals(run)) for run in sketch.texts]
    found = sum(one != other and overlap(a, b) for (one, a), (other, b) in combinations(boxes, 2))
    lines = [
        way
        for style in (DIMENSION, LEADER)
        for shape in sketch.strokes.get(style, ())
        if isinstance(shape, Poly)
        for way in pairwise(shape.points)
    ]
    return found + sum(_near(way, box) and crosses(way, box) for way in lines for _, box in boxes)


def _near(way: tuple[Pt, Pt], box: Rect) -> bool:
    """Whether the box around the line meets the other one: a quick first look."""
    (x0, y0), (x1, y1) = way
    return min(x0, x1) < box[2] and max(x0, x1) > box[0] and min(y0, y1) < box[3] and max(y0, y1) > box[1]


def _capitals(run: TextRun) -> Rect:
    """The upright box round a run from its baseline to the height of its capitals."""
    width, cap = text_width(run.text, run.size, run.weight), cap_height(run.size)
    start = {"start": 0.0, "middle": -width / 2, "end": -width}[run.anchor]
    corners = [
        turned((run.at[0] + x, run.at[1] + y), run.at, run.turn) for x in (start, start + width) for y in (-cap, 0.0)
    ]
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return (min(xs) + _HAIR, min(ys) + _HAIR, max(xs) - _HAIR, max(ys) - _HAIR)
