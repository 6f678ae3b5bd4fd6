"""Every part of a plan as a solid: its body with all its features machined out. Bought items and screws as plain shapes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np
from manifold3d import Manifold, OpType

from drawleaf.model.place import Point
from drawleaf.model.plan import Bore, BoxCut, EdgeProfile, Fastener, Feature, Fitting, Part, Plan, Vector
from drawleaf.model.shapes import OutlineCut, PlaneCut
from drawleaf.solids.bodies import fastener_solid, fitting_solid
from drawleaf.solids.cutters import block, bore, box_cut, box_of
from drawleaf.solids.edge_courses import along_course
from drawleaf.solids.edge_runs import edge_run
from drawleaf.solids.homes import AtHome, Homes
from drawleaf.solids.memos import Memos
from drawleaf.solids.outlines import beyond, leaning, outline_cut, section_body
from drawleaf.solids.solid import Curve, Floats, Solid, Triple

Driven = tuple[str, Point, Vector]
"""A fastener by its item, the place of its head and its direction."""


@dataclass(frozen=True, eq=False, slots=True)
class Shapes:
    """Solids that several plans may share: bodies at home, each part's solid in each of its states, and fasteners."""

    homes: Homes = field(default_factory=Homes)
    states: dict[str, list[tuple[Part, Solid]]] = field(default_factory=dict)
    fasteners: dict[Driven, Solid] = field(default_factory=dict)


def driven(fastener: Fastener) -> Driven:
    """What the solid of a fastener follows from."""
    return fastener.item.id, fastener.at, fastener.direction


@dataclass(frozen=True, eq=False)
class Solids:
    """The solids of a plan by id, made when first asked for. ``made`` are those made so far, ``shapes`` what parts look like in any state
    met so far; ``memos`` keep what other rooms work out of them. ``sawn``: they are no longer those of the plan's parts, being cut through."""

    plan: Plan
    memos: Memos = field(default_factory=Memos, repr=False)
    made: dict[str, Solid | None] = field(default_factory=dict, repr=False)
    shapes: Shapes = field(default_factory=Shapes, repr=False)
    sawn: bool = False

    def with_states(self, states: Mapping[str, Part]) -> Solids:
        """The solids of the same plan with some parts in another state, such as not yet cut. Bodies that stay as they are, and what was
        worked out of bodies alone, are shared."""
        parts = tuple(states.get(part.id, part) for part in self.plan.parts)
        made = {key: solid for key, solid in self.made.items() if key.removeprefix("upright:") not in states}
        return Solids(replace(self.plan, parts=parts), self.memos.beside(), made, self.shapes)

    def solid(self, part_id: str) -> Solid:
        """The part with its joinery cut. Raises KeyError where the plan has no such part."""
        if part_id not in self.made:
            self.made[part_id] = self._in_its_state(self._part(part_id))
        made = self.made[part_id]
        assert made is not None
        return made

    def _in_its_state(self, part: Part) -> Solid:
        """The solid of a part, made once for all plans in which it is in the same state."""
        known = self.shapes.states.setdefault(part.id, [])
        for state, solid in known:
            if state == part:
                return solid
        home = self.homes.of(part, part_solid)
        assert home.solid is not None
        known.append((part, home.solid.moved(home.at)))
        return known[-1][1]

    def upright(self, part_id: str) -> Solid:
        """The part in its own frame: the same as ``solid`` but for a part that leans. Raises KeyError where the plan has no such part."""
        part = self._part(part_id)
        if part.tilt is None:
            return self.solid(part_id)
        key = f"upright:{part_id}"
        if key not in self.made:
            self.made[key] = upright_solid(part)
        made = self.made[key]
        assert made is not None
        return made

    def fitting(self, fitting_id: str) -> Solid | None:
        """The bought item as a plain shape; None where it has no body to draw. Raises KeyError where the plan has no such fitting."""
        key = f"fitting:{fitting_id}"
        if key not in self.made:
            found = next((fitting for fitting in self.plan.fittings if fitting.id == fitting_id), None)
            if found is None:
                raise KeyError(fitting_id)
            self.made[key] = fitting_solid(found)
        return self.made[key]

    def body(self, an_id: str) -> Solid | None:
        """The solid of a part or fitting, whichever the id names."""
        return self.solid(an_id) if isinstance(self._by_id.get(an_id), Part) else self.fitting(an_id)

    def at_home(self, an_id: str) -> AtHome:
        """``body`` at home: bodies that are shaped alike are one and the same there. What is sawn through stays in its place."""
        if self.sawn:
            return AtHome(self.body(an_id), (0.0, 0.0, 0.0))
        one = self._by_id[an_id]
        return self.homes.of(one, part_solid) if isinstance(one, Part) else self.homes.of(one, fitting_solid)

    def box(self, an_id: str) -> Floats | None:
        """(2, 3) low and high corner of a body in the piece, in millimetres; None for what is not drawn."""
        home = self.at_home(an_id)
        return None if home.solid is None else home.solid.bounds + np.array(home.at)

    def pair(self, one: str, other: str) -> tuple[Solid | None, Solid | None, Triple]:
        """What two bodies are to each other: their shapes, and how far the second stands from the first, in mm. Equal for two others that are
        shaped alike and meet alike."""
        first, second = self.at_home(one), self.at_home(other)
        return first.solid, second.solid, rounded(second.at, first.at)

    def alone(self, part: Part) -> Solids:
        """The solid of one part, in whatever state it is."""
        return Solids(replace(self.plan, parts=(part,), fittings=()), self.memos.beside(), shapes=self.shapes)

    @property
    def homes(self) -> Homes:
        """The shapes met so far."""
        return self.shapes.homes

    def _part(self, part_id: str) -> Part:
        part = self._by_id.get(part_id)
        if not isinstance(part, Part):
            raise KeyError(part_id)
        return part

    @cached_property
    def _by_id(self) -> Mapping[str, Part | Fitting]:
        return {one.id: one for one in (*self.plan.fittings, *self.plan.parts)}

    def fastener(self, fastener: Fastener) -> Solid:
        """A screw or brad as a thin round bar with its head."""
        key = driven(fastener)
        if key not in self.shapes.fasteners:
            self.shapes.fasteners[key] = fastener_solid(fastener)
        return self.shapes.fasteners[key]


