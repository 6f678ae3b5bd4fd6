"""Each shape once, wherever and however often it occurs in the piece: what is worked out of bodies alone serves all that are shaped alike.

A body at home has the low corner of its blank at the origin. It is made from exact lengths, so that it is the same whichever
equal part asked first.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import dataclass, field, replace
from typing import TypeVar

from drawleaf.model.plan import Feature, Fitting, Part
from drawleaf.model.position import Position
from drawleaf.solids.solid import Solid, Triple

_NOWHERE = Position("", 1, 1)
_ROUNDS = 3
"""A shape is dropped after so many rounds in which nothing asked for it."""
_Thing = TypeVar("_Thing", Part, Fitting)


@dataclass(frozen=True, eq=False, slots=True)
class AtHome:
    """A body at home, and where it is in the piece: its frame's origin in millimetres. ``solid`` is None for what is not drawn."""

    solid: Solid | None
    at: Triple


@dataclass(eq=False, slots=True)
class Homes:
    """The shapes met so far, with the round in which each was last asked for."""

    shapes: dict[Hashable, tuple[Solid | None, int]] = field(default_factory=dict)
    round: int = 0
    _known: dict[int, tuple[Part | Fitting, AtHome]] = field(default_factory=dict)

    def of(self, one: _Thing, make: Callable[[_Thing], Solid | None]) -> AtHome:
        """A part or fitting at home; ``make`` makes its solid where no equal one was met."""
        if id(one) not in self._known:
            self._known[id(one)] = one, self._found(one, make)
        return self._known[id(one)][1]

    def again(self) -> Homes:
        """For the next round."""
        lately = {shape: one for shape, one in self.shapes.items() if one[1] > self.round - _ROUNDS}
        return Homes(lately, self.round + 1)

    def _found(self, one: _Thing, make: Callable[[_Thing], Solid | None]) -> AtHome:
        if one.body is None:
            return AtHome(None, (0.0, 0.0, 0.0))
        home = one.moved(-one.body.low)
        shape = part_shape(home) if isinstance(home, Part) else fitting_shape(home)
        solid = self.shapes[shape][0] if shape in self.shapes else make(home)
        self.shapes[shape] = solid, self.round
        return AtHome(solid, one.body.low.mm)


def part_shape(part: Part) -> Hashable:
    """All that the solid of a part follows from, its place included."""
    return part.body, part.thickness, part.section, part.tilt, tuple(_cut(feature) for feature in part.features)


def _cut(feature: Feature) -> Feature:
    """The feature without what it is for and where it was written."""
    blank = {"position": _NOWHERE, "joint": None, "row": None}
    return replace(feature, **{name: value for name, value in blank.items() if hasattr(feature, name)})


def fitting_shape(fitting: Fitting) -> Hashable:
    """All that the solid of a bought item follows from, its place included."""
    item = fitting.item
    return fitting.body, fitting.at, fitting.face, item.id, item.kind, item.measures
