"""Enlarged details: a section across each distinct joint, full size or half size, with the screw drawn in and the cut dimensioned."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import pi, sin

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from drawleaf.draw.joint.kinds import Kind, best_cut, joint_kinds, opening, own_cut, run_axis, through
from drawleaf.draw.joint.screw_profile import draw_profile, slot_of
from drawleaf.draw.joint.words import detail_lines, detail_title, plain
from drawleaf.draw.paper.balloons import Tag
from drawleaf.draw.paper.callouts import place_callouts
from drawleaf.draw.paper.dimensions import Dimension, place_dimensions
from drawleaf.draw.paper.frame import extent, framed
from drawleaf.draw.paper.lettering import Label, label, length_label, place
from drawleaf.draw.paper.obstacles import obstacles
from drawleaf.draw.paper.scales import scale_for, scale_text
from drawleaf.draw.paper.style import BREAK, LETTER, NARROW, STANDING, VISIBLE, WHITE, shade, wood_tint
from drawleaf.draw.paper.svg import Poly, Sketch, write
from drawleaf.draw.paper.wrapping import wrapped
from drawleaf.draw.picture.hatching import hatch_part
from drawleaf.draw.picture.panes import show
from drawleaf.draw.picture.picture import Window, inner_point, rings
from drawleaf.draw.piece.shown import everything
from drawleaf.draw.sight.cutting import LOOKING, Cut, cut_at
from drawleaf.draw.sight.exact_places import paper_axis
from drawleaf.draw.sight.view import View
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawing
from drawleaf.model.place import Axis
from drawleaf.model.plan import Fastener, Joint, Plan
from drawleaf.setting_out.origins import nearest
from drawleaf.solids.build import Solids
from drawleaf.units import Length

WIDTH = 82.0
_ROOM = (60.0, 66.0)
_MARGINS = (15.0, 10.0, 6.0)
"""Millimetres of wood drawn round the joint itself, best first."""
_LONG = 30.0
"""A touching area longer than this in the section is drawn only as far as its screw is measured from."""
_AIR = 3.0
_BEHIND = 30.0
_SMALLEST = 2
"""Details are drawn at half size at least; a joint too large for that is broken off."""
_WAVE, _WAVE_LONG = 0.7, 9.0

Bounds = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class _Span:
    """A distance to dimension: along paper axis 0 (across) or 1 (up), between two exact coordinates as they run on paper."""

    row: int
    low: Length
    high: Length


@dataclass(frozen=True, slots=True)
class DetailSetting:
    """What a detail shows: joints made alike, where along its run the first of them is cut (mm), with which fasteners, how much of the
    section, and what stands near."""

    number: int
    kind: Kind
    at: float
    fasteners: tuple[Fastener, ...]
    crop: Bounds
    near: tuple[str, ...]


def detail_settings(derived: Derived, solids: Solids) -> tuple[DetailSetting, ...]:
    """A detail for each distinct joint, in the order in which the steps come to them; what a row of a table tells comes last."""
    first: dict[str, int] = {}
    for step in derived.steps:
        for operation in step.operations:
            cut = (getattr(feature, "joint", None) for _, feature in operation.features)
            for joint in (*cut, *(joint.id for joint in operation.joints)):
                first.setdefault(joint or "", step.number)

    def turn(kind: Kind) -> tuple[bool, int]:
        return plain(derived, kind), min(first.get(joint.id, len(derived.steps) + 1) for joint in kind.joints)

    kinds = sorted(joint_kinds(derived.plan), key=turn)
    return tuple(_setting(solids, kind, number) for number, kind in enumerate(kinds, start=1))


def _setting(solids: Solids, kind: Kind, number: int) -> DetailSetting:
    joint = kind.joint
    at, fastener = best_cut(solids.plan, joint)
    axis = run_axis(joint)
    shown = tuple(f for f in joint.fasteners if fastener and _in_plane(f, fastener, joint))
    crop = _crop(solids, LOOKING[axis], joint, shown)
    return DetailSetting(number, kind, at, shown, crop, _near(solids, axis, at, crop))


def detail_id(number: int) -> str:
    """The id of a detail's drawing."""
    return f"detail-{number:02d}"


