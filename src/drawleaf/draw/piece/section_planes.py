"""Where to cut the piece so that the sections show most: the planes that run through most joints and miss the rows of holes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from drawleaf.model.place import Axis
from drawleaf.model.plan import Bore, BoxCut, Joint, Part, Plan

_LEAST_ROOM = 4.0
"""A plane stands in the middle between two faces at least so far apart (mm), so that it grazes none."""
_LEAST_JOINTS = 2


@dataclass(frozen=True, slots=True)
class Plane:
    """A cutting plane with its letter: ``A-A`` on the drawings."""

    letter: str
    axis: Axis
    at: float


def section_planes(plan: Plan) -> tuple[Plane, ...]:
    """One plane a direction, where one cuts at least two joints and shows what the others did not: across, lengthwise, level."""
    found: list[tuple[Axis, float]] = []
    shown: set[str] = set()
    for axis in (Axis.X, Axis.Y, Axis.Z):
        best = max(_candidates(plan, axis), key=lambda at: (_merit(plan, axis, at), -at), default=None)
        lines = _lines_cut(plan.joints, axis, best) if best is not None else {}
        if best is not None and len(lines) >= _LEAST_JOINTS and not set(lines) <= shown:
            found.append((axis, best))
            shown |= set(lines)
    return tuple(Plane("ABC"[i], axis, at) for i, (axis, at) in enumerate(found))


def _candidates(plan: Plan, axis: Axis) -> list[float]:
    places: set[float] = set()
    for part in plan.parts:
        boxes = [part.seen, part.body, *(f.box for f in part.features if isinstance(f, BoxCut))]
        places.update(end.mm for box in boxes for end in (box.span(axis).low, box.span(axis).high))
    ordered = sorted(places)
    gaps = [(a, b) for a, b in pairwise(ordered) if b - a >= _LEAST_ROOM]
    middles = [(a + b) / 2 for a, b in gaps]
    # Wide gaps are tried in several places: the middle may run through a row of holes.
    quarters = [a + (b - a) * q for a, b in gaps if b - a >= 8 * _LEAST_ROOM for q in (0.25, 0.75)]
    return sorted({round(at, 2) for at in (*middles, *quarters)})


def _merit(plan: Plan, axis: Axis, at: float) -> float:
    lines = _lines_cut(plan.joints, axis, at)
    value = sum(2.5 if deep else 1.0 for deep in lines.values())
    value += 0.15 * sum(part.body.span(axis).low.mm < at < part.body.span(axis).high.mm for part in plan.parts)
    value -= 1.2 * sum(_through_hole(part, axis, at) for part in plan.parts)
    return round(value, 3)


def _lines_cut(joints: Sequence[Joint], axis: Axis, at: float) -> dict[str, bool]:
    """The joints (by the source line that made them) whose touching faces the plane crosses; true for those let in."""
    lines: dict[str, bool] = {}
    for joint in joints:
        span = joint.contact.span(axis)
        if joint.face.axis is not axis and span.low.mm < at - 0.5 and at + 0.5 < span.high.mm:
            lines[joint.line] = lines.get(joint.line, False) or joint.depth.mm > 0
    return lines


def _through_hole(part: Part, axis: Axis, at: float) -> bool:
    """Whether the plane runs through a hole of the part, across the hole."""
    bores = (f for f in part.features if isinstance(f, Bore) and abs(f.direction[axis.index]) < 0.9)
    return any(abs(bore.start.along(axis).mm - at) < bore.diameter.mm / 2 + 0.5 for bore in bores)
