"""Putting it together: each body of parts in a proven order, sub-assemblies of it first."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator, Sequence
from dataclasses import dataclass, field, replace

from drawleaf.derive.assembly.asked import is_asked, joined_first
from drawleaf.derive.assembly.groups import (
    Body,
    bodies_of,
    floor_of,
    hosts_of,
    nested_units,
    together,
    units_of,
)
from drawleaf.derive.assembly.order import Arrival, Stuck, Unit
from drawleaf.derive.operations.drafts import Workshop, local, slug
from drawleaf.derive.operations.fitted import fit_opening, fit_parts, fits_late, made_to_opening, trim_flush
from drawleaf.derive.operations.gathering import FIT, SPLINES, TRIM, Portion, add_gathered
from drawleaf.derive.operations.joining import Joining, joining_operations, joints_between, symmetric_groups
from drawleaf.derive.operations.machining import grouped
from drawleaf.derive.operations.paths import Paths, proven_order, search, why_stuck
from drawleaf.derive.operations.splines import setting_in, trimming, way_in
from drawleaf.derive.operations.squaring import THIN, adds_corner, square_plane
from drawleaf.derive.operations.standing_rabbet import rabbet_operations, waiting_joints
from drawleaf.derive.operations.standing_work import due_before, work_standing
from drawleaf.derive.shop.times import clamp_hours, load_hours
from drawleaf.english import listed
from drawleaf.model.catalogue import FastenerKind
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.place import Axis
from drawleaf.model.plan import Joint, Part, Plan, Vector
from drawleaf.model.settings import SquareSettings
from drawleaf.model.steps import Move
from drawleaf.setting_out.hinging import way_home
from drawleaf.units import Length

DRY_FIT_FROM = 3
"""So many moves to a glued body before a rehearsal without glue pays."""


def build_bodies(shop: Workshop, paths: Paths) -> Joining:
    """Steps that build each body, and the proven order in which bodies meet."""
    bodies = bodies_of(shop.plan)
    diagnostics: list[Diagnostic] = []
    made = made_to_opening(shop.plan)
    deferred: list[tuple[Body, ...]] = []
    for copies in grouped(bodies, lambda body: body.kinds):
        if any(shop.plan.part(part).fitted and shop.plan.part(part).assembly in made for part in copies[0].parts):
            deferred.append(tuple(copies))
        else:
            diagnostics += _build_body(shop, paths, copies)
    units = units_of(shop.plan, [(body.id, body.parts, place) for body, place in _one_after_another(bodies)])
    shelves = {body.id for body in bodies if body.loose and not body.carried}
    low = floor_of(shop.plan)
    units = tuple(
        replace(unit, may_tilt=unit.id in shelves, on_floor=unit.id in shelves and _near(shop.plan, unit, low))
        for unit in units
    )
    units = tuple(replace(unit, towards=(*_way_home(shop.plan, unit.id), *unit.towards)) for unit in units)
    arrivals = search(shop.plan, paths, units, paths.tilt)
    if isinstance(arrivals, Stuck):
        diagnostics.append(why_stuck(shop.plan, paths, units, arrivals, paths.tilt))
        arrivals = tuple(Arrival(unit, None) for unit in units)
    by_id = {body.id: body for body in bodies}
    inside: dict[str, tuple[Arrival, ...]] = {}
    for arrival in arrivals:
        _bring_together(shop.plan, paths, arrival.unit, by_id, inside)
    return Joining(arrivals, by_id, tuple(diagnostics), inside, tuple(deferred))


def _one_after_another(bodies: Sequence[Body]) -> Iterator[tuple[Body, tuple[int, ...]]]:
    """Each body with its place in the conventional order: those that are alike come one after the other, so that a step can tell of all."""
    last: dict[Hashable, tuple[int, ...]] = {body.shape: body.closing for body in bodies}
    for body in bodies:
        yield body, (*last[body.shape], *body.closing)


def build_to_openings(shop: Workshop, paths: Paths, joining: Joining) -> list[Diagnostic]:
    """Drawers and doors, now that their openings stand: cut to them, worked on and put together."""
    problems: list[Diagnostic] = []
    homes: dict[str, list[tuple[Body, ...]]] = {}
    for copies in joining.deferred:
        homes.setdefault(copies[0].assembly, []).append(copies)
    for group in homes.values():
        fit_opening(shop, [part for copies in group for body in copies for part in body.parts])
        for copies in group:
            problems += _build_body(shop, paths, copies)
    return problems


def _near(plan: Plan, unit: Unit, floor: Length | None) -> bool:
    """Whether there is too little room below a body to bring it in from there: less than it is high."""
    if floor is None:
        return False
    spans = [plan.part(part).body.span(Axis.Z) for part in unit.parts]
    low = min(span.low for span in spans)
    return low - floor < max(span.high for span in spans) - low


def _way_home(plan: Plan, body: str) -> tuple[Vector, ...]:
    """The way that its hinges, magnets or fasteners ask a body to come."""
    way = way_home(plan, body)
    return () if way is None else (way,)


def _bring_together(
    plan: Plan, paths: Paths, unit: Unit, bodies: dict[str, Body], inside: dict[str, tuple[Arrival, ...]]
) -> None:
    """Bodies that can only go on as one: noted as one body, with the order in which they meet each other."""
    if not unit.members:
        return
    inner = search(plan, paths, unit.members, paths.tilt)
    assert not isinstance(inner, Stuck)  # the search gave only what can be built
    for arrival in inner:
        _bring_together(plan, paths, arrival.unit, bodies, inside)
    inside[unit.id] = inner
    bodies[unit.id] = together(unit, bodies)


def _build_body(shop: Workshop, paths: Paths, copies: Sequence[Body]) -> list[Diagnostic]:
    """The steps that build one body, and its copies with it."""
    body, plan = copies[0], shop.plan
    if len(body.parts) < 2:
        return []
    nested = nested_units(plan, body, _rank(plan))
    arrivals = proven_order(plan, paths, joined_first(plan, nested))
    if isinstance(arrivals, Stuck) and not is_asked(plan, body.parts):
        flat = [(part, (part,), _rank(plan)(part)) for part in body.parts if part not in hosts_of(plan)]
        arrivals = proven_order(plan, paths, units_of(plan, flat))
    problems: list[Diagnostic] = []
    if isinstance(arrivals, Stuck):
        problems.append(why_stuck(plan, paths, nested, arrivals))
        arrivals = tuple(Arrival(unit, None) for unit in arrivals.units)
    heading = shop.words.tell("Build the {}", plan.assembly(body.assembly).name.lower())
    builder = _Builder(shop, paths, body, copies)
    add_gathered(shop, body.assembly, heading, _portions(builder, arrivals))
    return [*problems, *builder.problems]


def _rank(plan: Plan):
    """The conventional order of parts: the author's, with panels that close the piece at its end."""
    order = {part.id: place for place, part in enumerate(plan.parts)}
    return lambda part: (_closes(plan, plan.part(part)), order[part])


