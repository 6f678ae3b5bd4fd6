"""Exact coordinates behind measured ones: what is read off a projected view is printed as the plan has it."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.draw.sight.view import View
from drawleaf.model.place import Axis
from drawleaf.model.plan import BoxCut, Plan
from drawleaf.units import Length

_NEAR = 0.02


def paper_axis(view: View, row: int) -> Axis:
    """The axis of the piece that runs across (0) or up (1) an orthographic view."""
    return max(Axis, key=lambda axis: abs(view.axes[row][axis.index]))


def exact_places(plan: Plan, view: View, row: int) -> list[Length]:
    """All coordinates of faces and cuts along a direction of the paper, rising; turned where the axis runs backwards."""
    axis = paper_axis(view, row)
    sign = 1 if view.axes[row][axis.index] > 0 else -1
    places: set[Length] = set()
    for part in plan.parts:
        boxes = [part.seen, part.body, *(f.box for f in part.features if isinstance(f, BoxCut))]
        places.update(end for box in boxes for end in (box.span(axis).low, box.span(axis).high))
    return sorted(place * sign for place in places)


def snapped(exact: Sequence[Length], value: float) -> Length | None:
    """The exact coordinate at a measured one; None where nothing lies there (a rounded edge, say)."""
    near = min(exact, key=lambda length: abs(length.mm - value))
    return near if abs(near.mm - value) < _NEAR else None
