"""Axes, faces, spans and boxes: where things are on the assembled piece.

The frame is the piece as it stands before you: x runs left to right, y front to back, z bottom to top.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import Enum

from drawleaf.units import Length


class Axis(Enum):
    """One of the three directions of the standing piece."""

    X = "x"
    Y = "y"
    Z = "z"

    index: int
    """0, 1 or 2: its place in a point."""

    def __init__(self, letter: str) -> None:
        self.index = "xyz".index(letter)

    @property
    def low(self) -> Face:
        return Face.of(self, -1)

    @property
    def high(self) -> Face:
        return Face.of(self, 1)

    def others(self) -> tuple[Axis, Axis]:
        return _OTHERS[self.index]


class Face(Enum):
    """One of the six sides of a part, named as seen on the assembled piece."""

    LEFT = "left"
    RIGHT = "right"
    FRONT = "front"
    BACK = "back"
    BOTTOM = "bottom"
    TOP = "top"

    @staticmethod
    def of(axis: Axis, side: int) -> Face:
        """The face at the low (-1) or high (+1) end of an axis."""
        return _FACES[axis][side > 0]

    @property
    def axis(self) -> Axis:
        return _AXIS_OF[self]

    @property
    def side(self) -> int:
        """-1 at the low end of its axis, +1 at the high end."""
        return 1 if self in (Face.RIGHT, Face.BACK, Face.TOP) else -1

    @property
    def opposite(self) -> Face:
        return Face.of(self.axis, -self.side)

    @property
    def normal(self) -> tuple[float, float, float]:
        """The outward unit vector."""
        vector = [0.0, 0.0, 0.0]
        vector[self.axis.index] = float(self.side)
        return (vector[0], vector[1], vector[2])


_OTHERS = ((Axis.Y, Axis.Z), (Axis.X, Axis.Z), (Axis.X, Axis.Y))
_FACES = {
    Axis.X: (Face.LEFT, Face.RIGHT),
    Axis.Y: (Face.FRONT, Face.BACK),
    Axis.Z: (Face.BOTTOM, Face.TOP),
}
_AXIS_OF = {face: axis for axis, faces in _FACES.items() for face in faces}


@dataclass(frozen=True, slots=True)
class Span:
    """From a low to a high coordinate on one axis."""

    low: Length
    high: Length

    @staticmethod
    def between(one: Length, other: Length) -> Span:
        """From the lower to the higher of two places."""
        return Span(min(one, other), max(one, other))

    @property
    def extent(self) -> Length:
        return self.high - self.low

    @property
    def middle(self) -> Length:
        return (self.low + self.high) / 2

    def end(self, side: int) -> Length:
        return self.high if side > 0 else self.low

    def overlap(self, other: Span) -> Span | None:
        """What both cover, or None where they at most touch."""
        low, high = max(self.low, other.low), min(self.high, other.high)
        return Span(low, high) if low < high else None

    def shifted(self, by: Length) -> Span:
        return Span(self.low + by, self.high + by)

    def mirrored(self, about: Length) -> Span:
        return Span(about * 2 - self.high, about * 2 - self.low)


@dataclass(frozen=True, slots=True)
class Point:
    """A place on the standing piece."""

    x: Length
    y: Length
    z: Length

    def along(self, axis: Axis) -> Length:
        return (self.x, self.y, self.z)[axis.index]

    def moved(self, axis: Axis, to: Length) -> Point:
        return replace(self, **{axis.value: to})

    def shifted(self, by: Point) -> Point:
        return Point(self.x + by.x, self.y + by.y, self.z + by.z)

    def __neg__(self) -> Point:
        return Point(-self.x, -self.y, -self.z)

    @property
    def mm(self) -> tuple[float, float, float]:
        return (self.x.mm, self.y.mm, self.z.mm)


@dataclass(frozen=True, slots=True)
class Box:
    """An axis-aligned block."""

    x: Span
    y: Span
    z: Span

    def span(self, axis: Axis) -> Span:
        return (self.x, self.y, self.z)[axis.index]

    def face(self, face: Face) -> Length:
        """The coordinate of a face on its own axis."""
        return self.span(face.axis).end(face.side)

    def extent(self, axis: Axis) -> Length:
        return self.span(axis).extent

    def with_span(self, axis: Axis, span: Span) -> Box:
        return replace(self, **{axis.value: span})

    def with_face(self, face: Face, at: Length) -> Box:
        """The box with one face at another place along its axis."""
        span = self.span(face.axis)
        return self.with_span(face.axis, Span(at, span.high) if face.side < 0 else Span(span.low, at))

    def grown(self, face: Face, by: Length) -> Box:
        """The box with one face moved outwards."""
        at = self.face(face)
        return self.with_face(face, at - by if face.side < 0 else at + by)

    def overlap(self, other: Box) -> Box | None:
        x, y, z = self.x.overlap(other.x), self.y.overlap(other.y), self.z.overlap(other.z)
        return Box(x, y, z) if x and y and z else None

    @property
    def low(self) -> Point:
        """The left front bottom corner."""
        return Point(self.x.low, self.y.low, self.z.low)

    @property
    def high(self) -> Point:
        """The right back top corner."""
        return Point(self.x.high, self.y.high, self.z.high)

    def shifted(self, by: Point) -> Box:
        return Box(self.x.shifted(by.x), self.y.shifted(by.y), self.z.shifted(by.z))

    def mirrored(self, axis: Axis, about: Length) -> Box:
        return self.with_span(axis, self.span(axis).mirrored(about))

    @property
    def center(self) -> Point:
        return Point(self.x.middle, self.y.middle, self.z.middle)

    @property
    def corners(self) -> Iterator[tuple[float, float, float]]:
        """The eight corners in millimetres."""
        for x in (self.x.low, self.x.high):
            for y in (self.y.low, self.y.high):
                for z in (self.z.low, self.z.high):
                    yield (x.mm, y.mm, z.mm)
