"""A step at the bench: parts on their own, side by side, each from where its work can be seen, with the work tinted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from drawleaf.draw.at_step.so_far import screws_bored, solids_so_far
from drawleaf.draw.paper.frame import Room, fitted
from drawleaf.draw.paper.lettering import label, place_centered
from drawleaf.draw.paper.style import (
    ACCENT_TINT,
    BALLOON_RADIUS,
    INK,
    NEW_BALLOON,
    NEW_EDGE,
    NEW_OUTLINE,
    STANDING_FILL,
)
from drawleaf.draw.paper.svg import Circle, Sketch, write
from drawleaf.draw.picture.panes import show_alone
from drawleaf.draw.picture.picture import GENTLE, Window, paint_faces, paint_lines, paint_outline, rings, window_at
from drawleaf.draw.sight.hidden_lines import project
from drawleaf.draw.sight.linework import Linework
from drawleaf.draw.sight.outline_areas import outline_area
from drawleaf.draw.sight.view import CORNERS, Vector, View
from drawleaf.draw.sight.viewpoint import best_view, worked_faces
from drawleaf.draw.step.inset import add_inset
from drawleaf.english import listed
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawing
from drawleaf.model.lists import CutItem
from drawleaf.model.place import Span
from drawleaf.model.plan import Bore, BoxCut, EdgeProfile, Fastener, Feature, Part
from drawleaf.model.shapes import OutlineCut, PlaneCut
from drawleaf.model.steps import Step
from drawleaf.solids.bodies import shank_of
from drawleaf.solids.build import Solids

_GAP, _CAPTION, _EDGE = 9.0, 10.0, 2.0
_TINY_WORK, _NARROW = 4.0, 100.0
"""Work that measures less than this on paper (mm) is shown enlarged as well: beside the parts, or below them in a room narrower than the second."""
MOST, _MANY = 30, 8
"""With more rows of the cut list than the first, parts are shown in their places instead; with more than the second, a narrow picture is higher."""
_MANY_HIGH = 100.0
_MOST_ROWS, _SMALLEST = 9, 0.004
"""So many rows of parts at most; no part is drawn smaller than this (paper mm a mm of the piece), whatever room that takes."""


@dataclass(frozen=True, slots=True)
class _Shown:
    """A part as it will be drawn: its row of the cut list, the view, the projected work and what is cut into it now."""

    item: CutItem
    count: int
    view: View
    work: Linework
    features: tuple[Feature, ...]
    screws: tuple[Fastener, ...] = ()

    @property
    def part(self) -> Part:
        """The copy that is drawn."""
        return next(part for part in self.item.parts if part.id == self.work.shown[0])

    @property
    def worked(self) -> bool:
        return bool(self.features or self.screws)


def draw_bench(derived: Derived, solids: Solids, step: Step, rooms: Sequence[Room]) -> tuple[Drawing, ...]:
    """The step's parts in rows at one scale, each with its balloon and count below it, in each of the rooms given."""
    assert step.scene is not None
    now = solids_so_far(derived, solids, step, step.scene.new, holes=True)
    shown = [_show(now, step, one) for one in lying_at_bench(now, derived, step, step.scene.new)]
    return tuple(_in_room(step, shown, room) for room in rooms)


def _in_room(step: Step, shown: Sequence[_Shown], room: Room) -> Drawing:
    if len(shown) > _MANY and room.width < _NARROW:
        room = room._replace(height=_MANY_HIGH)
    done = fitted(lambda wide, high, rough: _compose(shown, Room(wide, high), room, Sketch(rough=rough)), *room)
    title = f"Step {step.number}: {step.title}"
    alt = _alt(step, shown)
    return Drawing(
        f"step-{step.number:02d}",
        "step",
        title,
        write(done.sketch, done.width, done.height, title, alt),
        alt,
        done.width,
        done.height,
        None,
        tuple(done.sketch.panes),
        step.number,
    )


