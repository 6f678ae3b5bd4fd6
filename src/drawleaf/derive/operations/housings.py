"""Housings: channels at an angle across loose parts, for the ends of what leans."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import atan2, degrees, hypot

from drawleaf.derive.operations.drafts import Stage, Work, Workshop, by_setting, key_of, title_names
from drawleaf.model.joint_family import CutKind
from drawleaf.model.place import Face
from drawleaf.model.plan import Part
from drawleaf.model.settings import HousingSettings
from drawleaf.model.shapes import OutlineCut
from drawleaf.model.steps import Scene
from drawleaf.units import Length

FINEST = 1000


@dataclass(frozen=True, slots=True)
class Housing:
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


def housing_of(part: Part, cut: OutlineCut) -> Housing:
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
    return Housing(part, cut, edge, end, (marks[0], marks[1]), width, Fraction(round(rise * 10), 10), stopped)


TITLES = {
    (True, False): "Cut the angled dado in the {into}",
    (True, True): "Cut the angled dadoes in the {into}",
    (False, False): "Cut the angled dado for the {purpose} in the {into}",
    (False, True): "Cut the angled dadoes for the {purpose} in the {into}",
}
"""A title by whether the part has no others, and whether there are several."""


def cut_housings(shop: Workshop) -> None:
    """One operation to each width, depth and angle in a kind of part."""
    found = [
        housing_of(part, cut)
        for part in shop.parts
        for cut in part.features
        if isinstance(cut, OutlineCut) and cut.kind == CutKind.HOUSING
    ]
    groups = by_setting(found, lambda one: one.settings, apart=lambda one: one.part.kind)
    for setting, group in groups:
        parts = list({one.part.id: one.part for one in group}.values())
        name = f"housing-{key_of(shop.plan, parts[0])}"
        operation = shop.operation(
            name,
            CutKind.HOUSING,
            [part.id for part in parts],
            way=CutKind.DADO,
            pieces=len(group),
            settings=setting,
            features=[(one.part.id, one.cut) for one in group],
        )
        scene = Scene((), tuple(part.id for part in parts), (), (), ())
        alone = sum(other[0].part.kind == parts[0].kind for _, other in groups) == 1
        title = shop.words.tell(
            TITLES[alone, len(group) > 1], into=title_names(parts), purpose=title_names(_inserts(shop, group))
        )
        shop.add(name, Stage.MACHINE, title, (operation,), scene)


def _inserts(shop: Workshop, group: Sequence[Housing]) -> list[Part]:
    """The parts whose ends go into these housings."""
    joints = {one.cut.joint for one in group}
    ids = dict.fromkeys(joint.insert for joint in shop.plan.joints if joint.id in joints)
    return [shop.plan.part(part) for part in ids]


def _length(a: tuple[Length, Length], b: tuple[Length, Length]) -> float:
    return hypot((b[0] - a[0]).mm, (b[1] - a[1]).mm)


def _height(line: tuple[tuple[Length, Length], tuple[Length, Length]]) -> float:
    return (line[0][1] + line[1][1]).mm


def _apart(line: tuple[tuple[Length, Length], tuple[Length, Length]], point: tuple[Length, Length]) -> float:
    """How far a point is from a line."""
    (x0, y0), (x1, y1) = line
    dx, dy = (x1 - x0).mm, (y1 - y0).mm
    return abs(dx * (point[1] - y0).mm - dy * (point[0] - x0).mm) / hypot(dx, dy)


HOUSINGS = Work(cut_housings, (CutKind.DADO,))
