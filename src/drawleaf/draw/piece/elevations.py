"""Front, side and top elevations to scale: overall sizes, openings and members, and where each begins and ends from one datum."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import numpy as np
import shapely

from drawleaf.draw.paper.dimensions import Dimension, place_dimensions
from drawleaf.draw.paper.frame import Framed, at_scale, cropped, framed
from drawleaf.draw.paper.lettering import length_label
from drawleaf.draw.paper.scales import scale_for, scale_text
from drawleaf.draw.paper.style import NARROW, VISIBLE, shade
from drawleaf.draw.paper.svg import Sketch, write
from drawleaf.draw.paper.words import size_words
from drawleaf.draw.picture.panes import show
from drawleaf.draw.picture.picture import Window, paint_flat, paint_lines, paint_outline, window_at
from drawleaf.draw.piece.cutting_planes import BAND, crossing, draw_planes
from drawleaf.draw.piece.leaning_marks import draw_leans
from drawleaf.draw.piece.levels import levels, place_levels
from drawleaf.draw.piece.section_planes import Plane, section_planes
from drawleaf.draw.piece.shown import METAL, everything, tints
from drawleaf.draw.sight.exact_places import exact_places, paper_axis, snapped
from drawleaf.draw.sight.hidden_lines import project
from drawleaf.draw.sight.linework import Linework
from drawleaf.draw.sight.view import FRONT, PLAN, RIGHT, View
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawing
from drawleaf.model.place import Axis
from drawleaf.model.plan import Plan
from drawleaf.solids.build import Solids
from drawleaf.units import Length, LengthFormat

_WIDTH, _HEIGHT = 170.0, 135.0
_HALF = 84.5
"""So wide is a drawing at most that shares a row of the page with another one."""
_FACE_DEPTH = 30.0
"""Parts whose front is no further than this (mm) behind the foremost one make up the face that openings are seen in."""
_MOST, _NEARLY = 0.9, 0.985
"""A part that fills so much of a view leaves no room for others but a pull or an edge; rounded corners take no more of a rectangle."""
_LITTLE = 0.5
"""Millimetres that make no difference to a size of the whole."""
_LEAST = 3.0
"""Distances under this (mm) are left to the part drawings."""

Chain = list[tuple[Length, Length]]


def draw_elevations(derived: Derived, solids: Solids) -> tuple[Drawing, ...]:
    """The three elevations, at one scale where they fit at it. The view from above is left out where it shows a bare board."""
    views = (
        (FRONT, "front", "Front elevation"),
        (RIGHT, "side", "Side elevation, from the right"),
        (PLAN, "top", "View from above"),
    )
    shown = everything(derived.plan)
    works = [project(solids, view, shown) for view, _, _ in views]
    reduction = max(
        scale_for(w.bounds[2] - w.bounds[0], w.bounds[3] - w.bounds[1], _WIDTH - 40.0, _HEIGHT - 40.0) for w in works
    )
    planes = section_planes(derived.plan)
    return tuple(
        _draw(derived, work, planes, name, title, reduction)
        for work, (view, name, title) in zip(works, views, strict=True)
        if view is not PLAN or not _bare(work)
    )


def _bare(work: Linework) -> bool:
    """Whether one part hides almost all others and is a plain rectangle: its part drawing says as much."""
    whole = _box_area(work.bounds)
    outlines = (work.outline(part) for part in work.shown)
    return any(one.area > _MOST * whole and one.area > _NEARLY * _box_area(one.bounds) for one in outlines)


def _box_area(bounds: tuple[float, float, float, float]) -> float:
    """The area of a box in the view's plane, in mm²."""
    return (bounds[2] - bounds[0]) * (bounds[3] - bounds[1])


def _draw(derived: Derived, work: Linework, planes: Sequence[Plane], name: str, title: str, reduction: int) -> Drawing:
    plan, form = derived.plan, derived.plan.lengths
    sides = _chains(plan, work)

    def compose(scale: int, less: bool) -> Sketch:
        return _compose(plan, form, work, {} if less else sides, planes, 1.0 / scale)

    done, reduction = _largest(compose, reduction)
    if name == "side" and done.width > _HALF:
        done = _narrower(done, compose(reduction, True))
    scale = scale_text(reduction)
    alt = f"{title} of the {plan.about.title} at a scale of {scale}. {_said(form, sides)}Overall it is {size_words(form, derived.overall)}."
    svg = write(done.sketch, done.width, done.height, f"{title}, scale {scale}", alt)
    panes = tuple(done.sketch.panes)
    return Drawing(f"elevation-{name}", "elevation", title, svg, alt, done.width, done.height, scale, panes)