def _compose(shown: Sequence[_Shown], space: Room, room: Room, sketch: Sketch) -> Sketch:
    """All parts within so much space on the sketch, each above its balloon; a close look at tiny work stands beside them."""
    worked = any(one.worked for one in shown)
    rows, factor = _rows(shown, space)
    width = space.width
    top = _EDGE
    windows: list[tuple[_Shown, Window]] = []
    for row in rows:
        high = max(_high(one) for one in row) * factor
        wide = sum(_cell(one, factor) for one in row) + _GAP * (len(row) - 1)
        left = (width - wide) / 2
        for one in row:
            middle = left + _cell(one, factor) / 2
            start = middle - _wide(one) * factor / 2
            window = window_at(one.work.bounds, factor, start, top + (high - _high(one) * factor))
            _draw_part(sketch, one, worked, window)
            windows.append((one, window))
            _caption(sketch, one, middle, top + high + _CAPTION / 2 + 0.5)
            left += _cell(one, factor) + _GAP
        top += high + _CAPTION + 2.0
    _look_closely(sketch, windows, room)
    return sketch


def bench_items(derived: Derived, parts: Sequence[str]) -> list[CutItem]:
    """The rows of the cut list that the parts belong to."""
    return [item for item in derived.cut_list.items if any(part.id in parts for part in item.parts)]


@dataclass(frozen=True, slots=True)
class Lying:
    """A part that lies at the bench by itself, for all ``count`` copies of its row of the cut list, and how it is looked at."""

    item: CutItem
    count: int
    part: str
    view: View


def lying_at_bench(solids: Solids, derived: Derived, step: Step, parts: Sequence[str]) -> tuple[Lying, ...]:
    """What the drawing of a step at the bench shows, in its order; ``solids`` as they are after the step."""
    return tuple(_lying(solids, step, item, parts) for item in bench_items(derived, parts))


def _lying(solids: Solids, step: Step, item: CutItem, parts: Sequence[str]) -> Lying:
    copies = [part.id for part in item.parts if part.id in parts]
    work = {part: len(_cut_now(step, part)) + len(screws_bored(step, part)) for part in copies}
    chosen = max(copies, key=lambda part: (work[part], -copies.index(part)))
    faces = worked_faces(step.operations, (chosen,)) + tuple(_entered(one) for one in screws_bored(step, chosen))
    return Lying(item, len(copies), chosen, best_view(solids, (chosen,), (chosen,), {}, faces, views=CORNERS))


def _cut_now(step: Step, part: str) -> tuple[Feature, ...]:
    return tuple(feature for op in step.operations for one, feature in op.features if one == part)


def _show(solids: Solids, step: Step, one: Lying) -> _Shown:
    work = project(solids, one.view, (one.part,))
    return _Shown(one.item, one.count, one.view, work, _cut_now(step, one.part), screws_bored(step, one.part))


def _wide(one: _Shown) -> float:
    return one.work.bounds[2] - one.work.bounds[0]


def _high(one: _Shown) -> float:
    return one.work.bounds[3] - one.work.bounds[1]


