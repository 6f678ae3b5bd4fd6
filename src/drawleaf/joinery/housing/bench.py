"""How the bench sets out a housing: a channel at an angle, by two marks on the edges of the face."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import atan2, degrees, hypot

from drawleaf.model.place import Face
from drawleaf.model.plan import Part
from drawleaf.model.settings import HousingSettings
from drawleaf.model.shapes import OutlineCut
from drawleaf.units import Length

FINEST = 1000


@dataclass(frozen=True, slots=True)
class SetOut:
    """A housing as one sets it out on the face: its lower line from one mark to another, each by its distance from a side edge (``edge``)
    and from the bottom ``end`` of the face; how wide, how deep, how many degrees its line rises; whether it stops short of an edge."""

    part: Part
    cut: OutlineCut
    edge: Face
    end: Face
    marks: tuple[tuple[Length, Length], tuple[Length, Length]]
    width: Length
    angle: Fraction
    stopped: bool

    @property
    def settings(self) -> HousingSettings:
        """What the tools are set to for it."""
        return HousingSettings(self.width, self.cut.span.extent, self.angle)


def housing_of(part: Part, cut: OutlineCut) -> SetOut:
    """How a housing is set out."""
    along, up = cut.outline.axis.others()
    if part.length_axis is along:
        along, up = up, along
    first = cut.outline.axis.others()[0]
    points = [(one.u, one.v) if along is first else (one.v, one.u) for one in cut.outline.corners]
    lines = list(zip(points, (*points[1:], points[0]), strict=True))
    long = max(lines, key=lambda line: _length(*line))
    pair = sorted(
        (line for line in lines if abs(_length(*line) - _length(*long)) < 0.01), key=lambda line: _height(line)
    )
    low, high = pair[0], pair[-1]
    start, stop = sorted(low)
    edge, end = along.low, up.low
    marks = tuple((point[0] - part.body.face(edge), point[1] - part.body.face(end)) for point in (start, stop))
    rise = degrees(atan2((stop[1] - start[1]).mm, (stop[0] - start[0]).mm))
    apart = _apart(low, high[0])
    reach = part.body.span(along)
    stopped = any(reach.low.mm + 0.5 < point[0].mm < reach.high.mm - 0.5 for point in low)
    width = Length.of_mm(Fraction(apart).limit_denominator(FINEST))
    return SetOut(part, cut, edge, end, (marks[0], marks[1]), width, Fraction(round(rise * 10), 10), stopped)


def _length(a: tuple[Length, Length], b: tuple[Length, Length]) -> float:
    return hypot((b[0] - a[0]).mm, (b[1] - a[1]).mm)


def _height(line: tuple[tuple[Length, Length], tuple[Length, Length]]) -> float:
    return (line[0][1] + line[1][1]).mm


def _apart(line: tuple[tuple[Length, Length], tuple[Length, Length]], point: tuple[Length, Length]) -> float:
    """How far a point is from a line."""
    (x0, y0), (x1, y1) = line
    dx, dy = (x1 - x0).mm, (y1 - y0).mm
    return abs(dx * (point[1] - y0).mm - dy * (point[0] - x0).mm) / hypot(dx, dy)