def _largest(compose: Callable[[int, bool], Sketch], reduction: int) -> tuple[Framed, int]:
    """The drawing at the largest scale at which it fits, rather with fewer dimensions than smaller: those left out follow from the
    distances that stay."""
    for less in (False, True):
        done = framed(compose(reduction, less), _WIDTH)
        if done.needs <= _WIDTH and done.height <= _HEIGHT + 25.0:
            return cropped(done.sketch), reduction
    return at_scale(lambda scale: compose(scale, False), reduction, _WIDTH, _HEIGHT + 25.0)


def _narrower(done: Framed, less: Sketch) -> Framed:
    """The drawing with fewer dimensions, where another then has room beside it: the front gives the same heights one after another."""
    narrow = cropped(less)
    return narrow if narrow.width <= _HALF else done


def _said(form: LengthFormat, sides: dict[str, Chain]) -> str:
    chain = [form.text(high - low) for low, high in sides["left"]]
    return f"Upwards it measures {', '.join(chain)}. " if len(chain) > 1 else ""


def _compose(
    plan: Plan, form: LengthFormat, work: Linework, sides: dict[str, Chain], planes: Sequence[Plane], factor: float
) -> Sketch:
    """Openings and members at the left and above, distances from the floor and from the left end at the right and below; each size once."""
    u0, v0, u1, v1 = work.bounds
    sketch = Sketch()
    window = window_at(work.bounds, factor, 0.0, 0.0)
    _paint(sketch, plan, work, window)
    seen = {part.id: work.outline(part.id) for part in plan.parts}
    for axis, near, far, room, other in (
        (0, "top", "bottom", u1 - u0, v1 - v0),
        (1, "left", "right", v1 - v0, u1 - u0),
    ):
        band = BAND if crossing(planes, work.view, axis) else 0.0
        places = levels(plan, work.view, axis, work.bounds, seen, room * factor)
        told = {span: _dimension(form, near, span, work, factor) for span in sides.get(near, ())}
        told = {span: one for span, one in told.items() if _holds(one, near)}
        whole = [(places[0], places[-1])] if len(places) > 1 else sides.get(f"{near}, whole", [])
        whole = whole if sides or axis == 0 else []
        chain, running = _once(list(told), places, whole)
        place_levels(sketch, form, far, running, work.bounds, factor, band)
        found = [*(told[span] for span in chain), *(_dimension(form, near, span, work, factor) for span in whole)]
        place_dimensions(sketch, near, -band, [replace(one, starts=(band, band)) for one in found], (False, False))
        if whole and len(places) < 2 and room - (whole[0][1] - whole[0][0]).mm > _LITTLE:
            # What leans reaches further than all that has a place of its own.
            reach = Dimension(0.0, room * factor, length_label(form, Length(Fraction(round(room * 1000), 1000))))
            place_dimensions(sketch, far, other * factor + band, [replace(reach, starts=(band, band))], (False, False))
    draw_planes(sketch, planes, work.view, work.bounds, factor)
    if work.view is not PLAN:
        draw_leans(sketch, plan, work, window)
    return sketch


def _once(chain: Chain, places: Sequence[Length], whole: Chain) -> tuple[Chain, list[Length]]:
    """The distances one after another, and those from the datum, without what the other row or the ``whole`` gives already."""
    running = list(places[: -len(whole) or None])
    ends = {end for span in (*chain, *whole) for end in span}
    if whole and ends.issuperset(running):
        return chain, []
    return [span for span in chain if span[0] not in running[:1] or span[1] not in running], running


def _holds(one: Dimension, side: str) -> bool:
    """Whether a distance holds its own value; the others are dimensioned from the datum, on the other side."""
    return (one.label.width if side == "top" else one.label.height) <= one.high - one.low - 0.6


def _dimension(form: LengthFormat, side: str, span: tuple[Length, Length], work: Linework, factor: float) -> Dimension:
    low, high = span[0].mm, span[1].mm
    text = length_label(form, span[1] - span[0])
    if side in ("top", "bottom"):
        return Dimension((low - work.bounds[0]) * factor, (high - work.bounds[0]) * factor, text)
    return Dimension((work.bounds[3] - high) * factor, (work.bounds[3] - low) * factor, text)


