"""Exploded views: the whole piece by its assemblies, then each assembly by its parts, with balloons numbered as the cut list."""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

import shapely
from shapely.geometry.base import BaseGeometry

from drawleaf.derive.assembly.groups import Body, bodies_of, shape_of
from drawleaf.draw.paper.balloons import Tag, arrange, draw_balloons
from drawleaf.draw.paper.frame import EDGE, Room, fitted
from drawleaf.draw.paper.style import EXPLOSION, PICTURE_EDGE, PICTURE_OUTLINE
from drawleaf.draw.paper.svg import Sketch, write
from drawleaf.draw.picture.panes import show
from drawleaf.draw.picture.picture import Window, inner_point, paint_faces, paint_lines, paint_outline, window_fitting
from drawleaf.draw.piece.explosion import Explosion, Line, Moving, explode
from drawleaf.draw.piece.shown import METAL, tints
from drawleaf.draw.sight.hidden_lines import project
from drawleaf.draw.sight.linework import Linework
from drawleaf.draw.sight.view import PICTORIAL, PICTORIAL_LEFT, View
from drawleaf.english import listed
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawing
from drawleaf.model.lists import CutList
from drawleaf.model.plan import Assembly, Plan
from drawleaf.solids.build import Solids

_WIDTH, _HEIGHT = 170.0, 200.0
_STACKED = Room(_WIDTH, 78.0)
"""The views of single assemblies stand two to a page, or with two narrow ones between them."""
_BESIDE, _FEW = Room(84.0, 94.0), 5
"""One of no more numbers than these is clear at half the width, so that two stand side by side."""
_HIGH, _MANY = Room(_WIDTH, 128.0), 9
"""One of more numbers than these is crowded in less."""
_ENOUGH, _FAIR, _APART, _SHORT = 6.0, 2.0, 3.0, 1.0
"""Millimetres on paper: of an explosion line as much as this is enough to see; where less than the second shows of those
through the joints, corners have them; two of one part are so far apart; what is shorter is no line."""
_CROWDED = 9
"""With more parts than this the whole piece comes apart by assemblies first."""


@dataclass(frozen=True, slots=True)
class Exploded:
    """What an exploded view shows: ``units`` that come apart, those called by name rather than by number, and whether it is of an assembly
    alone; ``what`` says it in words."""

    id: str
    title: str
    what: str
    units: tuple[Moving, ...]
    names: Mapping[str, str] | None = None
    alone: bool = False


def exploded_views(plan: Plan) -> tuple[Exploded, ...]:
    """The overall view, and one for each assembly of more than two parts when the whole would be crowded."""
    tops = [assembly for assembly in plan.assemblies if assembly.parent is None]
    if len(plan.parts) <= _CROWDED or len(plan.assemblies) == 1:
        units = tuple(Moving(part.id, _with_fittings(plan, (part.id,))) for part in plan.parts)
        return (Exploded("exploded-1", "Exploded view", "All parts", units),)
    falling = _falling_apart(plan)
    units = tuple(unit for top in tops if plan.parts_in(top.id) for unit in _whole_units(plan, top, falling))
    # An assembly that has a view of its own is called by its name; the parts of the others have their numbers here.
    named = {top.id: top.name for top in tops if _comes_apart(units_inside(plan, top))}
    names = dict(named)
    for top, pieces in falling.items():
        if top in named:
            names |= {piece.id: _one_of(named[top]) for piece in pieces}
    views = [Exploded("exploded-1", "Exploded view of the whole", "The assemblies", units, names)]
    for assembly, *others in _alike(plan):
        units, name = units_inside(plan, assembly), assembly.name
        what = f"The parts of the {name.lower()}"
        if others:
            name = (
                f"{name}, {len(others) + 1} alike"
                if len(others) > 1
                else f"{name}; the {others[0].name.lower()} likewise"
            )
        views.append(Exploded(f"exploded-{len(views) + 1}", f"Exploded view: {name}", what, units, alone=True))
    return tuple(views)


def _alike(plan: Plan) -> list[list[Assembly]]:
    """The assemblies that are worth a view of their own, those that are alike together: the first of them is shown."""
    found: dict[Hashable, list[Assembly]] = {}
    for assembly in plan.assemblies:
        if _comes_apart(units_inside(plan, assembly)):
            parts = [part.id for part in plan.parts_in(assembly.id)]
            names = tuple(sorted(plan.part(part).name for part in parts))
            found.setdefault((names, shape_of(plan, parts)), []).append(assembly)
    return list(found.values())


