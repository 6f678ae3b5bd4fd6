"""How parts meet of which one leans: the end of the one is cut to lie flat against the face of the other.

Planes are found in floats: angles have no exact lengths. The blank of a part whose end is cut so is as long as its longest edge, rounded up
to a thousandth of a millimetre.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil, hypot

import numpy as np
from numpy.typing import NDArray
from shapely import Polygon

from drawleaf.model.place import Axis, Box, Face, Point, Span
from drawleaf.model.plan import Part
from drawleaf.model.position import Position
from drawleaf.model.shapes import PlaneCut, Tilt, Vector
from drawleaf.units import Length

Floats = NDArray[np.float64]

FACING = 0.5
"""The least cosine between an end's direction and the face that it meets: up to 60 degrees from square."""

NEAR = 80.0
"""Millimetres that an end may be short of the face, or reach into it, before it is cut to it."""

FLUSH = 0.01
"""Millimetres within which an end already lies on the face: it is not cut again."""

FINEST = Fraction(1, 1000)
_STRAIGHT = Tilt(Point(*(Length.of_mm(0),) * 3), ())


@dataclass(frozen=True, slots=True)
class Leaning:
    """A meeting of which one part leans. ``normal`` points from the insert into the receiver, ``middle`` is the middle of where they touch,
    ``along`` the direction in which that patch is longest, ``length`` how long it is there (mm), ``area`` its square millimetres.

    ``axis`` is the direction in which the insert runs into the receiver. ``own_face`` is the insert's end in its own frame; ``trim`` the cut that makes it fit and ``blank`` the body it is cut from, None where
    it fits as it is. ``through`` is the receiver's thickness along the normal (mm). ``face`` is the receiver's face in its own frame and
    ``end`` where the insert's four edges meet it, in that frame too: the outline of a housing.
    """

    normal: Vector
    middle: Vector
    along: Vector
    length: float
    area: float
    through: float
    own_face: Face
    trim: PlaneCut | None
    blank: Box | None
    face: Face
    end: tuple[Vector, ...]
    axis: Vector
    hit: Vector
    """Where the insert's own middle line meets the receiver's face."""

    @property
    def square(self) -> bool:
        """Whether the insert meets the face square-on, turned within it."""
        return self.trim is None


def leaning_meeting(
    insert: Part, receiver: Part, position: Position, *, square_end: bool = False
) -> tuple[Face, Box, Leaning] | None:
    """The face of the piece that the insert's end looks to, the patch in which they touch (as a box of no thickness there), and the rest;
    None where no end of the insert comes near a face of the receiver. With ``square_end`` its end is not cut to lie flat: it reaches to the
    face along its middle line, square as it is, to be let into a hole from there."""
    best: tuple[float, Face, Face] | None = None
    for own in Face:
        for face in Face:
            gap = _gap(insert, own, receiver, face)
            if gap is not None and (best is None or abs(gap) < best[0]):
                best = (abs(gap), own, face)
    if best is None:
        return None
    gap, own, face = best
    frame, other = insert.tilt or _STRAIGHT, receiver.tilt or _STRAIGHT
    normal = np.array(other.out_direction(face.normal))
    on_face = np.array(other.out(_middle(receiver.seen, face)))
    quad = _end(insert, own, frame, normal, float(normal @ on_face))
    patch = _within(quad, receiver, face, other)
    if patch is None:
        return None
    corners, area, middle = patch
    long_way, length = _longest(corners)
    into = -normal
    trim, blank = None, None
    way = np.array(frame.out_direction(own.normal))
    hit = np.array(frame.out(_middle(insert.seen, own)))
    hit = hit + way * float((on_face - hit) @ normal) / float(way @ normal)
    if square_end:
        blank = _reaching(insert, own, frame, hit)
    elif gap > FLUSH or _cut_square(insert, own, frame, normal):
        trim, blank = _trim(insert, own, frame, normal, on_face, quad, position)
    axis = max(Axis, key=lambda one: abs(into[one.index]))
    world = Face.of(axis, 1 if into[axis.index] > 0 else -1)
    leaning = Leaning(
        _triple(into),
        _triple(middle),
        _triple(long_way),
        length,
        area,
        receiver.body.extent(face.axis).mm,
        own,
        trim,
        blank,
        face,
        tuple(other.back(_triple(corner)) for corner in quad),
        _triple(way),
        _triple(hit),
    )
    return world, _flat_box(corners, middle, axis), leaning


def _gap(insert: Part, own: Face, receiver: Part, face: Face) -> float | None:
    """How far the middle of the insert's end is from the receiver's face, along the insert; None where they do not look at each other,
    or the end would pass by."""
    frame, other = insert.tilt or _STRAIGHT, receiver.tilt or _STRAIGHT
    way = np.array(frame.out_direction(own.normal))
    normal = np.array(other.out_direction(face.normal))
    facing = -float(way @ normal)
    if facing < FACING:
        return None
    start = np.array(frame.out(_middle(insert.seen, own)))
    cut = next((f for f in insert.features if isinstance(f, PlaneCut) and f.face is own), None)
    if cut is not None:
        cut_normal = np.array(frame.out_direction(cut.normal))
        if float(cut_normal @ -normal) < 1.0 - 1e-9:
            return None
        start = np.array(frame.out(cut.point.mm))
    gap = float((start - np.array(other.out(_middle(receiver.seen, face)))) @ normal) / facing
    if abs(gap) > NEAR:
        return None
    hit = np.array(frame.out(_middle(insert.seen, own))) + way * gap
    local = np.array(other.back(_triple(hit)))
    for axis in face.axis.others():
        span = receiver.seen.span(axis)
        if not span.low.mm - 1.0 <= local[axis.index] <= span.high.mm + 1.0:
            return None
    return gap


