"""Outlines on a part drawing: corners from the reference edges, radii as ``R 25``, arcs with their rise."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from math import atan2, cos, hypot, radians, sin, tan

from drawleaf.draw.paper.lettering import Rich, inline_pieces
from drawleaf.draw.part.marks.kinds import Mark, Spans, middle, placed
from drawleaf.draw.picture.lay import Lay
from drawleaf.english import counted
from drawleaf.model.joint_family import CutKind
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Plan
from drawleaf.model.shapes import Corner, Outline, OutlineCut
from drawleaf.setting_out.mitres import spline_size
from drawleaf.setting_out.origins import distance
from drawleaf.setting_out.outlines import Arc, arcs_of, rectangle_of, stretches
from drawleaf.units import ZERO, Length, LengthFormat

Place = tuple[Length, Length]
TANGENT = 1e-4
"""Radians within which an arc runs on smoothly from a line."""


@dataclass(frozen=True, slots=True)
class Measured:
    """An outline as it is dimensioned: the places of its corners (a rounded one where its lines would meet), the arcs that round
    corners, and the other arcs."""

    corners: tuple[Place, ...]
    fillets: tuple[Arc, ...]
    arcs: tuple[Arc, ...]


def outline_marks(plan: Plan, lay: Lay, cut: OutlineCut) -> list[Mark]:
    """The marks of one cut along an outline."""
    form = plan.lengths
    if cut.kind == CutKind.SPLINE_SLOT:
        thick, wide = spline_size(cut)
        note: Rich = (
            "Slot for a spline: ",
            *inline_pieces(form, thick),
            " wide, ",
            *inline_pieces(form, wide / 2),
            plan.words.put(" deep, square to the miter"),
        )
        return [replace(_plain(lay, cut), note=note)]
    if cut.outline.axis is not lay.face.axis:
        return [_plain(lay, cut)]
    rectangle = rectangle_of(cut.outline)
    if rectangle is not None and not cut.keep:
        spans = dict(zip(cut.outline.axis.others(), (rectangle.u, rectangle.v), strict=True))
        # An opening that runs over an edge is as large as what it takes from the wood.
        taken = [
            (spans[one.axis].overlap(lay.part.body.span(one.axis)) or spans[one.axis]).extent
            for one in (lay.right, lay.up)
        ]
        size = (*inline_pieces(form, taken[0]), " × ", *inline_pieces(form, taken[1]))
        corners = (", corners R ", *inline_pieces(form, rectangle.radius)) if rectangle.radius else ()
        return [_boxed(lay, cut, (f"{_noun(cut)} ", *size, *corners, *_deep(form, lay, cut)))]
    return _measured(form, lay, cut)


def measured(outline: Outline) -> Measured:
    """The corners and arcs that a drawing dimensions."""
    sides = stretches(outline)
    arcs = {arc.start: arc for arc in arcs_of(outline)}
    corners: list[Place] = []
    fillets: list[Arc] = []
    others: list[Arc] = []
    for number, (corner, after) in enumerate(sides):
        arc, before, following = arcs.get(corner), sides[number - 1], sides[(number + 1) % len(sides)]
        if arc is not None and _rounds(before, corner, after, following):
            fillets.append(arc)
            corners.append(_met(corner, after))
        elif arc is not None:
            others.append(arc)
    rounded = {(one.u, one.v) for arc in fillets for one in (arc.start, arc.end)}
    corners += [(one.u, one.v) for one in outline.corners if (one.u, one.v) not in rounded]
    return Measured(tuple(corners), tuple(fillets), tuple(others))


def _rounds(before: tuple[Corner, Corner], start: Corner, end: Corner, after: tuple[Corner, Corner]) -> bool:
    """Whether an arc rounds a corner: it runs on smoothly from a straight line and into another."""
    if before[0].turn or after[0].turn or abs(start.turn) >= 180.0:
        return False
    chord = _way(start, end)
    half = radians(start.turn) / 2.0
    return _smooth(_way(*before), chord - half) and _smooth(chord + half, _way(*after))


def _way(one: Corner, other: Corner) -> float:
    return atan2((other.v - one.v).mm, (other.u - one.u).mm)


def _smooth(one: float, other: float) -> bool:
    return cos(one - other) > 1.0 - TANGENT**2


def _met(start: Corner, end: Corner) -> Place:
    """Where the lines that a rounding joins would meet."""
    half = radians(start.turn) / 2.0
    chord, way = hypot((end.u - start.u).mm, (end.v - start.v).mm), _way(start, end) - half
    far = chord / 2.0 / cos(half)
    return _kept(start.u.mm + far * cos(way)), _kept(start.v.mm + far * sin(way))


def crown(arc: Arc) -> Place:
    """The highest point of an arc over the line between its ends."""
    u, v = (arc.start.u.mm + arc.end.u.mm) / 2.0, (arc.start.v.mm + arc.end.v.mm) / 2.0
    rise = tan(radians(arc.start.turn) / 4.0) / 2.0
    du, dv = (arc.end.u - arc.start.u).mm, (arc.end.v - arc.start.v).mm
    return _kept(u + dv * rise), _kept(v - du * rise)


def _kept(mm: float) -> Length:
    return Length.of_mm(Fraction(round(mm * 1000), 1000))


def _measured(form: LengthFormat, lay: Lay, cut: OutlineCut) -> list[Mark]:
    outline = cut.outline
    seen = measured(outline)
    axes = outline.axis.others()
    places = [*seen.corners, *(crown(arc) for arc in seen.arcs)]
    origins = {axis: axis.low for axis in axes}
    spans: dict[Axis, Spans] = {}
    for index, axis in enumerate(axes):
        body = lay.part.body.span(axis)
        inside = {place[index] for place in places if body.low.mm + 0.01 < place[index].mm < body.high.mm - 0.01}
        distances: list[Length] = []
        for far in sorted(distance(lay.part, axis.low, at) for at in inside):
            if not distances or (far - distances[-1]).mm > 0.05:
                distances.append(far)
        spans[axis] = tuple((ZERO, far) for far in distances)
    note: Rich = (f"{_noun(cut)} sawn to this outline",) if cut.keep else (_noun(cut), *_deep(form, lay, cut))
    found = [placed(lay, origins, spans, _anchor(lay, axes, _on_line(lay, outline)), note)]
    return [*found, *_arc_marks(form, lay, axes, seen)]


def _arc_marks(form: LengthFormat, lay: Lay, axes: tuple[Axis, Axis], seen: Measured) -> list[Mark]:
    found: list[Mark] = []
    radii: dict[Length, list[Arc]] = {}
    for arc in seen.fillets:
        radii.setdefault(arc.radius, []).append(arc)
    for radius, arcs in radii.items():
        note: Rich = ("R ", *inline_pieces(form, radius), f", {counted(len(arcs), 'rounded corner')}")
        found.append(Mark(_anchor(lay, axes, crown(arcs[0])), (), (), note))
    for arc in seen.arcs:
        word = "hollow" if arc.rise.exact_mm < 0 else "high"
        if abs(arc.start.turn) >= 179.9:
            note = ("Half round, R ", *inline_pieces(form, arc.radius))
        else:
            note = ("Arc, R ", *inline_pieces(form, arc.radius), ", ", *inline_pieces(form, abs(arc.rise)), f" {word}")
        found.append(Mark(_anchor(lay, axes, crown(arc)), (), (), note))
    return found


def _on_line(lay: Lay, outline: Outline) -> Place:
    """A place on the longest straight stretch that is no edge of the blank; the first corner where there is none."""
    axes = outline.axis.others()
    best: tuple[float, Place] = (0.0, (outline.corners[0].u, outline.corners[0].v))
    for one, other in stretches(outline):
        at_edge = any(
            a == b and a in (lay.part.body.span(axis).low, lay.part.body.span(axis).high)
            for axis, a, b in zip(axes, (one.u, one.v), (other.u, other.v), strict=True)
        )
        size = hypot((other.u - one.u).mm, (other.v - one.v).mm)
        if not one.turn and not at_edge and size > best[0] + 1e-6:
            best = (size, ((one.u * 3 + other.u) / 4, (one.v * 3 + other.v) / 4))
    if not best[0] and arcs_of(outline):
        return crown(max(arcs_of(outline), key=lambda arc: round(arc.radius.mm, 3)))
    return best[1]


def _anchor(lay: Lay, axes: tuple[Axis, Axis], place: Place) -> tuple[Length, Length]:
    at = dict(zip(axes, place, strict=True))
    return lay.along(lay.right, at[lay.right.axis]), lay.along(lay.up, at[lay.up.axis])


def _boxed(lay: Lay, cut: OutlineCut, note: Rich) -> Mark:
    """A rectangle by its near and far sides, each from the nearer edge of the part."""
    boxes = dict(zip(cut.outline.axis.others(), cut.outline.bounds, strict=True))
    origins: dict[Axis, Face] = {}
    spans: dict[Axis, Spans] = {}
    anchor: list[Length] = []
    for toward in (lay.right, lay.up):
        axis, body = toward.axis, lay.part.body.span(toward.axis)
        box = boxes[axis].overlap(body) or body
        origin = axis.low if box.low - body.low <= body.high - box.high else axis.high
        near, far = sorted((distance(lay.part, origin, box.low), distance(lay.part, origin, box.high)))
        whole = near.mm < 1e-6 and (body.extent - far).mm < 1e-6
        origins[axis] = origin
        spans[axis] = () if whole else ((ZERO, near), (near, far)) if near.mm > 1e-6 else ((near, far),)
        anchor.append(middle(lay, toward, box))
    return placed(lay, origins, spans, (anchor[0], anchor[1]), note)


def _plain(lay: Lay, cut: OutlineCut) -> Mark:
    """A cut that runs across the view: only a note."""
    boxes = dict(zip(cut.outline.axis.others(), cut.outline.bounds, strict=True))
    anchor = [
        middle(lay, toward, boxes.get(toward.axis, cut.span).overlap(lay.part.body.span(toward.axis)) or cut.span)
        for toward in (lay.right, lay.up)
    ]
    return Mark((anchor[0], anchor[1]), (), (), (f"{_noun(cut)}, as the edge view shows it",))


def _noun(cut: OutlineCut) -> str:
    if cut.keep:
        return "Shape:"
    through = {cut.outline.axis.low, cut.outline.axis.high} <= set(cut.open)
    return {"cutout": "Opening" if through else "Pocket"}.get(cut.kind, cut.kind.replace("_", " ").capitalize())


def _deep(form: LengthFormat, lay: Lay, cut: OutlineCut) -> Rich:
    if {lay.part.thickness.low, lay.part.thickness.high} <= set(cut.open):
        return (", right through",)
    return (", ", *inline_pieces(form, cut.span.extent), " deep")