@dataclass(frozen=True, slots=True)
class _Builder:
    """One body being built, with its copies."""

    shop: Workshop
    paths: Paths
    body: Body
    copies: Sequence[Body]
    problems: list[Diagnostic] = field(default_factory=list)

    @property
    def plan(self) -> Plan:
        return self.shop.plan

    def twins(self, parts: Sequence[str]) -> tuple[str, ...]:
        """The same parts in all copies of the body."""
        places = [self.body.parts.index(part) for part in parts]
        return tuple(copy.parts[place] for copy in self.copies for place in places)

    def joints(self, new: Sequence[str], standing: Sequence[str]) -> list[Joint]:
        """The joints that close, in all copies."""
        plan, first = self.plan, self.body
        return [
            joint
            for copy in self.copies
            for joint in joints_between(plan, _moved(first, copy, new), _moved(first, copy, standing))
        ]


def _portions(builder: _Builder, arrivals: Sequence[Arrival], name: str = "") -> list[Portion]:
    """The work on one body or sub-assembly, move by move: sub-assemblies first, then a rehearsal, then the moves."""
    plan = builder.plan
    name = name or local(builder.body.assembly)
    found: list[Portion] = []
    for arrival in arrivals:
        if arrival.unit.members:
            inner = proven_order(plan, builder.paths, arrival.unit.members)
            if not isinstance(inner, Stuck):
                found += _portions(builder, inner, slug(local(arrival.unit.id)))
    groups = symmetric_groups(plan, arrivals)
    parts = [part for arrival in arrivals for part in arrival.unit.parts]
    inner_joints = _inner_joints(plan, parts)
    if len(groups) >= DRY_FIT_FROM and any(joint.glued for joint in inner_joints) and not _pocketed(inner_joints):
        late = {joint.insert for joint in waiting_joints(inner_joints)}
        late |= {part for part in parts if fits_late(plan.part(part))}
        found.append(_dry_fit(builder, [part for part in parts if part not in late], name))
    square = square_plane(plan, parts)
    standing = list(groups[0][0].unit.parts)
    squared_at = None if square is None else _squared_at(builder, groups)
    glued = any(joint.glued for joint in inner_joints)
    for place, group in enumerate(groups[1:], start=1):
        last = place == len(groups) - 1
        closing = last and bool(_closes(plan, plan.part(group[0].unit.parts[0])))
        rabbet = _cut_rabbets(builder, standing, group)
        due = due_before(builder.shop, [part for arrival in group for part in arrival.unit.parts])
        if due:
            home = plan.assembly(builder.body.assembly).name.lower()
            work_standing(builder.shop, due, plan.words.tell("Build the {}", home))
        new = builder.twins([part for arrival in group for part in arrival.unit.parts])
        if square is not None and closing and squared_at is None:
            found.append(_square(builder, standing, SquareSettings(square, True, glued), name))
        if rabbet is not None:
            found[-1] = _left_to_set(builder, found[-1])
            found.append(rabbet())
        found += _fit(builder, new, standing)
        found.append(replace(_join(builder, standing, group, place == 1, name), apart=bool(due)))
        standing += [part for arrival in group for part in arrival.unit.parts]
        if square is not None and place == squared_at:
            found.append(_square(builder, standing, SquareSettings(square, False, glued), name))
        later = [part for other in groups[place + 1 :] for arrival in other for part in arrival.unit.parts]
        found += _splines(builder, standing, later, name)
    return found