def draw_detail(derived: Derived, solids: Solids, setting: DetailSetting) -> Drawing:
    """The detail of a joint, with its words."""
    kind, crop = setting.kind, setting.crop
    cut = cut_at(solids, run_axis(kind.joint), setting.at, setting.near)
    reduction = scale_for(crop[2] - crop[0], crop[3] - crop[1], *_ROOM)
    sketch = _compose(derived, cut, kind, setting.fasteners, crop, reduction)
    done = framed(sketch, WIDTH)
    title, scale = f"Detail {setting.number}: {detail_title(derived, kind.joint)}", scale_text(reduction)
    words = " ".join("".join(str(piece) for piece in line) for line in detail_lines(derived, kind))
    alt = f"{title}, cut across the joint, at a scale of {scale}. {words}"
    svg = write(done.sketch, done.width, done.height, f"{title}, scale {scale}", alt)
    an_id, panes = detail_id(setting.number), tuple(done.sketch.panes)
    bare = plain(derived, kind)
    return Drawing(an_id, "detail", title, svg, alt, done.width, done.height, scale, panes, setting.number, bare)


def _in_plane(one: Fastener, other: Fastener, joint: Joint) -> bool:
    axis = run_axis(joint)
    return abs(one.at.along(axis).mm - other.at.along(axis).mm) < 1.0 and abs(one.direction[axis.index]) < 0.1


def _crop(solids: Solids, view: View, joint: Joint, fasteners: Sequence[Fastener]) -> Bounds:
    """The part of the section to draw: where the parts touch, the cut and the fasteners, and as much wood round them as leaves it
    at full size; where even a little is too much for that, the usual margin at half size."""
    box = _core(solids.plan, view, joint, fasteners)
    wood = [_paper_box(view, solids.solid(one).bounds) for one in (joint.insert, joint.receiver)]
    crops = [
        (
            max(box[0] - margin, min(w[0] for w in wood) - _AIR),
            max(box[1] - margin, min(w[1] for w in wood) - _AIR),
            min(box[2] + margin, max(w[2] for w in wood) + _AIR),
            min(box[3] + margin, max(w[3] for w in wood) + _AIR),
        )
        for margin in _MARGINS
    ]
    at_full_size = (crop for crop in crops if crop[2] - crop[0] <= _ROOM[0] and crop[3] - crop[1] <= _ROOM[1])
    crop = next(at_full_size, crops[0])
    middle = view.point(fasteners[0].at.mm) if fasteners else ((box[0] + box[2]) / 2, (box[1] + box[3]) / 2)
    left, right = _shortened(crop[0], crop[2], middle[0], _ROOM[0])
    low, high = _shortened(crop[1], crop[3], middle[1], _ROOM[1])
    return (left, low, right, high)


def _core(plan: Plan, view: View, joint: Joint, fasteners: Sequence[Fastener]) -> Bounds:
    """What the detail is about: its cut or where the parts touch, and its fasteners. A touching area much longer than the joint is thick
    counts only about its screw."""
    own = own_cut(plan, joint)
    hole = opening(plan, joint)
    boxes = [own.box if own else joint.contact, *([hole] if hole is not None else ())]
    points = [view.point(corner) for box in boxes for corner in box.corners]
    held: list[tuple[float, float]] = []
    for fastener in fasteners:
        length = fastener.item.length.mm if fastener.item.length else 25.0
        tip = tuple(a + d * length for a, d in zip(fastener.at.mm, fastener.direction, strict=True))
        start = fastener.mouth if fastener.open_wide is not None else fastener.at
        held += [view.point(start.mm), view.point((tip[0], tip[1], tip[2]))]
    spans = []
    for row in (0, 1):
        low, high = min(p[row] for p in points), max(p[row] for p in points)
        if held:
            first, last = min(p[row] for p in held), max(p[row] for p in held)
            if not own and high - low > _LONG:
                low, high = _from_nearer_edge(low, high, first, last)
            low, high = min(low, first), max(high, last)
        spans.append((low, high))
    return (spans[0][0], spans[1][0], spans[0][1], spans[1][1])


def _from_nearer_edge(low: float, high: float, first: float, last: float) -> tuple[float, float]:
    """A long contact as far as the screw and the edge nearer to it: that edge is what the screw is measured from."""
    return (low, last) if first - low <= high - last else (first, high)


def _shortened(low: float, high: float, about: float, room: float) -> tuple[float, float]:
    """A stretch of at most what half size has room for, about the screw where it must be shortened."""
    most = room * _SMALLEST
    if high - low <= most:
        return low, high
    start = max(low, min(about - most / 2, high - most))
    return start, start + most


def _paper_box(view: View, bounds: np.ndarray) -> Bounds:
    (u0, v0), (u1, v1) = view.on_paper(bounds)
    return (min(u0, u1), min(v0, v1), max(u0, u1), max(v0, v1))


