"""Whether a cut, hole or edge is what the settings of its operation say: measured on the feature itself, by other means than those by which
the operations were put together."""

from __future__ import annotations

from collections.abc import Callable
from math import atan2, cos, degrees, hypot, radians, sin, sqrt, tan

from drawleaf.joinery import BENCH
from drawleaf.model.joint_family import CutKind
from drawleaf.model.place import Axis
from drawleaf.model.plan import Bore, BoxCut, EdgeProfile, Feature, Part
from drawleaf.model.settings import (
    BoreSettings,
    ChannelSettings,
    CutoutSettings,
    EdgeSettings,
    HousingSettings,
    MitreSettings,
    MortiseSettings,
    PinHoleSettings,
    RecessSettings,
    RoundRecessSettings,
    Settings,
    ShelfPinSettings,
    SlantSettings,
    SplineSlotSettings,
    StandingRabbetSettings,
    TenonSettings,
)
from drawleaf.model.shapes import OutlineCut, PlaneCut
from drawleaf.setting_out.slants import off_square, sides_of
from drawleaf.units import Length

NEAR = 0.05
"""Millimetres and degrees: what figures may be off that are rounded when a cut is set out."""
TENTH = 0.0018
"""What a tenth of a degree, to which angles are rounded, is in a unit vector."""
WIDEST = 41.2
"""No bit for corners is wider, in millimetres."""


def agrees(settings: Settings, part: Part, feature: Feature) -> bool:
    """Whether the settings hold for a feature of the part; true of kinds of settings that no feature can be held against."""
    found = _MEASURES.get(type(settings))
    return found is None or found(settings, part, feature)


def _deep(cut: BoxCut) -> Length:
    return cut.box.extent(cut.into.axis)


def _channel(told: ChannelSettings | StandingRabbetSettings, part: Part, cut: Feature) -> bool:
    if not isinstance(cut, BoxCut) or _deep(cut) != told.depth:
        return False
    across = [axis for axis in cut.into.axis.others() if cut.box.extent(axis) == told.width]
    if isinstance(told, StandingRabbetSettings):
        return bool(across)
    return any(_room(part, cut, axis) == told.offset for axis in across)


def _room(part: Part, cut: BoxCut, across: Axis) -> Length:
    """How far the void stands from the nearer side of its part."""
    void, body = cut.box.span(across), part.body.span(across)
    return min(void.low - body.low, body.high - void.high)


def _mortise(told: MortiseSettings, part: Part, cut: Feature) -> bool:
    if not isinstance(cut, BoxCut):
        return False
    sides = {axis: cut.box.extent(axis) for axis in cut.into.axis.others()}
    walls = [axis for axis, size in sides.items() if size == told.apart and _room(part, cut, axis) == told.offset]
    if cut.kind == CutKind.HAUNCH:
        return told.apart in sides.values()
    depth = None if cut.into.opposite in cut.open else _deep(cut)
    return bool(walls) and depth == told.depth and told.width <= min(sides.values())


def _tenon(told: TenonSettings, part: Part, cut: Feature) -> bool:
    """What is taken off a tenon goes in as deep as a cheek, an edge, the gap between tenons or the tenon is long."""
    if not isinstance(cut, BoxCut):
        return False
    if not {told.length, told.length - told.haunch} & {cut.box.extent(axis) for axis in Axis}:
        return False
    gaps = [later[0] - before[1] for before, later in zip(told.places, told.places[1:], strict=False)]
    return _deep(cut) in (*told.cheeks, *told.edges, *gaps, told.length, told.length - told.haunch)


def _housing(told: HousingSettings, part: Part, cut: Feature) -> bool:
    """The width of the strip is its area over its length."""
    if not isinstance(cut, OutlineCut) or cut.span.extent != told.depth:
        return False
    lines = _lines_of(cut)
    if part.length_axis is cut.outline.axis.others()[0]:
        lines = [((a[1], a[0]), (b[1], b[0])) for a, b in lines]
    area = abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in lines)) / 2
    (x0, y0), (x1, y1) = max(lines, key=lambda line: hypot(line[1][0] - line[0][0], line[1][1] - line[0][1]))
    long = hypot(x1 - x0, y1 - y0)
    rise = degrees(atan2(y1 - y0, x1 - x0))
    off = (rise - float(told.angle) + 90) % 180 - 90
    return abs(area / long - told.width.mm) < NEAR and abs(off) < NEAR * 2


def _bore(told: BoreSettings | ShelfPinSettings, part: Part, hole: Feature) -> bool:
    if not isinstance(hole, Bore) or (hole.diameter, hole.depth) != (told.bit, told.depth):
        return False
    return isinstance(told, ShelfPinSettings) or off_square(hole) == (told.slant or 0)


def _pin(told: PinHoleSettings, part: Part, hole: Feature) -> bool:
    if isinstance(hole, BoxCut):
        return max(hole.box.extent(axis) for axis in hole.into.axis.others()) in told.slots
    return isinstance(hole, Bore) and hole.diameter == told.bit


