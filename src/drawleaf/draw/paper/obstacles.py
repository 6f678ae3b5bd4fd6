"""What is drawn already, for whatever is placed next to keep clear of."""

from __future__ import annotations

from itertools import pairwise

from drawleaf.draw.paper.lettering import run_box
from drawleaf.draw.paper.placement import Taken, grown
from drawleaf.draw.paper.style import HATCH
from drawleaf.draw.paper.svg import Poly, Sketch


def obstacles(sketch: Sketch) -> Taken:
    """All lines and texts drawn so far."""
    taken = Taken([grown(run_box(run), 0.5) for run in sketch.texts])
    for style, shapes in sketch.strokes.items():
        for shape in shapes:
            if isinstance(shape, Poly) and style is not HATCH:
                taken.lines += pairwise((*shape.points, shape.points[0]) if shape.closed else shape.points)
    return taken