def _splines(builder: _Builder, standing: list[str], later: Sequence[str], name: str) -> list[Portion]:
    """The splines that go in now: those whose parts all stand, as late as their slots are still open. Adds them to what stands."""
    plan = builder.plan
    ways: dict[str, Vector | None] = {}
    for piece, hosts in hosts_of(plan).items():
        if piece in standing or piece not in builder.body.parts or not hosts <= set(standing):
            continue
        if later and way_in(plan, piece, [*standing, *later], builder.paths.slides) is not None:
            continue
        ways[piece] = way_in(plan, piece, standing, builder.paths.slides)
        if ways[piece] is None:
            builder.problems.append(_caught(plan, piece))
    if not ways:
        return []
    key = f"splines-{name}"
    pieces, all_standing = builder.twins(list(ways)), builder.twins(standing)
    glue = setting_in(builder.shop, key, pieces, all_standing)
    moves = tuple(Move(twin, way) for piece, way in ways.items() if way for twin in builder.twins((piece,)))
    standing += ways
    found = [Portion(key, SPLINES, (glue,), all_standing, pieces, moves)]
    trim = trimming(builder.shop, f"trim-{key}", pieces, all_standing)
    return found if trim is None else [*found, Portion(trim.id, TRIM, (trim,), (*all_standing, *pieces), ())]


def _caught(plan: Plan, piece: str) -> Diagnostic:
    hosts = listed([f"“{host}”" for host in sorted(hosts_of(plan)[piece])])
    return Diagnostic(
        "spline-caught",
        f"The spline between {hosts} cannot be put in: both ends of its slot are closed when they stand",
        plan.part(piece).position,
        "A spline slides along its slot, from an end of the corner or from its outside.",
        "Leave room at one end of the corner, or hold the mitre in another way.",
    )


def _cut_rabbets(builder: _Builder, standing: Sequence[str], group: Sequence[Arrival]) -> Callable[[], Portion] | None:
    """What cuts the rabbets that wait for the parts that stand, before the next parts go into them; None where none wait."""
    new = tuple(part for arrival in group for part in arrival.unit.parts)
    joints = builder.joints(new, standing)
    if not waiting_joints(joints):
        return None

    def cut() -> Portion:
        twins = builder.twins(standing)
        operations = rabbet_operations(builder.shop, joints, twins)
        return Portion(operations[0].id, "rabbet-standing", operations, twins, ())

    return cut


def _fit(builder: _Builder, new: Sequence[str], standing: Sequence[str]) -> list[Portion]:
    """What gives the new parts their last size, marked from what stands."""
    twins = builder.twins(standing)
    home = builder.plan.assembly(builder.body.assembly).name.lower()
    operations = tuple(fit_parts(builder.shop, new, twins, builder.plan.words.tell("Build the {}", home)))
    return [Portion(operations[0].id, FIT, operations, twins, ())] if operations else []


