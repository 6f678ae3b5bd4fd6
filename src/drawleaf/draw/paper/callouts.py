"""Item numbers beside what they name, inside or outside a view: the circle stands in clear paper, its leader ends on the part."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, pi, sin

from drawleaf.draw.paper.balloons import Tag
from drawleaf.draw.paper.lettering import label, place_centered, run_box
from drawleaf.draw.paper.placement import Rect, Taken, around, crosses, grown, lines_cross
from drawleaf.draw.paper.style import BALLOON, BALLOON_RADIUS, INK, LEADER, WHITE
from drawleaf.draw.paper.svg import Circle, Pt, Sketch

_DISTANCES = (6.5, 8.5, 11.0, 14.0, 18.0, 23.0, 29.0, 36.0, 44.0)
_TURNS = 16


def place_callouts(sketch: Sketch, taken: Taken, tags: Sequence[Tag], bounds: Rect) -> list[tuple[Pt, Pt]]:
    """A numbered circle for each tag in the nearest clear place; leaders neither cross one another nor run under text. Returns the leaders."""
    leaders: list[tuple[Pt, Pt]] = []
    texts = [grown(run_box(run), 0.4) for run in sketch.texts]
    size = 2 * BALLOON_RADIUS + 0.8
    for tag in tags:
        center = _clear_place(taken, texts, leaders, tag.dot, bounds, size)
        if center is None:
            continue
        taken.boxes.append(around(center, size, size))
        rim = _rim(center, tag.dot)
        leaders.append((rim, tag.dot))
        taken.lines.append((rim, tag.dot))
        texts.append(around(center, size, size))
        sketch.line(LEADER, rim, tag.dot)
        sketch.cover(INK, Circle(tag.dot, 0.5), name="dot")
        sketch.cover(WHITE, Circle(center, BALLOON_RADIUS), name="balloon-ground")
        sketch.shape(BALLOON, Circle(center, BALLOON_RADIUS))
        place_centered(sketch, label(tag.text, weight=600), center)
    return leaders


def _clear_place(
    taken: Taken, texts: Sequence[Rect], leaders: Sequence[tuple[Pt, Pt]], dot: Pt, bounds: Rect, size: float
) -> Pt | None:
    for far in _DISTANCES:
        for turn in range(_TURNS):
            angle = 2 * pi * (turn + 2) / _TURNS
            center = (dot[0] + far * cos(angle), dot[1] - far * sin(angle))
            box = around(center, size, size)
            if not taken.free(box, bounds):
                continue
            leader = (_rim(center, dot), dot)
            if any(crosses(leader, grown(text, 0.2)) for text in texts):
                continue
            if any(lines_cross(leader, other) for other in leaders):
                continue
            return center
    return None


def _rim(center: Pt, dot: Pt) -> Pt:
    far = ((dot[0] - center[0]) ** 2 + (dot[1] - center[1]) ** 2) ** 0.5 or 1.0
    return (
        center[0] + (dot[0] - center[0]) / far * BALLOON_RADIUS,
        center[1] + (dot[1] - center[1]) / far * BALLOON_RADIUS,
    )