def _near(solids: Solids, axis: Axis, at: float, crop: Bounds) -> tuple[str, ...]:
    """What stands in the crop, in the plane or close behind it: what lies far behind would only confuse."""
    found = []
    for one in everything(solids.plan):
        body = solids.body(one)
        if body is None:
            continue
        u0, v0, u1, v1 = _paper_box(LOOKING[axis], body.bounds)
        depth = sorted((body.bounds[:, axis.index] - at) * LOOKING[axis].direction[axis.index])
        if u0 < crop[2] and crop[0] < u1 and v0 < crop[3] and crop[1] < v1 and depth[0] < 0.0 and depth[1] > -_BEHIND:
            found.append(one)
    return tuple(found)


def _compose(
    derived: Derived, cut: Cut, kind: Kind, fasteners: Sequence[Fastener], crop: Bounds, reduction: int
) -> Sketch:
    factor = 1.0 / reduction
    window = Window(factor, (-crop[0] * factor, crop[3] * factor))
    sketch = Sketch()
    frame = _wavy(crop, factor)
    show(sketch, cut.work, window, nearest=cut.depth, within=crop)
    _paint(sketch, derived, cut, kind.joint, window, frame)
    for fastener in fasteners:
        draw_profile(sketch, cut.view, window, fastener, slot_of(derived.plan, cut.view, fastener))
    _dimension(sketch, derived, cut, kind.joint, fasteners, crop, window)
    _number(sketch, derived, cut, kind.joint, window, frame)
    left, _, _, bottom = extent(sketch)
    y = bottom + 2.5
    for line in wrapped(detail_lines(derived, kind), WIDTH - 3.0):
        text: Label = label([line])
        y += text.above
        place(sketch, text, (left, y))
        y += max(text.below, 0.2 * LETTER) + 1.3
    return sketch


def _wavy(crop: Bounds, factor: float) -> shapely.Polygon:
    """The crop with gently waving sides: wood that goes on is broken off along them (ISO 128-2, freehand break line)."""
    wave, long = _WAVE / factor, _WAVE_LONG / factor
    u0, v0, u1, v1 = crop

    def side(start: tuple[float, float], end: tuple[float, float]) -> list[tuple[float, float]]:
        du, dv = end[0] - start[0], end[1] - start[1]
        size = (du * du + dv * dv) ** 0.5
        steps = max(4, int(size / long * 8))
        found = []
        for k in range(steps):
            t = k / steps
            off = wave * sin(2 * pi * size * t / long)
            found.append((start[0] + du * t - dv / size * off, start[1] + dv * t + du / size * off))
        return found

    corners = [(u0, v0), (u1, v0), (u1, v1), (u0, v1)]
    points = [p for i in range(4) for p in side(corners[i], corners[(i + 1) % 4])]
    return shapely.Polygon(points).buffer(0)  # type: ignore[return-value]


def _paint(sketch: Sketch, derived: Derived, cut: Cut, joint: Joint, window: Window, frame: BaseGeometry) -> None:
    edge = frame.boundary.buffer(0.05 / window.factor)
    seen = shapely.union_all([cut.work.outline(one) for one in cut.work.shown])
    faces = shapely.union_all(list(cut.regions.values()))
    for part in derived.plan.parts:
        behind = cut.work.outline(part.id).difference(faces).intersection(frame)
        tint = wood_tint(part.stock.material.id, part.stock.material.tint)
        found = rings(behind, window)
        if found:
            sketch.fill(shade(tint, 1.8), *found, name="wood")
    for line in cut.work.visible:
        run = shapely.LineString(line.points).intersection(frame).difference(faces.buffer(0.02))
        _lines(sketch, NARROW, run, window)
    for order, part in enumerate(derived.plan.parts):
        region = cut.regions.get(part.id, shapely.Polygon()).intersection(frame)
        main = part.id in _parts_of(derived.plan, joint)
        found = rings(region, window)
        if not found:
            continue
        tint = wood_tint(part.stock.material.id, part.stock.material.tint)
        sketch.fill(shade(tint, 1.3) if main else WHITE, *found, name="cut" if main else "neighbour")
        if main:
            hatch_part(sketch, window, part, region, cut.view, order)
        _lines(sketch, VISIBLE if main else STANDING, region.boundary.difference(edge), window)
    _lines(sketch, BREAK, frame.boundary.intersection(seen), window)


def _parts_of(plan: Plan, joint: Joint) -> tuple[str, ...]:
    """The two parts of a joint, and what goes through an opening of the one."""
    other = through(plan, joint)
    return (joint.insert, joint.receiver, *((other.id,) if other is not None else ()))


