"""Sections through the piece: cut faces hatched by material and numbered, what lies behind in narrow lines, heights and depths that a
builder checks, from the floor and from one end."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.draw.balloons import Tag
from drawleaf.draw.callouts import place_callouts
from drawleaf.draw.cover import METAL, everything
from drawleaf.draw.cutting import Cut, cut_at
from drawleaf.draw.dimensions import Dimension, place_dimensions
from drawleaf.draw.exact_places import exact_places, snapped
from drawleaf.draw.frame import at_scale, extent
from drawleaf.draw.hatching import hatch_part
from drawleaf.draw.lettering import length_label
from drawleaf.draw.part_drawing import obstacles
from drawleaf.draw.picture import Window, inner_point, paint_flat, paint_lines, rings, window_at
from drawleaf.draw.running import place_running, running_room
from drawleaf.draw.scales import scale_for, scale_text
from drawleaf.draw.section_planes import Plane, section_planes
from drawleaf.draw.style import NARROW, VISIBLE, shade, wood_tint
from drawleaf.draw.svg import Sketch, write
from drawleaf.draw.words import listed
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawing
from drawleaf.model.place import Axis
from drawleaf.solids.build import Solids
from drawleaf.units import Length

_WIDTH, _HEIGHT = 170.0, 160.0
_TITLES = {
    Axis.X: "seen from the right",
    Axis.Y: "seen from the front",
    Axis.Z: "seen from above",
}
_SPILL = 9.0
"""Millimetres on paper by which the running distances together may take more room than the side is long."""


def draw_sections(derived: Derived, solids: Solids) -> tuple[Drawing, ...]:
    """One section a direction in which the piece has joints to show."""
    return tuple(_draw(derived, solids, plane) for plane in section_planes(derived.plan))


def _draw(derived: Derived, solids: Solids, plane: Plane) -> Drawing:
    cut = cut_at(solids, plane.axis, plane.at, everything(derived.plan))
    u0, v0, u1, v1 = cut.work.bounds
    reduction = scale_for(u1 - u0, v1 - v0, _WIDTH - 45.0, _HEIGHT - 40.0)
    done, reduction = at_scale(lambda scale: _compose(derived, cut, 1.0 / scale), reduction, _WIDTH, _HEIGHT)
    name = f"{plane.letter}–{plane.letter}"
    title, scale = f"Section {name}, {_TITLES[plane.axis]}", scale_text(reduction)
    alt = _alt(derived, cut, title, scale)
    svg = write(done.sketch, done.width, done.height, f"{title}, scale {scale}", alt)
    return Drawing(f"section-{plane.letter.lower()}", "section", title, svg, alt, done.width, done.height, scale)


def _alt(derived: Derived, cut: Cut, title: str, scale: str) -> str:
    rows = [item for item in derived.cut_list.items if any(part.id in cut.regions for part in item.parts)]
    names = [f"{item.name} (number {item.number})" for item in rows]
    form = derived.plan.lengths
    lets = [
        f"{_name(derived, joint.insert)} let {form.text(joint.depth)} into {_name(derived, joint.receiver)}"
        for joint in derived.plan.joints
        if joint.depth
        and joint.insert in cut.regions
        and joint.receiver in cut.regions
        and joint.face.axis is not cut.axis
    ]
    said = f"{title} of the {derived.plan.about.title} at a scale of {scale}. Cut through and hatched: {listed(names, 20)}."
    return said + (f" {'; '.join(dict.fromkeys(lets)).capitalize()}." if lets else "")


def _name(derived: Derived, part: str) -> str:
    return derived.cut_list.item_of(part).name.lower()


def _compose(derived: Derived, cut: Cut, factor: float) -> Sketch:
    sketch, work = Sketch(), cut.work
    u0, v0, u1, v1 = work.bounds
    window = window_at(work.bounds, factor, 0.0, 0.0)
    paint_cut(sketch, derived, cut, window)
    wide, high = (u1 - u0) * factor, (v1 - v0) * factor
    form = derived.plan.lengths
    us, vs = (running_places(derived, cut, axis, room) for axis, room in ((0, wide), (1, high)))
    for axis, (side, places) in enumerate((("bottom", us), ("right", vs))):
        if len(places) < 2:
            continue
        first = places[0]
        at = [(_paper(place, work.bounds, factor, axis), length_label(form, abs(place - first))) for place in places]
        edge = high if side == "bottom" else wide
        place_running(sketch, side, edge, at[0], at[1:], limit=(wide if side == "bottom" else high) + 4.0)
        whole = Dimension(*sorted((at[0][0], at[-1][0])), length_label(form, places[-1] - first))
        place_dimensions(sketch, "top" if side == "bottom" else "left", 0.0, [whole])
    _number(sketch, derived, cut, window)
    return sketch


def paint_cut(sketch: Sketch, derived: Derived, cut: Cut, window: Window) -> None:
    """What lies behind pale, with narrow lines; cut faces tinted and hatched, with wide outlines."""
    plan, work = derived.plan, cut.work
    for part in plan.parts:
        if part.id in work.shown:
            tint = wood_tint(part.stock.material.id, part.stock.material.tint)
            paint_flat(sketch, work, window, (part.id,), shade(tint, 1.75), "wood")
    metal = tuple(f.id for f in plan.fittings if f.id in work.shown)
    paint_flat(sketch, work, window, metal, shade(METAL, 1.6), "metal")
    paint_lines(sketch, work.visible, window, NARROW)
    for order, part in enumerate(plan.parts):
        region = cut.regions.get(part.id)
        if region is None:
            continue
        found = rings(region, window)
        if found:
            sketch.fill(shade(wood_tint(part.stock.material.id, part.stock.material.tint), 1.3), *found, name="cut")
            hatch_part(sketch, window, part, region, cut.view, order)
            for ring in found:
                sketch.shape(VISIBLE, ring)


def running_places(derived: Derived, cut: Cut, axis: int, room: float) -> list[Length]:
    """The ends of the cut parts along a direction of the paper, exact, as many as there is room for; larger parts first."""
    exact = exact_places(derived.plan, cut.view, axis)
    loose = {a.id for a in derived.plan.assemblies if a.loose}
    fixed = {part.id for part in derived.plan.parts if part.assembly not in loose}
    ranked = sorted(
        (one for one in cut.regions if one in fixed),
        key=lambda one: (-_extent(cut, one, 1 - axis), one),
    )
    ends = [snapped(exact, bound) for bound in (cut.work.bounds[axis], cut.work.bounds[axis + 2])]
    found: list[Length] = [end for end in ends if end is not None]
    form = derived.plan.lengths
    used = sum(running_room(length_label(form, end)) for end in found)
    for one in ranked:
        bounds = cut.regions[one].bounds
        for value in (bounds[axis], bounds[axis + 2]):
            place = snapped(exact, value)
            if place is None or any(abs(place - other).mm <= 0.8 for other in found):
                continue
            takes = running_room(length_label(form, abs(place - found[0])))
            if used + takes <= room + _SPILL:
                found.append(place)
                used += takes
    return sorted(found)


def _extent(cut: Cut, one: str, axis: int) -> float:
    bounds = cut.regions[one].bounds
    return round(bounds[axis + 2] - bounds[axis], 2)


def _paper(place: Length, bounds: Sequence[float], factor: float, axis: int) -> float:
    return (place.mm - bounds[0]) * factor if axis == 0 else (bounds[3] - place.mm) * factor


def _number(sketch: Sketch, derived: Derived, cut: Cut, window: Window) -> None:
    """An item number for each row of the cut list that is cut, on its largest cut face."""
    taken = obstacles(sketch)
    taken.boxes += [_box(cut, one, window) for one in cut.regions]
    tags: list[Tag] = []
    for item in derived.cut_list.items:
        copies = [part.id for part in item.parts if part.id in cut.regions]
        if copies:
            largest = max(copies, key=lambda one: (round(cut.regions[one].area, 1), -copies.index(one)))
            point = inner_point(cut.regions[largest])
            if point:
                tags.append(Tag(str(item.number), window.at(*point)))
    left, top, right, bottom = extent(sketch)
    place_callouts(sketch, taken, tags, (left - 12.0, top - 12.0, right + 12.0, bottom + 12.0))


def _box(cut: Cut, one: str, window: Window) -> tuple[float, float, float, float]:
    u0, v0, u1, v1 = cut.regions[one].bounds
    (left, bottom), (right, top) = window.at(u0, v0), window.at(u1, v1)
    return (left, top, right, bottom)
