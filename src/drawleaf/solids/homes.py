"""Each shape once, wherever and however often it stands in the piece: what is worked out of bodies alone serves all that are shaped alike.

A body at home has the low corner of its blank at the origin. It is made from exact lengths, so that it is the same whichever of its
likes asked for it first.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import dataclass, field, replace
from typing import Any

from drawleaf.model.place import Box, Point
from drawleaf.model.plan import Bore, BoxCut, EdgeProfile, Feature, Fitting, Part
from drawleaf.model.position import Position
from drawleaf.model.shapes import OutlineCut, PlaneCut
from drawleaf.solids.solid import Solid, Triple

HOMES = ("homes",)
"""Where the memo of a plan's solids keeps its ``Homes``."""
_NOWHERE = Position("", 1, 1)
_ROUNDS = 3
"""A shape that was not asked for in so many rounds is let go."""


@dataclass(frozen=True, eq=False, slots=True)
class AtHome:
    """A body at home, and where it stands in the piece: its frame's origin in millimetres. ``solid`` is None for what is not drawn."""

    solid: Solid | None
    at: Triple


@dataclass(eq=False, slots=True)
class Homes:
    """The shapes met so far, with the round in which each was last asked for."""

    shapes: dict[Hashable, tuple[Solid | None, int]] = field(default_factory=dict)
    round: int = 0
    _known: dict[int, tuple[Any, AtHome]] = field(default_factory=dict)

    def part(self, part: Part, make: Callable[[Part], Solid]) -> AtHome:
        """The part at home."""
        return self._of(part, part.body, make, _part_home, _part_shape)

    def fitting(self, fitting: Fitting, make: Callable[[Fitting], Solid | None]) -> AtHome:
        """The bought item at home."""
        if fitting.body is None:
            return AtHome(None, (0.0, 0.0, 0.0))
        return self._of(fitting, fitting.body, make, _fitting_home, _fitting_shape)

    def again(self) -> Homes:
        """For the next round."""
        lately = {shape: one for shape, one in self.shapes.items() if one[1] > self.round - _ROUNDS}
        return Homes(lately, self.round + 1)

    def _of(
        self,
        one: Any,
        body: Box,
        make: Callable[[Any], Solid | None],
        home: Callable[[Any, Point], Any],
        shape: Callable[[Any], Hashable],
    ) -> AtHome:
        known = self._known.get(id(one))
        if known is not None:
            return known[1]
        corner = Point(body.x.low, body.y.low, body.z.low)
        there = home(one, Point(-corner.x, -corner.y, -corner.z))
        key = shape(there)
        solid = self.shapes[key][0] if key in self.shapes else make(there)
        self.shapes[key] = solid, self.round
        found = AtHome(solid, corner.mm)
        self._known[id(one)] = one, found
        return found


def _part_home(part: Part, by: Point) -> Part:
    outline = part.section.outline.moved(by) if part.section else None
    return replace(
        part,
        body=part.body.shifted(by),
        features=tuple(_feature_moved(feature, by) for feature in part.features),
        section=replace(part.section, outline=outline) if part.section and outline else None,
        tilt=part.tilt.moved(by) if part.tilt else None,
    )


def _feature_moved(feature: Feature, by: Point) -> Feature:
    match feature:
        case BoxCut():
            return replace(feature, box=feature.box.shifted(by), joint=None, position=_NOWHERE)
        case Bore():
            return replace(feature, start=feature.start.shifted(by), row=None, position=_NOWHERE)
        case OutlineCut():
            outline, along = feature.outline.moved(by), by.along(feature.outline.axis)
            return replace(feature, outline=outline, span=feature.span.shifted(along), joint=None, position=_NOWHERE)
        case PlaneCut():
            return replace(feature, point=feature.point.shifted(by), joint=None, position=_NOWHERE)
        case EdgeProfile():
            return replace(feature, position=_NOWHERE)


def _part_shape(part: Part) -> Hashable:
    return part.body, part.thickness, part.section, part.tilt, part.features


def _fitting_home(fitting: Fitting, by: Point) -> Fitting:
    body = fitting.body.shifted(by) if fitting.body else None
    return replace(fitting, at=fitting.at.shifted(by), body=body)


def _fitting_shape(fitting: Fitting) -> Hashable:
    return fitting.body, fitting.at, fitting.face, fitting.item.id, fitting.item.kind, fitting.item.measures
