"""Putting it together: each body of parts in a proven order, then the bodies to one another."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from drawleaf.derive.drafts import Stage, Workshop, counted, local, slug, title_names
from drawleaf.derive.groups import Body, bodies_of, joined_units, units_of
from drawleaf.derive.operations_machining import grouped
from drawleaf.derive.order import Arrival, Free, Reach, Stuck, Tilt, Unit, build_order
from drawleaf.derive.part_words import listed
from drawleaf.derive.stuck import stuck_diagnostic
from drawleaf.derive.times import WAIT_CLAMPED
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.place import Axis
from drawleaf.model.plan import Fastener, Joint, Part, Plan
from drawleaf.model.steps import Move, Operation, Scene
from drawleaf.units import Length

THIN = Length.of_mm(9)
"""A sheet panel thinner than this closes a case: it goes on after the case is square, and holds it so."""
DRY_FIT_FROM = 3
"""So many parts to a glued body before a rehearsal without glue pays."""


@dataclass(frozen=True, slots=True)
class Paths:
    """What the order search asks of the solids: ways out for parts at rest, and whether fasteners can be driven."""

    free: Free
    reach: Reach
    tilt: Tilt


@dataclass(frozen=True, slots=True)
class Joining:
    """Bodies in the order they meet, after each was built."""

    arrivals: tuple[Arrival, ...]
    bodies: dict[str, Body]
    diagnostics: tuple[Diagnostic, ...]


def build_bodies(shop: Workshop, paths: Paths) -> Joining:
    """Steps that build each body, and the proven order in which bodies meet."""
    bodies = bodies_of(shop.plan)
    diagnostics: list[Diagnostic] = []
    for copies in grouped(bodies, lambda body: body.kinds):
        diagnostics += _build_body(shop, paths, copies)
    units = units_of(shop.plan, [(body.id, body.parts, body.closing) for body in bodies])
    shelves = {body.id for body in bodies if body.loose and not body.carried}
    units = tuple(replace(unit, may_tilt=unit.id in shelves) for unit in units)
    arrivals = build_order(units, paths.free, paths.reach, joined_units(shop.plan, units), paths.tilt)
    if isinstance(arrivals, Stuck):
        diagnostics.append(stuck_diagnostic(shop.plan, arrivals.units, paths.free))
        arrivals = tuple(Arrival(unit, None) for unit in units)
    return Joining(arrivals, {body.id: body for body in bodies}, tuple(diagnostics))


def _build_body(shop: Workshop, paths: Paths, copies: Sequence[Body]) -> list[Diagnostic]:
    """The steps that build one body, and its copies with it."""
    body, plan = copies[0], shop.plan
    if len(body.parts) < 2:
        return []
    order = {part.id: place for place, part in enumerate(plan.parts)}
    members = [(part, (part,), (_closes(plan, plan.part(part)), order[part])) for part in body.parts]
    units = units_of(plan, members)
    arrivals = build_order(units, paths.free, paths.reach, joined_units(plan, units))
    problems: list[Diagnostic] = []
    if isinstance(arrivals, Stuck):
        problems.append(stuck_diagnostic(plan, arrivals.units, paths.free))
        arrivals = tuple(Arrival(unit, None) for unit in units)
    groups = symmetric_groups(plan, arrivals)
    heading = _heading(shop, body)
    if len(groups) >= DRY_FIT_FROM and any(joint.glued for joint in _inner_joints(plan, body.parts)):
        _dry_fit(shop, body, copies, heading)
    square = _square_plane(plan, body)
    standing: list[str] = [arrival.unit.id for arrival in groups[0]]
    for place, group in enumerate(groups[1:], start=1):
        closing = place == len(groups) - 1 and bool(_closes(plan, plan.part(group[0].unit.id)))
        if square is not None and closing:
            _square(shop, body, standing, square, heading, closing)
        base = tuple(standing) if place == 1 else ()
        _add_group(shop, body, copies, standing, base, group, heading)
        standing += [arrival.unit.id for arrival in group]
        if square is not None and place == len(groups) - 1 and not closing:
            _square(shop, body, standing, square, heading, closing)
    return problems


def _heading(shop: Workshop, body: Body) -> str:
    return f"Build the {shop.plan.assembly(body.assembly).name.lower()}"


def _closes(plan: Plan, part: Part) -> int:
    """1 for a thin panel that closes the piece last, 0 for the rest."""
    joints = [joint for joint in plan.joints if joint.insert == part.id]
    nailed = any(joint.fasteners for joint in joints)
    return int(part.stock.thickness < THIN and nailed)


def _inner_joints(plan: Plan, parts: Sequence[str]) -> list[Joint]:
    own = set(parts)
    return [joint for joint in plan.joints if joint.insert in own and joint.receiver in own]


def symmetric_groups(plan: Plan, arrivals: Sequence[Arrival]) -> list[list[Arrival]]:
    """Arrivals gathered where neighbours do the same: copies of one part, or parts that one source line joins alike.

    Members of a group must not be joined to one another. The first arrival stays alone: the rest comes to it.
    """
    groups: list[list[Arrival]] = [[arrivals[0]]]
    for arrival in arrivals[1:]:
        last = groups[-1]
        if len(groups) > 1 and len(last) < 4 and _alike(plan, last, arrival, groups):
            last.append(arrival)
        else:
            groups.append([arrival])
    return groups


def _alike(plan: Plan, group: list[Arrival], arrival: Arrival, groups: list[list[Arrival]]) -> bool:
    standing = {part for other in groups[:-1] for one in other for part in one.unit.parts}
    mates = {part for one in group for part in one.unit.parts}
    mine = set(arrival.unit.parts)
    if any(_ties(joint, mine, mates) for joint in plan.joints):
        return False
    lines = [_lines(plan, one.unit, standing) for one in (group[0], arrival)]
    kinds = [{plan.part(part).kind for part in one.unit.parts} for one in (group[0], arrival)]
    return bool(lines[0]) and (kinds[0] == kinds[1] or lines[0] == lines[1])


def _ties(joint: Joint, some: set[str], others: set[str]) -> bool:
    return (joint.insert in some and joint.receiver in others) or (joint.receiver in some and joint.insert in others)


def _lines(plan: Plan, unit: Unit, standing: set[str]) -> set[str]:
    return {joint.line for joint in plan.joints if _ties(joint, set(unit.parts), standing)}


def _twins(plan: Plan, copies: Sequence[Body], parts: Sequence[str]) -> tuple[str, ...]:
    """The same parts in all copies of a body."""
    places = [copies[0].parts.index(part) for part in parts]
    return tuple(copy.parts[place] for copy in copies for place in places)


def _dry_fit(shop: Workshop, body: Body, copies: Sequence[Body], heading: str) -> None:
    parts = _twins(shop.plan, copies, body.parts)
    name = f"dry-fit-{local(body.assembly)}"
    operation = shop.operation(name, "dry-fit", parts)
    title = f"Put the {shop.plan.assembly(body.assembly).name.lower()} together dry"
    scene = Scene(parts, (), (), (), ())
    shop.add(name, Stage.ASSEMBLE, title, (operation,), scene, assembly=body.assembly, heading=heading)


def _square(shop: Workshop, body: Body, standing: Sequence[str], plane: Axis, heading: str, closing: bool) -> None:
    name = f"square-{local(body.assembly)}"
    operation = shop.operation(
        name, "square", tuple(standing), settings=(("plane", plane.value), ("closing", "yes" if closing else "no"))
    )
    title = f"Square the {shop.plan.assembly(body.assembly).name.lower()}"
    scene = Scene(tuple(standing), (), (), (), ())
    shop.add(name, Stage.ASSEMBLE, title, (operation,), scene, assembly=body.assembly, heading=heading)


def _square_plane(plan: Plan, body: Body) -> Axis | None:
    """The axis that one looks along to see the body's corners: across its closing panel or bottom, or across a flat frame.

    None where nothing makes a ring: two parts that face each other with two others between them.
    """
    parts = [plan.part(part) for part in body.parts]
    flats = {part.thickness for part in parts}
    if len(parts) >= 4 and len(flats) == 1:
        return flats.pop()
    panels = [part for part in parts if part.stock.thickness < THIN]
    if not panels:
        return None
    normal = panels[0].thickness
    walls = [part for part in parts if part.thickness is not normal]
    ring = all(sum(part.thickness is axis for part in walls) >= 1 for axis in normal.others())
    return normal if ring and len(walls) >= 3 else None


def _add_group(
    shop: Workshop,
    body: Body,
    copies: Sequence[Body],
    standing: Sequence[str],
    base: Sequence[str],
    group: Sequence[Arrival],
    heading: str,
) -> None:
    """One part or one symmetric group comes to what stands."""
    plan = shop.plan
    new = tuple(part for arrival in group for part in arrival.unit.parts)
    joints = [
        joint
        for copy in copies
        for joint in joints_between(plan, _moved(copies[0], copy, new), _moved(copies[0], copy, standing))
    ]
    key = local(plan.part(group[0].unit.parts[0]).kind)
    name = f"assemble-{local(body.assembly)}-{key}"
    all_new = _twins(plan, copies, new)
    all_standing = _twins(plan, copies, standing)
    operations = joining_operations(shop, name, all_new, all_standing, joints)
    title = f"Add the {_names(plan, new)}"
    if base:
        title = f"Join the {_names(plan, new)} to the {_names(plan, base)}"
    moves = [Move(part, arrival.direction) for arrival in group for part in arrival.unit.parts if arrival.direction]
    twin_moves = [Move(part, move.direction) for move in moves for part in _twins(plan, copies, (move.part,))]
    fasteners = tuple(fastener for joint in joints for fastener in joint.fasteners)
    scene = Scene(all_standing, all_new, tuple(twin_moves), fasteners, ())
    shop.add(
        name,
        Stage.ASSEMBLE,
        title,
        operations,
        scene,
        assembly=body.assembly,
        hardware=counted(fasteners),
        heading=heading,
    )


def _moved(first: Body, copy: Body, parts: Sequence[str]) -> tuple[str, ...]:
    return tuple(copy.parts[first.parts.index(part)] for part in parts)


def _names(plan: Plan, parts: Sequence[str]) -> str:
    return title_names([plan.part(part) for part in parts])


def joints_between(plan: Plan, new: Sequence[str], standing: Sequence[str]) -> list[Joint]:
    """The joints that close when the new parts come to those that stand."""
    some, others = set(new), set(standing)
    return [joint for joint in plan.joints if _ties(joint, some, others)]


def fastening_way(plan: Plan, fastener: Fastener) -> str:
    """The row of ``methods`` that drives a fastener. Brads bend in hardwood unless they are bored for."""
    if fastener.item.kind == "pocket screw":
        return "assemble-pockets"
    if fastener.item.kind == "brad":
        materials = [plan.part(part).stock.material for part in (fastener.through, fastener.into)]
        hard = any(material.hard and material.solid for material in materials)
        return "assemble-brads-hard" if hard else "assemble-brads"
    return "assemble-screws"


def joining_operations(
    shop: Workshop,
    name: str,
    new: Sequence[str],
    standing: Sequence[str],
    joints: Sequence[Joint],
    kind: str = "join",
) -> list[Operation]:
    """One operation to set the parts with the main fastening, one more for each other kind of fastener."""
    fasteners = [fastener for joint in joints for fastener in joint.fasteners]
    by_way: dict[str, list[Fastener]] = {}
    for fastener in fasteners:
        by_way.setdefault(fastening_way(shop.plan, fastener), []).append(fastener)
    # Screws pull the joint together; brads only hold what is in its place already.
    by_way = dict(sorted(by_way.items(), key=lambda way: way[0].startswith("assemble-brads")))
    glued = any(joint.glued for joint in joints)
    ways = list(by_way) or ["assemble-clamps"]
    operations = []
    for place, way in enumerate(ways):
        held = by_way.get(way, [])
        operations.append(
            shop.operation(
                name,
                kind if place == 0 else "fasten",
                new,
                way=way,
                time="assemble",
                pieces=len(new) if place == 0 else 0,
                joints=joints,
                fasteners=held,
                settings=(("glue", "yes" if glued else "no"),),
                wait_hours=WAIT_CLAMPED if glued and not fasteners and place == 0 else 0.0,
                standing=standing,
            )
        )
    return operations


def join_bodies(shop: Workshop, joining: Joining, before_finish: bool, each: Callable[[list[Body]], None]) -> None:
    """Steps that bring bodies together: those that glue holds come before the finish, the rest after it.

    ``each`` is told of bodies that have just arrived, so that hardware on them follows at once.
    """
    plan = shop.plan
    pre = _before_finish(joining)
    groups = symmetric_groups(plan, joining.arrivals)
    merged = _merge_loose(groups, joining.bodies)
    standing: list[str] = []
    for place, group in enumerate(merged):
        bodies = [joining.bodies[arrival.unit.id] for arrival in group]
        if place and (bodies[0].id in pre) is before_finish:
            if not bodies[0].loose or bodies[0].applied:
                _join(shop, bodies, group, standing)
            each(bodies)
        standing += [part for body in bodies for part in body.parts]


def _merge_loose(groups: list[list[Arrival]], bodies: dict[str, Body]) -> list[list[Arrival]]:
    """Copies of a loose body (two shelves) go in together."""
    merged: list[list[Arrival]] = []
    for group in groups:
        body = bodies[group[0].unit.id]
        if merged and body.loose and bodies[merged[-1][0].unit.id].kinds == body.kinds:
            merged[-1] += group
        else:
            merged.append(list(group))
    return merged


def _before_finish(joining: Joining) -> set[str]:
    """Bodies that must be on before the finish: glued ones, and whatever has to be in place before one of them."""
    ids = [arrival.unit.id for arrival in joining.arrivals]
    last = max((place for place, name in enumerate(ids) if joining.bodies[name].glued), default=0)
    return set(ids[: last + 1])


def _join(shop: Workshop, bodies: Sequence[Body], group: Sequence[Arrival], standing: Sequence[str]) -> None:
    plan = shop.plan
    new = tuple(part for body in bodies for part in body.parts)
    joints = joints_between(plan, new, standing)
    body = bodies[0]
    single = len(new) == 1
    key = local(body.assembly) if not body.applied else f"{local(body.assembly)}-{local(plan.part(new[0]).kind)}"
    thing = plan.part(new[0]).name.lower() if single else plan.assembly(body.assembly).name.lower()
    name = f"join-{slug(key)}"
    touched = {part for joint in joints for part in (joint.insert, joint.receiver)} - set(new)
    homes = dict.fromkeys(plan.assembly(plan.part(part).assembly).name.lower() for part in standing if part in touched)
    after_finish = not body.glued
    kind = "join-front" if body.applied else "join-body"
    operations = joining_operations(shop, name, new, tuple(standing), joints, kind)
    verb = "Glue" if any(joint.glued for joint in joints) else "Screw"
    title = f"{verb} the {thing} to the {listed(list(homes))}"
    moves = tuple(
        Move(part, arrival.direction) for arrival in group for part in arrival.unit.parts if arrival.direction
    )
    fasteners = tuple(fastener for joint in joints for fastener in joint.fasteners)
    shop.add(
        name,
        Stage.FIT if after_finish else Stage.ASSEMBLE,
        title,
        operations,
        Scene(tuple(standing), new, moves, fasteners, ()),
        assembly=body.assembly,
        hardware=counted(fasteners),
    )