def _left_to_set(builder: _Builder, portion: Portion) -> Portion:
    """The portion with its glue left to set: the router shakes the joints."""
    last = replace(portion.operations[-1], wait_hours=load_hours(builder.plan.catalogue))
    return replace(portion, operations=(*portion.operations[:-1], last))


def _closes(plan: Plan, part: Part) -> int:
    """1 for a thin panel that closes the piece last, 0 for the rest."""
    joints = [joint for joint in plan.joints_of((part.id,)) if joint.insert == part.id]
    nailed = any(joint.fasteners for joint in joints)
    return int(part.stock.thickness < THIN and nailed)


def _inner_joints(plan: Plan, parts: Sequence[str]) -> list[Joint]:
    own = set(parts)
    return [joint for joint in plan.joints_of(own) if joint.insert in own and joint.receiver in own]


def _pocketed(joints: Sequence[Joint]) -> bool:
    """Whether pocket screws pull every joint together: each is tried as it is made, so nothing is gained by a rehearsal."""
    return all(any(fastener.item.kind == FastenerKind.POCKET_SCREW for fastener in joint.fasteners) for joint in joints)


def _moved(first: Body, copy: Body, parts: Sequence[str]) -> tuple[str, ...]:
    return tuple(copy.parts[first.parts.index(part)] for part in parts)


def _dry_fit(builder: _Builder, parts: Sequence[str], name: str) -> Portion:
    twins = builder.twins(parts)
    key = f"dry-fit-{name}"
    return Portion(key, "dry-fit", (builder.shop.operation(key, "dry-fit", twins),), twins, ())


def _squared_at(builder: _Builder, groups: Sequence[Sequence[Arrival]]) -> int | None:
    """After which group the corners are pulled square: as soon as the last glued joint of the ring is closed, while its glue is wet.

    None where a panel that is ready closes the piece: it holds the corners, so they are squared just before it.
    """
    plan = builder.plan
    parts = [[part for arrival in group for part in arrival.unit.parts] for group in groups]
    ends = len(groups)
    closing = bool(_closes(plan, plan.part(parts[-1][0])))
    if closing:
        joints = builder.joints(parts[-1], [part for own in parts[:-1] for part in own])
        if not waiting_joints(joints) and not any(fits_late(plan.part(part)) for part in parts[-1]):
            return None
        ends -= 1
    every = [part for own in parts for part in own]
    whole = square_plane(plan, every)
    for place in range(ends - 1, 0, -1):
        standing = [part for own in parts[:place] for part in own]
        # What is marked from the piece comes when its glue has set.
        sets = any(fits_late(plan.part(part)) for own in parts[place + 1 :] for part in own)
        if any(joint.glued for joint in builder.joints(parts[place], standing)):
            ring = square_plane(plan, (*standing, *parts[place]))
            if not adds_corner(plan, standing, parts[place], every):
                continue
            return place if ring is whole or closing or sets else ends - 1
    return ends - 1


def _square(builder: _Builder, standing: Sequence[str], settings: SquareSettings, name: str) -> Portion:
    key = f"square-{name}"
    hours = clamp_hours(builder.plan.catalogue) if settings.glued and not settings.closing else 0.0
    operation = builder.shop.operation(key, "square", tuple(standing), settings=settings, wait_hours=hours)
    return Portion(key, "square", (operation,), tuple(standing), (), closing=settings.closing)


def _join(builder: _Builder, standing: Sequence[str], group: Sequence[Arrival], first: bool, name: str) -> Portion:
    """One part or one symmetric group comes to what stands."""
    plan = builder.plan
    new = tuple(part for arrival in group for part in arrival.unit.parts)
    joints = builder.joints(new, standing)
    key = f"assemble-{name}-{local(plan.part(group[0].unit.parts[0]).kind)}"
    all_new, all_standing = builder.twins(new), builder.twins(standing)
    operations = joining_operations(builder.shop, key, all_new, all_standing, joints)
    operations += trim_flush(builder.shop, all_new, all_standing)
    moves = tuple(
        Move(twin, arrival.direction)
        for arrival in group
        if arrival.direction
        for part in arrival.unit.parts
        for twin in builder.twins((part,))
    )
    return Portion(key, "join", tuple(operations), all_standing, all_new, moves, first)
