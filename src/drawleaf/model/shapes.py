"""Shapes that are no boxes: outlines of lines and arcs, cuts along a plane, sections of mouldings and rounds, parts that lean.

All of it is written in the part's own upright frame, that of its boxes; a part that leans is turned as a whole, last of all.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from math import cos, radians, sin, sqrt, tan

from drawleaf.model.place import Axis, Box, Face, Point, Span
from drawleaf.model.position import Position
from drawleaf.units import Length

Vector = tuple[float, float, float]
Matrix = tuple[Vector, Vector, Vector]


@dataclass(frozen=True, slots=True)
class Corner:
    """A corner of an outline. The stretch to the next corner is straight, or an arc that turns by so many degrees (``turn``; positive
    to the left as one goes from ``u`` towards ``v``). Less than 360 either way."""

    u: Length
    v: Length
    turn: float = 0.0


@dataclass(frozen=True, slots=True)
class Outline:
    """A closed outline across ``axis``: ``u`` and ``v`` of its corners are coordinates on the two other axes, in the order x, y, z."""

    axis: Axis
    corners: tuple[Corner, ...]

    @property
    def bounds(self) -> tuple[Span, Span]:
        """From where to where its corners reach along u and v. Arcs may bulge beyond."""
        us, vs = [corner.u for corner in self.corners], [corner.v for corner in self.corners]
        return Span(min(us), max(us)), Span(min(vs), max(vs))

    def span(self, axis: Axis) -> Span:
        """From where to where its corners reach along one of the two axes it lies across. Raises ValueError for its own axis."""
        return self.bounds[self.axis.others().index(axis)]

    def points(self, axis: Axis) -> list[tuple[Length, Length]]:
        """Its corners in order, each by its place along ``axis`` and then along the other of the two."""
        first = self.axis.others()[0] is axis
        return [(one.u, one.v) if first else (one.v, one.u) for one in self.corners]

    def moved(self, by: Point) -> Outline:
        """The outline shifted; what shifts along its own axis changes nothing."""
        return replace(self, corners=_corners_moved(self.corners, self.axis, by))

    def mirrored(self, flip: Axis, about: Length) -> Outline:
        """The mirror image across the plane where the coordinate ``flip`` is ``about``. It goes round the other way, so that it stays closed the same way."""
        if flip is self.axis:
            return self
        first = flip is self.axis.others()[0]
        flipped = [
            replace(one, u=about * 2 - one.u) if first else replace(one, v=about * 2 - one.v) for one in self.corners
        ]
        # Backwards: the stretch that followed a corner now leads to it. Mirrored and run backwards, an arc turns the same way.
        backwards = flipped[::-1]
        turns = [one.turn for one in backwards[1:]] + [backwards[0].turn]
        return replace(self, corners=tuple(replace(one, turn=turn) for one, turn in zip(backwards, turns, strict=True)))


@dataclass(frozen=True, slots=True)
class Course:
    """A stretch of an outline across ``axis`` that an edge profile follows, with the wood on the left as one goes from corner to corner.

    A closed one goes on from the last corner to the first; of an open one the ``turn`` of the last corner means nothing. ``run_on`` is how
    many millimetres the cutter runs straight on before the first and after the last corner of an open one.
    """

    axis: Axis
    corners: tuple[Corner, ...]
    closed: bool
    run_on: tuple[float, float] = (0.0, 0.0)

    def moved(self, by: Point) -> Course:
        """The course of a part at another place."""
        return replace(self, corners=_corners_moved(self.corners, self.axis, by))


@dataclass(frozen=True, slots=True)
class OutlineCut:
    """What is sawn or routed along an outline.

    ``span`` is how far it reaches along the outline's axis; a cutter overshoots at ``open`` faces. ``keep`` true: the wood outside the
    outline goes (a curved rail, a hand-shaped side); false: the wood inside it goes (an opening, a pocket, a dovetail's socket).
    ``into`` is the face it is cut from. ``after_assembly``: cut in the standing piece, not in the loose part.
    """

    kind: str
    into: Face
    outline: Outline
    span: Span
    open: tuple[Face, ...]
    keep: bool
    joint: str | None
    position: Position
    after_assembly: bool = False

    def moved(self, by: Point) -> OutlineCut:
        """The same cut at another place."""
        return replace(self, outline=self.outline.moved(by), span=self.span.shifted(by.along(self.outline.axis)))


@dataclass(frozen=True, slots=True)
class PlaneCut:
    """A straight saw cut right through: the wood beyond the plane goes.

    ``point`` lies on the plane, ``normal`` is its unit vector towards the waste. ``face`` is the face of the blank that the cut replaces
    (the end of a mitred board, the edge of a taper).
    """

    kind: str
    face: Face
    point: Point
    normal: Vector
    joint: str | None
    position: Position

    def moved(self, by: Point) -> PlaneCut:
        """The same cut at another place."""
        return replace(self, point=self.point.shifted(by))


@dataclass(frozen=True, slots=True)
class Section:
    """The cross section of a moulding or a round, which runs the length of the part: ``outline.axis`` is the run."""

    name: str
    outline: Outline
    round: bool = False

    def moved(self, by: Point) -> Section:
        """The section of a part at another place."""
        return replace(self, outline=self.outline.moved(by))


def show_face(section: Section, thickness: Axis) -> Face:
    """The side to which a moulding shows its profile: away from its flat back, which is its longest straight side across the thickness."""
    u_axis, _ = section.outline.axis.others()
    reach: dict[Length, Length] = {}
    corners = section.outline.corners
    for one, other in zip(corners, (*corners[1:], corners[0]), strict=True):
        places = ((one.u, other.u), (one.v, other.v)) if thickness is u_axis else ((one.v, other.v), (one.u, other.u))
        (at, to), (low, high) = places
        if at == to and not one.turn:
            reach[at] = reach.get(at, low - low) + abs(high - low)
    u, v = section.outline.bounds
    span = u if thickness is u_axis else v
    at_low, at_high = (reach.get(end, span.low - span.low) for end in (span.low, span.high))
    return thickness.high if at_low >= at_high else thickness.low


@dataclass(frozen=True, slots=True)
class Tilt:
    """How a part leans. It is made and dimensioned upright, then turned about the point ``about``.

    ``lean``: degrees by which its top leans to a side, as seen square-on from the front or the side (the trade's splay); both may be
    given, and then it leans both ways at once. ``turn``: degrees that it is first turned about the upright, anticlockwise from above.
    """

    about: Point
    lean: tuple[tuple[Face, Fraction], ...]
    turn: Fraction = Fraction(0)

    @property
    def matrix(self) -> Matrix:
        """Rows of the rotation: a point p of the upright part stands at ``about + matrix (p - about)``.

        The part's upright goes to the direction d = (tan a, tan b, 1) over its length, by the shortest turn (Rodrigues' formula
        for the rotation of one unit vector onto another).
        """
        slope = {Axis.X: 0.0, Axis.Y: 0.0}
        for face, degrees in self.lean:
            slope[face.axis] += face.side * tan(radians(degrees))
        length = sqrt(slope[Axis.X] ** 2 + slope[Axis.Y] ** 2 + 1.0)
        x, y, z = slope[Axis.X] / length, slope[Axis.Y] / length, 1.0 / length
        k = 1.0 / (1.0 + z)
        lean = ((1.0 - k * x * x, -k * x * y, x), (-k * x * y, 1.0 - k * y * y, y), (-x, -y, z))
        if not self.turn:
            return lean
        c, s = cos(radians(self.turn)), sin(radians(self.turn))
        about_z = ((c, -s, 0.0), (s, c, 0.0), (0.0, 0.0, 1.0))
        return _product(lean, about_z)

    def out(self, point: Vector) -> Vector:
        """A point of the upright part (mm), where it stands on the piece."""
        return _sum(self.about.mm, _times(self.matrix, _difference(point, self.about.mm)))

    def back(self, point: Vector) -> Vector:
        """A point of the standing piece (mm) in the upright part's frame."""
        return _sum(self.about.mm, _times(_transposed(self.matrix), _difference(point, self.about.mm)))

    def out_direction(self, direction: Vector) -> Vector:
        """A direction of the upright part, as it points on the piece."""
        return _times(self.matrix, direction)

    def back_direction(self, direction: Vector) -> Vector:
        """A direction on the piece in the upright part's frame."""
        return _times(_transposed(self.matrix), direction)

    def bounds(self, box: Box) -> tuple[Vector, Vector]:
        """The low and high corner (mm) of the axis-aligned box around a leaning box."""
        corners = [self.out(corner) for corner in box.corners]
        low = tuple(min(corner[i] for corner in corners) for i in range(3))
        high = tuple(max(corner[i] for corner in corners) for i in range(3))
        return (low[0], low[1], low[2]), (high[0], high[1], high[2])

    def mirrored(self, flip: Axis, about: Length) -> Tilt:
        """How the twin across a plane leans."""
        lean = tuple((face.opposite if face.axis is flip else face, degrees) for face, degrees in self.lean)
        to = about * 2 - self.about.along(flip)
        return Tilt(self.about.moved(flip, to), lean, self.turn if flip is Axis.Z else -self.turn)

    def moved(self, by: Point) -> Tilt:
        """The same lean at another place."""
        return replace(self, about=self.about.shifted(by))


def _corners_moved(corners: tuple[Corner, ...], axis: Axis, by: Point) -> tuple[Corner, ...]:
    du, dv = (by.along(other) for other in axis.others())
    return tuple(replace(one, u=one.u + du, v=one.v + dv) for one in corners)


def _sum(a: Vector, b: Vector) -> Vector:
    return (a[0] + b[0], a[1] + b[1], a[2] + b[2])


def _difference(a: Vector, b: Vector) -> Vector:
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def _times(m: Matrix, v: Vector) -> Vector:
    x, y, z = (row[0] * v[0] + row[1] * v[1] + row[2] * v[2] for row in m)
    return (x, y, z)


def _transposed(m: Matrix) -> Matrix:
    a, b, c = ((m[0][i], m[1][i], m[2][i]) for i in range(3))
    return (a, b, c)


def _product(a: Matrix, b: Matrix) -> Matrix:
    columns = [_times(a, column) for column in _transposed(b)]
    return _transposed((columns[0], columns[1], columns[2]))
