"""How a part lies on paper: which face looks at the reader, which of its sides is at the right and which is up; names of its sides."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drawleaf.draw.at_step.bored import SCREW_HOLE, SLOT
from drawleaf.draw.sight.view import Vector, View
from drawleaf.english import lower_first
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Bore, BoxCut, Part
from drawleaf.model.shapes import show_face
from drawleaf.units import Length


@dataclass(frozen=True, slots=True)
class Lay:
    """How a part lies in its face view: the face that looks at the reader, and the part's axes and faces on paper."""

    part: Part
    face: Face
    right: Face
    up: Face

    @property
    def view(self) -> View:
        return View(f"{self.face.value} face", self.face.normal, self.up.normal)

    @property
    def below(self) -> View:
        """The edge that is at the bottom of the face view, with the face upwards."""
        return View(f"{self.up.opposite.value} edge", self.up.opposite.normal, self.face.normal)

    @property
    def beside(self) -> View:
        """The end that is at the right of the face view."""
        return View(f"{self.right.value} end", self.right.normal, self.up.normal)

    def along(self, face: Face, place: Length) -> Length:
        """Distance of a coordinate from the edge opposite to ``face`` (left edge for ``right``, lower edge for ``up``)."""
        span = self.part.body.span(face.axis)
        return place - span.low if face.side > 0 else span.high - place

    def reach(self, face: Face) -> Length:
        return self.part.body.extent(face.axis)

    def span(self, face: Face, low: Length, high: Length) -> tuple[Length, Length]:
        """Two coordinates as distances from the reference edge, the nearer one first."""
        a, b = self.along(face, low), self.along(face, high)
        return (a, b) if a <= b else (b, a)


def lay_out(part: Part, center: Vector, worked: Sequence[Face] = ()) -> Lay:
    """The face with most work towards the reader (``worked`` are further faces that something is done on); the longer way across the
    paper; else as it stands in the piece."""
    face = _main_face(part, center, worked)
    up = Face.BACK if face.axis is Axis.Z else Face.TOP
    if face is Face.BOTTOM:
        up = Face.FRONT
    right = right_of(face, up)
    if part.body.extent(up.axis).mm > 1.15 * part.body.extent(right.axis).mm:
        right, up = up, right.opposite
    return Lay(part, face, right, up)


def _main_face(part: Part, center: Vector, worked: Sequence[Face]) -> Face:
    low, high = part.thickness.low, part.thickness.high
    if part.section is not None and not part.section.round:
        return show_face(part.section, part.thickness)
    work = dict.fromkeys((low, high), 0)
    for feature in part.features:
        face = feature.into if isinstance(feature, BoxCut) else feature.face if isinstance(feature, Bore) else None
        if face in work and feature.kind not in (SCREW_HOLE, SLOT):
            work[face] += 1
    if work[low] == work[high]:
        screws = [one.face for one in part.features if isinstance(one, Bore) and one.kind == SCREW_HOLE]
        worked = (*worked, *screws)
    if work[low] == work[high]:
        work = {face: worked.count(face) for face in work}
    if work[low] != work[high]:
        return max((low, high), key=lambda face: work[face])
    if part.thickness is Axis.X:
        return high if part.body.center.x.mm < center[0] else low
    return Face.FRONT if part.thickness is Axis.Y else Face.TOP


def right_of(face: Face, up: Face) -> Face:
    """The side that is at the right when ``face`` looks at the reader and ``up`` is up."""
    a, b = up.normal, face.normal
    cross = (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])
    axis = max(Axis, key=lambda axis: abs(cross[axis.index]))
    return Face.of(axis, 1 if cross[axis.index] > 0 else -1)


def face_name(part: Part, face: Face) -> str:
    """``front edge``, ``bottom end`` or ``inside face``: by what that side is of the part."""
    if face.axis is part.thickness:
        return f"{face.value} face"
    return f"{face.value} {'end' if face.axis is part.length_axis else 'edge'}"


def edge_name(part: Part, edge: tuple[Face, Face]) -> str:
    return f"{lower_first(edge[0].value)}-{edge[1].value}"