def _rows(shown: Sequence[_Shown], room: Room) -> tuple[list[list[_Shown]], float]:
    """The split into rows at which the parts are drawn largest."""
    best: tuple[float, list[list[_Shown]]] = (_SMALLEST, [[one] for one in shown])
    for count in range(1, min(len(shown), _MOST_ROWS) + 1):
        per = -(-len(shown) // count)
        rows = [list(shown[i : i + per]) for i in range(0, len(shown), per)]
        high = (room.height - 2 * _EDGE - len(rows) * (_CAPTION + 2)) / sum(
            max(_high(one) for one in row) for row in rows
        )
        factor = min(*(_widest(row, room.width - 2 * _EDGE) for row in rows), high, 0.5)
        if factor > best[0] * 1.02:
            best = (factor, rows)
    return best[1], best[0]


def _widest(row: Sequence[_Shown], room: float) -> float:
    """The factor at which a row is as wide as the ``room`` (mm). What stands below a slender part may be wider than the part."""
    room -= _GAP * (len(row) - 1)
    rest, fixed = list(row), 0.0
    while True:
        factor = max(room - fixed, 0.0) / (sum(map(_wide, rest)) or 1.0)
        slender = [one for one in rest if _wide(one) * factor < _caption_width(one)]
        if not slender:
            return factor
        fixed += sum(map(_caption_width, slender))
        if len(slender) == len(rest):
            return factor if fixed <= room else 0.0
        rest = [one for one in rest if one not in slender]


def _cell(one: _Shown, factor: float) -> float:
    """How wide a part stands with its caption, on paper (mm)."""
    return max(_wide(one) * factor, _caption_width(one))


def _caption_width(one: _Shown) -> float:
    return 2 * BALLOON_RADIUS + (1.5 + label(f"× {one.count}").width if one.count > 1 else 0.0)


def _look_closely(sketch: Sketch, windows: Sequence[tuple[_Shown, Window]], room: Room) -> None:
    """The largest piece of work once more, enlarged, where all of it is too small to see."""
    beside = room.width > _NARROW
    if not beside and len(windows) > 1:
        # Side by side in a narrow column they are small enough already.
        return
    found = [(area, one, window) for one, window in windows for area in _areas(one)]
    if not found or any(_size(area) * window.factor > _TINY_WORK for area, _, window in found):
        return
    # The one nearest to where the close look stands: no other part lies between.
    _, _, area, one, window = max(
        ((*_reach(area, window, beside), area, one, window) for area, one, window in found), key=lambda each: each[:2]
    )
    add_inset(sketch, window, area.bounds, lambda on, at: _draw_part(on, one, True, at), room.width)


def _reach(area: BaseGeometry, window: Window, beside: bool) -> tuple[float, float]:
    """How far a piece of work lies to the right and down on paper, the way that counts first."""
    x, y = window.at(area.centroid.x, area.centroid.y)
    return (round(x, 2), round(-y, 2)) if beside else (round(y, 2), round(x, 2))


def _size(area: BaseGeometry) -> float:
    return max(area.bounds[2] - area.bounds[0], area.bounds[3] - area.bounds[1])


def _areas(one: _Shown) -> list[BaseGeometry]:
    """Where the work of this step shows, piece by piece."""
    areas = [area for feature in one.features if (area := _work_area(one.view, feature, one.part)) is not None]
    towards = one.view.axes[2]
    areas += [_screw_hole(one.view, s) for s in one.screws if float(towards @ np.array(_entered(s))) > 0.05]
    return [area for area in areas if not area.is_empty]


def _draw_part(sketch: Sketch, one: _Shown, worked: bool, window: Window) -> None:
    part = one.work.shown[0]
    show_alone(sketch, part, window.box(one.work.bounds))
    base = STANDING_FILL if worked else ACCENT_TINT
    paint_faces(sketch, one.work, window, {part: base}, base, GENTLE)
    if sketch.rough:
        paint_lines(sketch, one.work.visible, window, NEW_EDGE)
        return
    areas = _areas(one)
    areas += [area for feature in one.features if isinstance(feature, PlaneCut) for area in _sawn(one, feature)]
    if one.part.tilt is None and any(isinstance(feature, EdgeProfile) for feature in one.features):
        # What a profile leaves is the only slanting or rounded surface along an edge.
        near = _along_edges(one)
        profiled = [face.region.buffer(0.2) for face in one.work.shaded_faces if _profiled(one, face.normal)]
        areas += profiled if near is None else [shapely.intersection(area, near) for area in profiled]
    if areas:
        region = shapely.intersection(shapely.union_all(areas), one.work.outline(part))
        found = rings(region, window)
        if found:
            sketch.fill(ACCENT_TINT, *found, name="work")
            for ring in found:
                sketch.shape(NEW_OUTLINE, ring)
    paint_lines(sketch, one.work.visible, window, NEW_EDGE)
    if not worked:
        paint_outline(sketch, one.work, window, (part,), NEW_OUTLINE, heal=0.0)


def _profiled(one: _Shown, normal: Vector) -> bool:
    """Whether a face looks as a profile leaves it: slanting; along an outline, to its broad face as well, which the sawn edge never does."""
    courses = [course for f in one.features if isinstance(f, EdgeProfile) for course in f.courses]
    if max(abs(step) for step in normal) >= 0.999:
        return False
    return not courses or any(abs(normal[course.axis.index]) > 0.02 for course in courses)


def _along_edges(one: _Shown) -> BaseGeometry | None:
    """Where the profiled edges lie in the view, as wide as the profiles are: the walls of holes slant as well. None where the edges are
    those of an outline."""
    profiles = [feature for feature in one.features if isinstance(feature, EdgeProfile)]
    if any(profile.courses or profile.round_what for profile in profiles):
        return None
    strips = []
    for profile in profiles:
        box = one.part.body
        for face in profile.edge:
            at, reach = one.part.body.face(face), profile.size * face.side
            box = box.with_span(face.axis, Span(min(at, at - reach), max(at, at - reach)))
        strips.append(shapely.MultiPoint(one.view.on_paper(np.array(list(box.corners)))).convex_hull.buffer(0.5))
    return shapely.union_all(strips)


def _sawn(one: _Shown, cut: PlaneCut) -> list[BaseGeometry]:
    """The face that a slanting saw cut leaves, where it looks at the viewer."""
    normal = cut.normal if one.part.tilt is None else one.part.tilt.out_direction(cut.normal)
    return [
        face.region.buffer(0.2)
        for face in one.work.shaded_faces
        if float(np.dot(np.array(face.normal), np.array(normal))) > 0.9999
    ]


def _work_area(view: View, feature: Feature, part: Part) -> BaseGeometry | None:
    """The opening of a cut on the faces that look at the viewer."""
    match feature:
        case BoxCut(box=box):
            points = view.on_paper(np.array(list(box.corners)))
            return shapely.MultiPoint(points).convex_hull
        case Bore(face=face) if float(view.axes[2] @ np.array(face.normal)) > 0.05:
            return _disc(view, feature)
        case EdgeProfile():
            return None
        case OutlineCut():
            return outline_area(view, feature, part)
    return None


def _disc(view: View, bore: Bore) -> BaseGeometry:
    """The mouth of a hole."""
    return _round(view, bore.start.mm, bore.face.axis.index, bore.diameter.mm / 2)


def _screw_hole(view: View, screw: Fastener) -> BaseGeometry:
    """Where a screw goes in: a circle on the marked face, as wide as a countersunk head, so that it can be seen."""
    axis = int(np.argmax(np.abs(screw.direction)))
    wide = screw.counterbore.mm / 2 if screw.counterbore is not None else shank_of(screw.item)
    return _round(view, screw.mouth.mm, axis, wide)


def _entered(screw: Fastener) -> Vector:
    """The way out of the face that a screw is driven into."""
    x, y, z = screw.direction
    return (-x + 0.0, -y + 0.0, -z + 0.0)


def _round(view: View, middle: Vector, axis: int, radius: float) -> BaseGeometry:
    """A circle about a point, across the axis of that number, as the view sees it."""
    across = [np.eye(3)[i] * radius for i in range(3) if i != axis]
    turns = np.linspace(0.0, 2 * np.pi, 24, endpoint=False)
    points = np.array(middle) + np.cos(turns)[:, None] * across[0] + np.sin(turns)[:, None] * across[1]
    return shapely.Polygon(view.on_paper(points))


def _caption(sketch: Sketch, one: _Shown, x: float, y: float) -> None:
    """The balloon, and how many of it."""
    text = label(f"× {one.count}") if one.count > 1 else None
    center = (x - _caption_width(one) / 2 + BALLOON_RADIUS, y)
    sketch.shape(NEW_BALLOON, Circle(center, BALLOON_RADIUS))
    place_centered(sketch, label(str(one.item.number), weight=600), center, color=INK)
    if text:
        place_centered(sketch, text, (center[0] + BALLOON_RADIUS + 1.5 + text.width / 2, y))


def _alt(step: Step, shown: Sequence[_Shown]) -> str:
    names = [
        f"{one.item.name} (number {one.item.number}{f', {one.count} of them' if one.count > 1 else ''})"
        for one in shown
    ]
    work = " What is cut in this step is tinted." if any(one.worked for one in shown) else ""
    return f"{step.title}: {listed(names, most=12)}{', each' if len(names) > 1 else ','} on its own.{work}"


def in_the_whole(derived: Derived, step: Step) -> bool:
    """Whether a step's parts are shown in their places among all others, being too many to lie side by side at the bench."""
    scene = step.scene
    if scene is None or scene.standing or scene.moves or scene.fasteners or scene.fittings:
        return False
    return len(bench_items(derived, scene.new)) > MOST and not any(operation.features for operation in step.operations)