def _falling_apart(plan: Plan) -> dict[str, list[Body]]:
    """The assemblies that stand in several pieces, which other assemblies hold together: two trestles, two ends of a plinth."""
    found: dict[str, list[Body]] = {}
    for body in bodies_of(plan):
        if not body.loose:
            found.setdefault(body.assembly, []).append(body)
    return {assembly: pieces for assembly, pieces in found.items() if len(pieces) > 1}


def _whole_units(plan: Plan, top: Assembly, falling: Mapping[str, Sequence[Body]]) -> list[Moving]:
    """An assembly as it moves in the view of the whole: in one, or piece by piece."""
    if top.id in falling:
        return [Moving(piece.id, _with_fittings(plan, piece.parts)) for piece in falling[top.id]]
    return [Moving(top.id, _with_fittings(plan, tuple(part.id for part in plan.parts_in(top.id))))]


def _one_of(name: str) -> str:
    """``Trestle``, one of the ``Trestles``."""
    return name.removesuffix("s")


def _comes_apart(units: Sequence[Moving]) -> bool:
    """Whether an assembly of these is worth a view of its own."""
    return sum(len(unit.parts) for unit in units) > 2 and len(units) > 1


def units_inside(plan: Plan, assembly: Assembly) -> tuple[Moving, ...]:
    """An assembly's own parts, and its inner assemblies as wholes."""
    own = [Moving(part, (part,)) for part in assembly.parts]
    inner = [Moving(child, tuple(part.id for part in plan.parts_in(child))) for child in assembly.children]
    return tuple(unit for unit in (*own, *inner) if unit.parts)


def _with_fittings(plan: Plan, parts: tuple[str, ...]) -> tuple[str, ...]:
    """Parts with the bought items mounted on the first of them."""
    return (*parts, *(f.id for f in plan.fittings if f.body and f.parts and f.parts[0] in parts))


def draw_exploded(derived: Derived, solids: Solids, subject: Exploded) -> Drawing:
    """An exploded view."""
    explosion = explode(solids, subject.units)
    shown = tuple(part for unit in subject.units for part in unit.parts)
    work = _best(solids, shown, explosion, derived.cut_list)
    rows = [item for item in derived.cut_list.items if any(part.id in shown for part in item.parts)]
    done = fitted(
        lambda wide, high, rough: _compose(derived, work, explosion, subject, (wide, high), Sketch(rough=rough)),
        *(_room(len(rows)) if subject.alone else Room(_WIDTH, _HEIGHT)),
    )
    names = listed([f"{item.number} {item.name}" for item in rows], most=40)
    alt = f"{subject.what} of the {derived.plan.about.title} pulled apart along the ways they go together. Numbered parts: {names}."
    svg = write(done.sketch, done.width, done.height, subject.title, alt)
    panes = tuple(done.sketch.panes)
    return Drawing(subject.id, "exploded", subject.title, svg, alt, done.width, done.height, None, panes)


def _room(numbers: int) -> Room:
    """For the view of a single assembly with so many numbers."""
    return _BESIDE if numbers <= _FEW else _STACKED if numbers <= _MANY else _HIGH


def _compose(
    derived: Derived,
    work: Linework,
    explosion: Explosion,
    subject: Exploded,
    room: tuple[float, float],
    sketch: Sketch,
) -> Sketch:
    """The picture within so much width and height, with explosion lines, on the sketch; balloons stand outside."""
    window = window_fitting(work.bounds, (EDGE, EDGE, room[0] - EDGE, room[1] - EDGE), most=0.5)
    show(sketch, work, window, explosion.offsets)
    paint_faces(sketch, work, window, tints(derived.plan), METAL)
    paint_lines(sketch, work.visible, window, PICTURE_EDGE)
    for unit in subject.units:
        paint_outline(sketch, work, window, unit.parts, PICTURE_OUTLINE, heal=0.05)
    _explosion_lines(sketch, work, window, explosion)
    if subject.names is not None:
        whole = [unit for unit in subject.units if unit.id in subject.names]
        single = tuple(part for unit in subject.units if unit not in whole for part in unit.parts)
        tags = [*_name_tags(work, window, whole, subject.names), *item_tags(work, window, derived.cut_list, single)]
    else:
        tags = item_tags(work, window, derived.cut_list, work.shown)
    draw_balloons(sketch, arrange(tags, on_paper(work, window)))
    return sketch