def rounded(place: Triple, origin: Triple) -> Triple:
    """A place as seen from another, in mm, so that it is the same wherever on the piece the two are."""
    x, y, z = (round(a - b, 6) + 0.0 for a, b in zip(place, origin, strict=True))
    return x, y, z


def build_solids(plan: Plan) -> Solids:
    """The solids of a plan."""
    return Solids(plan)


def part_solid(part: Part) -> Solid:
    """The part with all its features cut, in its place on the piece."""
    upright = upright_solid(part)
    return upright if part.tilt is None else leaning(upright, part.tilt)


def without(part: Part, cut: Feature) -> Part:
    """The part with all its features but that one."""
    return replace(part, features=tuple(feature for feature in part.features if feature is not cut))


def upright_solid(part: Part) -> Solid:
    """The part's body with all its features cut away, in its own frame: as it stood before it leans."""
    cutters: list[Manifold] = []
    rims: list[Manifold] = []
    curves: list[Curve] = []
    planes: list[PlaneCut] = []
    for feature in part.features:
        match feature:
            case BoxCut():
                cutters.append(box_cut(feature))
            case Bore():
                body, curve = bore(feature, part)
                cutters.append(body)
                curves.append(curve)
            case EdgeProfile(courses=()) if not feature.round_what:
                body, rounded = edge_run(feature, part)
                cutters.append(body)
                curves += rounded
            case EdgeProfile():
                for course in feature.courses:
                    body, rounded = along_course(feature, course, part)
                    rims.append(body)
                    curves += rounded
            case OutlineCut():
                body, arcs = outline_cut(feature)
                cutters.append(body)
                curves += arcs
            case PlaneCut():
                planes.append(feature)
    blank, arcs = _blank(part)
    # One tool for all the cuts: where two of them share a face, cutting one after the other could leave a thread of wood between.
    body = blank - Manifold.batch_boolean(cutters, OpType.Add) if cutters else blank
    for rim in rims:
        # What follows an outline comes after it: the profile reaches well out of the sawn edge, and so leaves no thread.
        body -= rim
    for plane in planes:
        body = beyond(body, plane)
    return Solid(body, (*arcs, *curves))


def _blank(part: Part) -> tuple[Manifold, tuple[Curve, ...]]:
    if part.section is not None:
        run = part.body.span(part.section.outline.axis)
        return section_body(part.section, run.low.mm, run.high.mm)
    low, high = box_of(part.body)
    return block(low, high), ()
