"""Which parts a drawing shows where: written down beside the sketch while it is made, for whoever points at a place on paper.

The SVG itself is no larger for it. The preview finds the part that is seen at a place by looking along the same line of sight
(``preview/pointing.py``).
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping

from drawleaf.draw.paper.placement import Rect
from drawleaf.draw.paper.svg import Sketch
from drawleaf.draw.picture.picture import Window
from drawleaf.draw.sight.linework import Linework
from drawleaf.draw.sight.view import Vector
from drawleaf.model.drawings import Pane, Sight


def show(
    sketch: Sketch,
    work: Linework,
    window: Window,
    offsets: Mapping[str, Vector] | None = None,
    *,
    nearest: float | None = None,
    within: tuple[float, float, float, float] | None = None,
    but: Container[str] = (),
) -> None:
    """A projected scene is drawn here. ``offsets`` are those that it was projected with; ``nearest`` is the depth of a section's plane;
    ``within`` what is drawn of the view's plane, where that is not all; ``but`` are bodies that are no part of the piece."""
    right, up, toward = ((float(x), float(y), float(z)) for x, y, z in work.view.axes)
    known = dict(offsets or {})
    shown = tuple(one for one in work.shown if one not in but)
    moved = tuple((one, known[one]) for one in shown if any(known.get(one, ())))
    sight = Sight((right, up, toward), window.factor, window.origin, moved, nearest)
    sketch.panes.append(Pane(window.box(within or work.bounds), shown, sight))


def show_alone(sketch: Sketch, part: str, box: Rect) -> None:
    """A part has this stretch of the paper to itself."""
    sketch.panes.append(Pane(box, (part,)))


def clipped(panes: Iterable[Pane], middle: tuple[float, float], radius: float) -> list[Pane]:
    """So much of them as lies within a circle, or the square about it."""
    x, y = middle
    found: list[Pane] = []
    for pane in panes:
        left, top = max(pane.box[0], x - radius), max(pane.box[1], y - radius)
        right, bottom = min(pane.box[2], x + radius), min(pane.box[3], y + radius)
        if left < right and top < bottom:
            found.append(Pane((left, top, right, bottom), pane.shown, pane.sight))
    return found