def _name_tags(work: Linework, window: Window, units: Sequence[Moving], names: Mapping[str, str]) -> list[Tag]:
    """The name of each assembly, pointing at what shows most of it."""
    tags: list[Tag] = []
    for unit in units:
        part = max(unit.parts, key=lambda p: (round(work.outline(p).area, 1), -unit.parts.index(p)))
        point = inner_point(work.outline(part))
        if point:
            tags.append(Tag(names[unit.id], window.at(*point), named=True))
    return tags


def _best(solids: Solids, shown: tuple[str, ...], explosion: Explosion, cut_list: CutList) -> Linework:
    """From the front left or the front right: where more rows of the cut list can be pointed at, and with larger areas."""

    def merit(work: Linework) -> tuple[int, float]:
        areas = [
            max((work.outline(p.id).area for p in item.parts if p.id in shown), default=0.0) for item in cut_list.items
        ]
        return sum(area > 0 for area in areas), round(sum(area**0.5 for area in areas), 0)

    views: tuple[View, ...] = (PICTORIAL_LEFT, PICTORIAL)
    return max((project(solids, view, shown, explosion.offsets) for view in views), key=merit)


def item_tags(
    work: Linework,
    window: Window,
    cut_list: CutList,
    shown: Sequence[str],
    new: frozenset[str] = frozenset(),
    avoid: BaseGeometry | None = None,
) -> list[Tag]:
    """One balloon for each cut-list row that can be seen, on the copy with the largest visible area; leaders end clear of ``avoid``."""
    tags: list[Tag] = []
    for item in cut_list.items:
        copies = [part.id for part in item.parts if part.id in shown]
        if not copies:
            continue
        part = max(copies, key=lambda p: (p in new, round(work.outline(p).area, 1), -copies.index(p)))
        point = inner_point(work.outline(part), avoid)
        if point:
            tags.append(Tag(str(item.number), window.at(*point), part in new))
    return tags


def on_paper(work: Linework, window: Window) -> BaseGeometry:
    """The area that the drawing covers on paper."""
    filled = _filled(work)
    if filled.is_empty:
        return shapely.box(*window.box(work.bounds))
    return shapely.transform(filled, lambda points: points * (window.factor, -window.factor) + window.origin)


@lru_cache(maxsize=2)
def _filled(work: Linework) -> BaseGeometry:
    """The area of all that is seen, holes in a part filled. Kept while a drawing is fitted into its frame."""
    pieces = shapely.get_parts([work.outline(part) for part in work.shown])
    solid = pieces[shapely.get_type_id(pieces) == shapely.GeometryType.POLYGON]
    return shapely.union_all(shapely.polygons(shapely.get_exterior_ring(solid)))


def _explosion_lines(sketch: Sketch, work: Linework, window: Window, explosion: Explosion) -> None:
    """Two lines for each unit that moves, shown only in the gaps between parts: what would run over a part is cut away. Those of which most
    is seen, through its joints where some of them shows."""
    covered = work.region(work.shown).buffer(0.3 / window.factor)
    shapely.prepare(covered)
    for way in explosion.ways:
        seen = _seen(work, way.joints, covered)
        if max(line.length for line in seen) * window.factor < _FAIR:
            seen = _seen(work, way.corners, covered)
        best = sorted(range(len(seen)), key=lambda at: (-round(min(seen[at].length * window.factor, _ENOUGH), 1), at))
        chosen: list[BaseGeometry] = []
        for at in best:
            if len(chosen) < 2 and all(seen[at].distance(one) * window.factor > _APART for one in chosen):
                chosen.append(seen[at])
        for piece in shapely.get_parts(chosen).tolist():
            if isinstance(piece, shapely.LineString) and piece.length * window.factor > _SHORT:
                sketch.line(EXPLOSION, *(window.at(u, v) for u, v in piece.coords))


def _seen(work: Linework, lines: Sequence[Line], covered: BaseGeometry) -> list[BaseGeometry]:
    """What is seen of each line, in the view's plane."""
    return [shapely.LineString([work.view.point(a), work.view.point(b)]).difference(covered) for a, b in lines]
