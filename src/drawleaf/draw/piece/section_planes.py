"""Where to cut the piece so that the sections show most: the planes that run through most joints and miss the rows of holes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from drawleaf.model.place import Axis, Span
from drawleaf.model.plan import Bore, BoxCut, Plan

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]

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
        along = _Along.of(plan, axis)
        best = max(_candidates(plan, axis), key=lambda at: (along.merit(at), -at), default=None)
        lines = along.lines_cut(best) if best is not None else {}
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


@dataclass(frozen=True, slots=True)
class _Along:
    """What a plane across an axis may cut, as numbers in mm: (J, 2) from where to where the joints reach that it could cut, whose source
    ``lines`` are told and whether each is let in; (P, 2) the parts; (B, 2) the holes across it with some room, and which part each is in."""

    joints: Floats
    lines: tuple[str, ...]
    deep: Flags
    parts: Floats
    holes: Floats
    bored: Ints

    @staticmethod
    def of(plan: Plan, axis: Axis) -> _Along:
        joints = [joint for joint in plan.joints if joint.face.axis is not axis]
        bores = [
            (place, bore)
            for place, part in enumerate(plan.parts)
            for bore in part.features
            if isinstance(bore, Bore) and abs(bore.direction[axis.index]) < 0.9
        ]
        rooms = [(bore.start.along(axis).mm, bore.diameter.mm / 2 + 0.5) for _, bore in bores]
        return _Along(
            _spans([joint.contact.span(axis) for joint in joints]),
            tuple(joint.line for joint in joints),
            np.array([joint.depth.mm > 0 for joint in joints], dtype=bool),
            _spans([part.body.span(axis) for part in plan.parts]),
            np.array([(at - room, at + room) for at, room in rooms]).reshape(-1, 2),
            np.array([place for place, _ in bores], dtype=np.int64),
        )

    def merit(self, at: float) -> float:
        """What a plane there shows: joints, those let in most; parts; and against it the parts through whose holes it runs."""
        value = sum(2.5 if deep else 1.0 for deep in self.lines_cut(at).values())
        value += 0.15 * int(_cut(self.parts, at).sum())
        value -= 1.2 * len(np.unique(self.bored[_cut(self.holes, at)]))
        return round(value, 3)

    def lines_cut(self, at: float) -> dict[str, bool]:
        """The joints (by the source line that made them) whose touching faces the plane crosses; true for those let in."""
        lines: dict[str, bool] = {}
        inside = (self.joints[:, 0] < at - 0.5) & (at + 0.5 < self.joints[:, 1])
        for place in np.flatnonzero(inside).tolist():
            lines[self.lines[place]] = lines.get(self.lines[place], False) or bool(self.deep[place])
        return lines


def _spans(spans: Sequence[Span]) -> Floats:
    return np.array([(span.low.mm, span.high.mm) for span in spans]).reshape(-1, 2)


def _cut(spans: Floats, at: float) -> Flags:
    return np.asarray((spans[:, 0] < at) & (at < spans[:, 1]), dtype=bool)
