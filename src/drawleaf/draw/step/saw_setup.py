"""A moulding at the saw: seen along it, back to the fence and the right edge down; and from above, with the way the blade is swung."""

from __future__ import annotations

from math import cos, radians, sin

from drawleaf.draw.paper.frame import extent
from drawleaf.draw.paper.lettering import label, place
from drawleaf.draw.paper.placement import Rect
from drawleaf.draw.paper.style import ACCENT_TINT, CUT_LINE, MEASURE, NEW_EDGE, PALE, VISIBLE
from drawleaf.draw.paper.svg import Poly, Pt, Sketch, rectangle
from drawleaf.draw.sight.outline_areas import flat_points
from drawleaf.model.plan import Part, Plan
from drawleaf.model.settings import FittedMouldingSettings
from drawleaf.model.shapes import PlaneCut, show_face
from drawleaf.model.steps import Operation, Step
from drawleaf.setting_out.mouldings import down_edge, swings_right

_WIDE, _HIGH, _GAP, _SIDE = 46.0, 30.0, 8.0, 120.0
"""The figure's room; it stands beside a picture in a room wider than the last, else below it."""
_FENCE, _TABLE, _MOST = 3.0, 2.4, 20.0
"""How thick fence and table are drawn, and how high the moulding is at most."""


def at_saw(step: Step) -> Operation | None:
    """The first operation of the step that mitres a moulding that stands on its edge; None where none does."""
    return next(
        (op for op in step.operations if isinstance(op.settings, FittedMouldingSettings) and op.settings.stands), None
    )


def add_saw_setup(sketch: Sketch, plan: Plan, operation: Operation, room: float) -> None:
    """Both figures of an operation that ``at_saw`` found, beside the picture, or below it in a narrow room."""
    part_id, cut = operation.features[0]
    part = plan.part(part_id)
    left, top, right, _ = _place(extent(sketch), room)
    _along(sketch, part, (left + _FENCE, top + _HIGH))
    assert isinstance(cut, PlaneCut)
    assert isinstance(operation.settings, FittedMouldingSettings)
    angle = float(operation.settings.tilt or operation.settings.mitre)
    _from_above(
        sketch, (left + right) / 2 + 4.0, top + 4.0, angle, f"{cut.face.value} end", right=swings_right(part, cut.face)
    )


def _place(box: Rect, room: float) -> Rect:
    left, top, right, bottom = box
    if room > _SIDE:
        middle = (top + bottom) / 2
        return (right + _GAP, middle - _HIGH / 2, right + _GAP + _WIDE, middle + _HIGH / 2)
    middle = (left + right) / 2
    return (middle - _WIDE / 2, bottom + _GAP, middle + _WIDE / 2, bottom + _GAP + _HIGH)


def _along(sketch: Sketch, part: Part, foot: Pt) -> None:
    """The section on the table, its back against the fence at the left; ``foot`` is where both meet."""
    points = _standing(part)
    high, wide = max(up for _, up in points), max(out for out, _ in points)
    scale = min(_MOST / high, 14.0 / wide)
    x, y = foot
    ring = Poly(tuple((x + out * scale, y - up * scale) for out, up in points), closed=True)
    sketch.fill(ACCENT_TINT, ring)
    sketch.shape(NEW_EDGE, ring)
    fence = rectangle(x - _FENCE, y - high * scale - 3.0, x, y)
    table = rectangle(x - _FENCE, y, x + wide * scale + 5.0, y + _TABLE)
    for piece in (fence, table):
        sketch.fill(PALE, piece)
        sketch.shape(VISIBLE, piece)
    place(sketch, label("fence"), (x - _FENCE, y - high * scale - 4.4))
    place(sketch, label("table, this edge down"), (x - _FENCE, y + _TABLE + 4.6))


def _standing(part: Part) -> list[tuple[float, float]]:
    """The section's corners, out from the back and up from the edge that is down, in millimetres."""
    assert part.section is not None
    show, down = show_face(part.section, part.thickness), down_edge(part)
    first = part.section.outline.axis.others()[0]
    back, foot = part.body.face(show.opposite).mm, part.body.face(down).mm
    found = []
    for u, v in flat_points(part.section.outline).tolist():
        out, up = (u, v) if first is part.thickness else (v, u)
        found.append(((out - back) * show.side, (foot - up) * down.side))
    return found


def _from_above(sketch: Sketch, x: float, y: float, angle: float, end: str, *, right: bool) -> None:
    """The fence above, the moulding before it, and the blade across both, its handle nearest to the reader."""
    wide, deep = 24.0, 4.0
    fence = rectangle(x - wide / 2, y, x + wide / 2, y + _FENCE)
    piece = rectangle(x - wide / 2, y + _FENCE, x + wide / 2, y + _FENCE + deep)
    sketch.fill(PALE, fence)
    sketch.fill(ACCENT_TINT, piece)
    sketch.shape(VISIBLE, fence)
    sketch.shape(NEW_EDGE, piece)
    side = 1.0 if right else -1.0
    pivot = (x, y + _FENCE)
    reach = 15.0
    tip = (pivot[0] + side * sin(radians(angle)) * reach, pivot[1] + cos(radians(angle)) * reach)
    back = (pivot[0] - side * sin(radians(angle)) * 4.0, pivot[1] - cos(radians(angle)) * 4.0)
    sketch.line(CUT_LINE, back, tip)
    sketch.line(MEASURE, (tip[0] - 1.2, tip[1]), (tip[0] + 1.2, tip[1]))
    words = f"{end}: handle to the {'right' if right else 'left'}"
    place(sketch, label(words), (x - wide / 2, tip[1] + 5.4))