def _middle(box: Box, face: Face) -> Vector:
    return box.center.moved(face.axis, box.face(face)).mm


def _end(insert: Part, own: Face, frame: Tilt, normal: Floats, offset: float) -> Floats:
    """(4, 3): where the four edges of the insert that run to that end meet the plane."""
    way = np.array(frame.out_direction(own.normal))
    a, b = own.axis.others()
    found = []
    for u, v in ((-1, -1), (1, -1), (1, 1), (-1, 1)):
        corner = insert.seen.center.moved(a, insert.seen.span(a).end(u)).moved(b, insert.seen.span(b).end(v))
        start = np.array(frame.out(corner.mm))
        found.append(start + way * (offset - float(normal @ start)) / float(normal @ way))
    return np.array(found)


def _within(quad: Floats, receiver: Part, face: Face, other: Tilt) -> tuple[Floats, float, Floats] | None:
    """The patch of the end that lies on the receiver's face: its corners on the piece, its area and its middle."""
    a, b = (axis.index for axis in face.axis.others())
    local = np.array([other.back(_triple(corner)) for corner in quad])
    spans = [receiver.seen.span(axis) for axis in face.axis.others()]
    rectangle = Polygon([(spans[0].end(u).mm, spans[1].end(v).mm) for u, v in ((-1, -1), (1, -1), (1, 1), (-1, 1))])
    common = Polygon(local[:, [a, b]]).intersection(rectangle)
    if common.is_empty or common.area < 1.0 or not isinstance(common, Polygon):
        return None
    level = receiver.seen.face(face).mm

    def out(u: float, v: float) -> Floats:
        point = [0.0, 0.0, 0.0]
        point[a], point[b], point[face.axis.index] = u, v, level
        return np.array(other.out((point[0], point[1], point[2])))

    corners = np.array([out(u, v) for u, v in list(common.exterior.coords)[:-1]])
    return corners, float(common.area), out(common.centroid.x, common.centroid.y)


def _longest(corners: Floats) -> tuple[Floats, float]:
    """The direction of the longest side of the patch, and how far the patch reaches along it."""
    sides = np.roll(corners, -1, axis=0) - corners
    lengths = np.linalg.norm(sides, axis=1)
    way = sides[int(np.argmax(lengths))] / lengths.max()
    reach = corners @ way
    return way, float(reach.max() - reach.min())


def _cut_square(insert: Part, own: Face, frame: Tilt, normal: Floats) -> bool:
    """Whether the end, square as it is, would not lie flat; an end that is cut already is as the author wants it."""
    if any(isinstance(feature, PlaneCut) and feature.face is own for feature in insert.features):
        return False
    return float(np.array(frame.out_direction(own.normal)) @ normal) > -1.0 + 1e-9


def _trim(
    insert: Part, own: Face, frame: Tilt, normal: Floats, on_face: Floats, quad: Floats, position: Position
) -> tuple[PlaneCut, Box]:
    reach = [frame.back(_triple(corner))[own.axis.index] * own.side for corner in quad]
    longest = max(reach)
    if insert.section is not None and insert.section.round:
        # Of a round part no corner reaches so far, but the highest place of its rim.
        longest = sum(reach) / 4 + hypot(reach[1] - reach[0], reach[3] - reach[0]) / 2
    end = Length.of_mm(ceil(Fraction(longest) / FINEST) * FINEST * own.side)
    point = Point(*(Length.of_mm(Fraction(value)) for value in frame.back(_triple(on_face))))
    cut = PlaneCut("angled end", own, point, frame.back_direction(_triple(-normal)), None, position)
    return cut, insert.body.with_face(own, end)


def _reaching(insert: Part, own: Face, frame: Tilt, hit: Floats) -> Box:
    """The insert's body, square at its end, as long as its middle line is to the face."""
    reach = Fraction(frame.back(_triple(hit))[own.axis.index]) / FINEST
    end = Length.of_mm(round(reach) * FINEST)
    return insert.body.with_face(own, end)


def trimmed(part: Part, leaning: Leaning) -> Part:
    """The part on the blank that its angled end is cut from."""
    return part if leaning.blank is None else replace(part, body=_both(part.body, leaning))


def deepened(part: Part, leaning: Leaning, depth: Length) -> Part:
    """The part longer by what is let into the other."""
    return replace(part, body=part.body.grown(leaning.own_face, depth))


def _both(body: Box, leaning: Leaning) -> Box:
    assert leaning.blank is not None
    return body.with_face(leaning.own_face, leaning.blank.face(leaning.own_face))


def _flat_box(corners: Floats, middle: Floats, axis: Axis) -> Box:
    spans = []
    for one in Axis:
        low, high = corners[:, one.index].min(), corners[:, one.index].max()
        if one is axis:
            low = high = middle[one.index]
        spans.append(Span(_length(float(low)), _length(float(high))))
    return Box(*spans)


def _length(mm: float) -> Length:
    return Length.of_mm(Fraction(mm).limit_denominator(1000))


def _triple(vector: Floats) -> Vector:
    x, y, z = vector
    return (float(x), float(y), float(z))