def _lines(sketch: Sketch, style, geometry: BaseGeometry, window: Window) -> None:  # type: ignore[no-untyped-def]
    merged = (
        shapely.line_merge(geometry) if geometry.geom_type in ("MultiLineString", "GeometryCollection") else geometry
    )
    for piece in shapely.get_parts(merged).tolist():
        if isinstance(piece, shapely.LineString) and piece.length * window.factor > 0.15:
            sketch.shape(style, Poly(tuple(window.at(u, v) for u, v in piece.coords)))


def _dimension(
    sketch: Sketch,
    derived: Derived,
    cut: Cut,
    joint: Joint,
    fasteners: Sequence[Fastener],
    crop: Bounds,
    window: Window,
) -> None:
    form, factor = derived.plan.lengths, window.factor
    across: list[Dimension] = []
    upright: list[Dimension] = []
    for span in _spans(derived.plan, cut.view, joint, fasteners, crop):
        low, high_end = span.low.mm, span.high.mm
        bounds = (crop[span.row], crop[span.row + 2])
        if not (bounds[0] - 0.5 < low and high_end < bounds[1] + 0.5) or high_end - low < 0.5:
            continue
        text = length_label(form, span.high - span.low)
        if span.row == 0:
            across.append(Dimension((low - crop[0]) * factor, (high_end - crop[0]) * factor, text))
        else:
            upright.append(Dimension((crop[3] - high_end) * factor, (crop[3] - low) * factor, text))
    place_dimensions(sketch, "top", -1.0, across, (not upright, True))
    place_dimensions(sketch, "left", -1.0, upright, (not across, True))


def _spans(plan: Plan, view: View, joint: Joint, fasteners: Sequence[Fastener], crop: Bounds) -> list[_Span]:
    """Depth and width of the cut and how far it lies from the edge; else the thicknesses that meet, and where the screw sits."""
    found: list[_Span] = []
    own = own_cut(plan, joint)
    insert, receiver = plan.part(joint.insert), plan.part(joint.receiver)
    for row in (0, 1):
        axis = paper_axis(view, row)
        turned = view.axes[row][axis.index] < 0

        def span(low: Length, high: Length, row: int = row, turned: bool = turned) -> _Span:
            return _Span(row, -high, -low) if turned else _Span(row, low, high)

        body = receiver.body.span(axis)
        if own:
            box = own.box.span(axis)
            found.append(span(box.low, box.high))
            near = min(((body.low, box.low), (box.high, body.high)), key=lambda pair: (pair[1] - pair[0]).mm)
            if axis is not joint.face.axis and near[1] > near[0]:
                found.append(span(*near))
        elif axis is not joint.face.axis:
            found.append(span(insert.body.span(axis).low, insert.body.span(axis).high))
        if axis is receiver.thickness:
            found.append(span(body.low, body.high))
        for fastener in fasteners:
            straight = abs(fastener.direction[axis.index]) < 1e-6
            if straight and axis is not joint.face.axis:
                # From the edge that its hole is marked from, in the part that it goes through; where that is far off, from the other's.
                place_of = fastener.at.along(axis)
                for one in (fastener.through, fastener.into):
                    part = plan.part(one)
                    edge = part.body.face(nearest(part, axis, place_of))
                    reach = span(min(edge, place_of), max(edge, place_of))
                    if crop[row] - 0.5 < reach.low.mm and reach.high.mm < crop[row + 2] + 0.5:
                        found.append(reach)
                        break
    return found


def _number(sketch: Sketch, derived: Derived, cut: Cut, joint: Joint, window: Window, frame: BaseGeometry) -> None:
    taken = obstacles(sketch)
    tags = []
    for one in _parts_of(derived.plan, joint):
        covered = shapely.union_all(
            [shapely.Polygon([(p[0], p[1]) for p in ring.points]) for ring in sketch.blanks if isinstance(ring, Poly)]
        )
        region = cut.regions.get(one, shapely.Polygon()).intersection(frame)
        point = _dot(region, window, covered)
        if point:
            tags.append(Tag(str(derived.cut_list.item_of(one).number), point))
    left, top, right, bottom = extent(sketch)
    room = (WIDTH - (right - left)) / 2 - 1.5
    place_callouts(sketch, taken, tags, (left - max(room, 0.0), top - 10.0, right + max(room, 8.0), bottom + 10.0))


def _dot(region: BaseGeometry, window: Window, covered: BaseGeometry) -> tuple[float, float] | None:
    """A point of the cut face on paper, clear of the screw."""
    on_paper = shapely.transform(region, lambda points: points * [window.factor, -window.factor] + [*window.origin])
    return inner_point(on_paper, covered.buffer(1.0))