def _recess(told: RecessSettings, part: Part, feature: Feature) -> bool:
    if isinstance(feature, Bore):
        return isinstance(told, RoundRecessSettings) and (feature.depth or feature.diameter, feature.diameter) == (
            told.depth,
            told.bit,
        )
    return isinstance(feature, BoxCut) and _deep(feature) == told.depth


def _slanting(told: SlantSettings, part: Part, cut: Feature) -> bool:
    """A saw so set cuts along the plane: its normal worked out of fence and blade, against the cut's own. Along an edge both angles are read
    from the edge."""
    if not isinstance(cut, PlaneCut):
        return False
    mitre, tilt = radians(float(told.mitre)), radians(float(told.tilt))
    if cut.face.axis is part.length_axis:
        along, across, through = cos(mitre) * cos(tilt), sin(mitre) * cos(tilt), sin(tilt)
    else:
        long = hypot(tan(mitre), 1.0, tan(tilt))
        along, across, through = tan(mitre) / long, 1.0 / long, tan(tilt) / long
    seen = [abs(cut.normal[axis.index]) for axis in (part.length_axis, *sides_of(part, cut))]
    return all(abs(a - b) < TENTH for a, b in zip(seen, (along, across, through), strict=True))


def _spline_slot(told: SplineSlotSettings, part: Part, cut: Feature) -> bool:
    """The sides of the rectangle by its area and its half circumference: one is both depths together; the other, or the span, the thickness."""
    if not isinstance(cut, OutlineCut):
        return False
    lines = _lines_of(cut)
    half = sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in lines) / 2
    area = abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in lines)) / 2
    root = sqrt(max(0.0, half**2 / 4 - area))
    sides = (half / 2 - root, half / 2 + root)
    deep = any(abs(side - told.depth.mm * 2) < NEAR for side in sides)
    level = cut.into.axis is not cut.outline.axis
    thick = (cut.span.extent.mm,) if level else sides
    return level is told.level and deep and any(abs(side - told.thickness.mm) < NEAR for side in thick)


def _leaves(part: Part, cut: OutlineCut) -> bool:
    """Whether the rim of an opening reaches an edge of the part, or beyond."""
    ends = [(corner.u.mm, corner.v.mm) for corner in cut.outline.corners]
    for place, axis in enumerate(cut.outline.axis.others()):
        body = part.body.span(axis)
        if min(end[place] for end in ends) <= body.low.mm or max(end[place] for end in ends) >= body.high.mm:
            return True
    return False


def _cutout(told: CutoutSettings, part: Part, cut: Feature) -> bool:
    """The bit that bores the corners is as wide as all four arcs; where none is given they are sharp, unlike, or wider than a bit."""
    if not isinstance(cut, OutlineCut) or told.edge is not _leaves(part, cut):
        return False
    turns = [abs(one.turn) for one in cut.outline.corners]
    radii = [
        hypot(b[0] - a[0], b[1] - a[1]) / 2 / sin(radians(turn) / 2)
        for (a, b), turn in zip(_lines_of(cut), turns, strict=True)
        if turn
    ]
    if told.bit is not None:
        ends = [(one.u.mm, one.v.mm) for one in cut.outline.corners]
        narrow, wide = sorted(max(along) - min(along) for along in zip(*ends, strict=True))
        rounds = not told.edge and abs(narrow - told.bit.mm) < NEAR < wide - narrow
        return (
            told.round_ends is rounds
            and len(radii) == 4
            and all(abs(radius * 2 - told.bit.mm) < NEAR for radius in radii)
        )
    return len(radii) != 4 or max(radii) - min(radii) > NEAR or max(radii) * 2 > WIDEST or max(turns) > 90.5


def _lines_of(cut: OutlineCut) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """The stretches of an outline from corner to corner, in millimetres."""
    corners = [(one.u.mm, one.v.mm) for one in cut.outline.corners]
    return list(zip(corners, (*corners[1:], corners[0]), strict=True))


def _edge(told: EdgeSettings, part: Part, feature: Feature) -> bool:
    return isinstance(feature, EdgeProfile) and feature.size == told.size


_MEASURES: dict[type[Settings], Callable[..., bool]] = {
    **{work.settings: work.agrees for work in BENCH},
    ChannelSettings: _channel,
    StandingRabbetSettings: _channel,
    MortiseSettings: _mortise,
    TenonSettings: _tenon,
    HousingSettings: _housing,
    BoreSettings: _bore,
    ShelfPinSettings: _bore,
    PinHoleSettings: _pin,
    RecessSettings: _recess,
    RoundRecessSettings: _recess,
    EdgeSettings: _edge,
    SlantSettings: _slanting,
    MitreSettings: _slanting,
    SplineSlotSettings: _spline_slot,
    CutoutSettings: _cutout,
}
"""How each kind of settings is held against a feature. A new kind that cuts into parts is a line here; families bring their own."""
