"""Sections through the piece: cut faces hatched by material and numbered, what lies behind in narrow lines, heights and depths that a
builder checks, from the floor and from one end."""

from __future__ import annotations

from collections.abc import Callable

from drawleaf.draw.paper.balloons import Tag
from drawleaf.draw.paper.callouts import place_callouts
from drawleaf.draw.paper.dimensions import place_dimensions
from drawleaf.draw.paper.frame import Framed, at_scale, extent
from drawleaf.draw.paper.obstacles import obstacles
from drawleaf.draw.paper.scales import scale_for, scale_text
from drawleaf.draw.paper.style import NARROW, VISIBLE, shade, wood_tint
from drawleaf.draw.paper.svg import Sketch, write
from drawleaf.draw.picture.hatching import hatch_part
from drawleaf.draw.picture.panes import show
from drawleaf.draw.picture.picture import Window, inner_point, paint_flat, paint_lines, rings, window_at
from drawleaf.draw.piece.levels import from_end_to_end, levels, place_levels
from drawleaf.draw.piece.section_planes import Plane, section_planes
from drawleaf.draw.piece.shown import METAL, everything
from drawleaf.draw.sight.cutting import Cut, cut_at
from drawleaf.english import listed
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawing
from drawleaf.model.place import Axis
from drawleaf.solids.build import Solids

_WIDTH, _HEIGHT = 170.0, 160.0
_HALF, _LITTLE = 84.5, 1.3
"""The width of a drawing that shares a row with another, and how much smaller it may be for that."""
_TITLES = {
    Axis.X: "seen from the right",
    Axis.Y: "seen from the front",
    Axis.Z: "seen from above",
}


def draw_sections(derived: Derived, solids: Solids) -> tuple[Drawing, ...]:
    """One section a direction in which the piece has joints to show."""
    return tuple(_draw(derived, solids, plane) for plane in section_planes(derived.plan))


def _draw(derived: Derived, solids: Solids, plane: Plane) -> Drawing:
    cut = cut_at(solids, plane.axis, plane.at, everything(derived.plan))
    u0, v0, u1, v1 = cut.work.bounds
    reduction = scale_for(u1 - u0, v1 - v0, _WIDTH - 45.0, _HEIGHT - 40.0)
    done, reduction = _sized(lambda scale: _compose(derived, cut, 1.0 / scale), reduction)
    name = f"{plane.letter}–{plane.letter}"
    title, scale = f"Section {name}, {_TITLES[plane.axis]}", scale_text(reduction)
    alt = _alt(derived, cut, title, scale)
    svg = write(done.sketch, done.width, done.height, f"{title}, scale {scale}", alt)
    an_id, panes = f"section-{plane.letter.lower()}", tuple(done.sketch.panes)
    return Drawing(an_id, "section", title, svg, alt, done.width, done.height, scale, panes)


def _sized(compose: Callable[[int], Sketch], reduction: int) -> tuple[Framed, int]:
    """The section at the largest scale at which it fits; half as wide as the page where that costs little, so that another view stands
    beside it."""
    whole, larger = at_scale(compose, reduction, _WIDTH, _HEIGHT)
    if whole.width <= _HALF:
        return whole, larger
    narrow, smaller = at_scale(compose, reduction, _HALF, _HEIGHT)
    return (narrow, smaller) if smaller <= _LITTLE * larger else (whole, larger)


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
    said = f"{title} of the {derived.plan.about.title} at a scale of {scale}. Cut through and hatched: {listed(names, most=20)}."
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
    loose = {assembly.id for assembly in derived.plan.assemblies if assembly.loose}
    fixed = {
        part.id: cut.regions[part.id]
        for part in derived.plan.parts
        if part.assembly not in loose and part.id in cut.regions
    }
    for axis, side, room in ((0, "bottom", wide), (1, "right", high)):
        places = levels(derived.plan, cut.view, axis, work.bounds, fixed, room)
        if len(places) > 1:
            # The size of the whole stands at the other side.
            place_levels(sketch, form, side, places[:-1], work.bounds, factor)
            whole = from_end_to_end(form, axis, places, work.bounds, factor)
            place_dimensions(sketch, "top" if side == "bottom" else "left", 0.0, [whole])
    _number(sketch, derived, cut, window)
    return sketch


def paint_cut(sketch: Sketch, derived: Derived, cut: Cut, window: Window) -> None:
    """What lies behind pale, with narrow lines; cut faces tinted and hatched, with wide outlines."""
    plan, work = derived.plan, cut.work
    show(sketch, work, window, nearest=cut.depth)
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