def _paint(sketch: Sketch, plan: Plan, work: Linework, window: Window) -> None:
    show(sketch, work, window)
    for part, tint in tints(plan).items():
        paint_flat(sketch, work, window, (part,), shade(tint, 1.35), "wood")
    paint_flat(
        sketch, work, window, tuple(f.id for f in plan.fittings if f.id in work.shown), shade(METAL, 1.5), "metal"
    )
    paint_lines(sketch, work.visible, window, NARROW)
    paint_outline(sketch, work, window, work.shown, VISIBLE)


def _chains(plan: Plan, work: Linework) -> dict[str, Chain]:
    """For the left and the upper side the members and openings one after another, where a line across the view meets most of them."""
    u, v = paper_axis(work.view, 0), paper_axis(work.view, 1)
    exact_u, exact_v = exact_places(plan, work.view, 0), exact_places(plan, work.view, 1)
    face = _face_parts(plan, work)
    u0, v0, u1, v1 = work.bounds
    across = (_scan(work, face, exact_u, v0 + share * (v1 - v0), upright=False) for share in (0.97, 0.04))
    upright = [
        _scan(work, face, exact_v, u0 + share * (u1 - u0), upright=True) for share in _columns(work, face, exact_u)
    ]
    top, bottom = across
    whole_u, whole_v = _overall(plan, u, work.view, 0), _overall(plan, v, work.view, 1)
    middle = _scan(work, face, exact_u, (v0 + v1) / 2, upright=False)
    longest = max(upright, key=len)
    widest = _longer(_longer(top, middle), bottom)
    return {
        "left": _filled(longest, whole_v),
        "top": _filled(widest, whole_u),
        "left, whole": _ends(longest),
        "top, whole": _ends(top or widest),
    }


def _ends(chain: Chain) -> Chain:
    """From end to end of a chain, in one."""
    return [(chain[0][0], chain[-1][1])] if chain else []


def _longer(a: Chain, b: Chain) -> Chain:
    return a if len(a) > len(b) else b


def _filled(chain: Chain, whole: Chain) -> Chain:
    """A chain carried on to both ends of the piece; nothing where it only repeats the overall size."""
    if not chain:
        return []
    (low, high) = whole[0]
    ends = [(low, chain[0][0]), *chain, (chain[-1][1], high)]
    found = [(a, b) for a, b in ends if (b - a).mm >= _LEAST]
    return found if len(found) > 1 else []


def _face_parts(plan: Plan, work: Linework) -> list[str]:
    """The parts that make up the face nearest to the viewer."""
    nearest = {
        part.id: max(float(d) for d in work.view.depth(np.array(list(part.seen.corners)))) for part in plan.parts
    }
    front = max(nearest.values())
    return [part for part, depth in nearest.items() if depth >= front - _FACE_DEPTH and not work.outline(part).is_empty]


def _columns(work: Linework, face: Sequence[str], exact_u: Sequence[Length]) -> list[float]:
    """Where across the view to scan upwards: the middles of the first and the last opening; near the two sides where there is none."""
    u0, v0, u1, v1 = work.bounds
    best: list[float] = []
    for share in (0.3, 0.5, 0.7):
        chain = _scan(work, face, exact_u, v0 + share * (v1 - v0), upright=False)
        middles = [
            ((low.mm + high.mm) / 2 - u0) / (u1 - u0) for low, high in chain if (high - low).mm > 0.08 * (u1 - u0)
        ]
        best = middles if len(middles) > len(best) else best
    return best or [0.04, 0.96]


def _scan(work: Linework, face: Sequence[str], exact: Sequence[Length], at: float, *, upright: bool) -> Chain:
    """The members and openings that a straight line across the face meets, one after another, as exact lengths."""
    u0, v0, u1, v1 = work.bounds
    line = shapely.LineString([(at, v0 - 1), (at, v1 + 1)] if upright else [(u0 - 1, at), (u1 + 1, at)])
    index = 1 if upright else 0
    ends: set[Length] = set()
    for part in face:
        for piece in shapely.get_parts(work.outline(part).intersection(line)).tolist():
            if isinstance(piece, shapely.LineString):
                ends.update(place for c in piece.coords if (place := snapped(exact, c[index])) is not None)
    places = sorted(ends)
    chain = list(pairwise(places))
    return [span for span in chain if (span[1] - span[0]).mm >= _LEAST]


def _overall(plan: Plan, axis: Axis, view: View, row: int) -> Chain:
    """From end to end of the wood; what is screwed on does not count."""
    sign = 1 if view.axes[row][axis.index] > 0 else -1
    ends = sorted(end * sign for part in plan.parts for end in (part.seen.span(axis).low, part.seen.span(axis).high))
    return [(ends[0], ends[-1])]
