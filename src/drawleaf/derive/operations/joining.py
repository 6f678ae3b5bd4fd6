"""How parts are joined: which joints close, what drives their fasteners, and the bodies of the piece brought together."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from drawleaf.derive.assembly.groups import Body
from drawleaf.derive.assembly.order import Arrival, Unit
from drawleaf.derive.operations.drafts import Stage, Workshop, counted, local, slug, title_names
from drawleaf.derive.operations.fitted import fit_parts, fitting_scene, fitting_title, goes_round, trim_flush
from drawleaf.derive.operations.lying_over import pose_of
from drawleaf.derive.operations.standing_rabbet import rabbet_operations
from drawleaf.derive.operations.tape import IRON, all_tape
from drawleaf.derive.shop.clamps import clamp_goes
from drawleaf.derive.shop.times import clamp_hours
from drawleaf.english import listed
from drawleaf.model.catalogue import FastenerKind
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.plan import Fastener, Joint, Plan
from drawleaf.model.settings import JoinSettings
from drawleaf.model.steps import Move, Operation, Scene
from drawleaf.setting_out.wood_joints import takes_glue

LAST = ("assemble-brads", "assemble-brads-hard", "assemble-pegs")
"""What only holds a joint that something else has closed."""
AT_ONCE = 4
"""So many parts come in one move."""


@dataclass(frozen=True, slots=True)
class Joining:
    """Bodies in the order they meet, after each was built."""

    arrivals: tuple[Arrival, ...]
    bodies: dict[str, Body]
    diagnostics: tuple[Diagnostic, ...]
    inside: Mapping[str, tuple[Arrival, ...]] = field(default_factory=dict)
    """For a body made of several, the order in which these meet."""
    deferred: tuple[tuple[Body, ...], ...] = ()
    """Bodies, with their copies, that are made when what they go into stands."""


def symmetric_groups(plan: Plan, arrivals: Sequence[Arrival]) -> list[list[Arrival]]:
    """Arrivals gathered where neighbours do the same: copies of one part, or parts that one source line joins alike.

    Members of a group must not be joined to one another. The first arrival stays alone: the rest comes to it.
    """
    groups: list[list[Arrival]] = [[arrivals[0]]]
    for arrival in arrivals[1:]:
        last = groups[-1]
        few = len(last) < AT_ONCE or _all_round(plan, (*last, arrival))
        if len(groups) > 1 and few and _alike(plan, last, arrival, groups):
            last.append(arrival)
        else:
            groups.append([arrival])
    return groups


def _all_round(plan: Plan, arrivals: Sequence[Arrival]) -> bool:
    """Whether all are rods that stand with round ends in holes: they are knocked in one after the other, however many they are."""
    parts = {part for one in arrivals for part in one.unit.parts}
    met = {joint.insert for joint in plan.joints if joint.family.square_end}
    return parts <= met


def _alike(plan: Plan, group: list[Arrival], arrival: Arrival, groups: list[list[Arrival]]) -> bool:
    standing = {part for other in groups[:-1] for one in other for part in one.unit.parts}
    mates = {part for one in group for part in one.unit.parts}
    mine = set(arrival.unit.parts)
    if any(ties(joint, mine, mates) for joint in plan.joints_of(mine)):
        return False
    lines = [_lines(plan, one.unit, standing) for one in (group[0], arrival)]
    kinds = [{plan.part(part).kind for part in one.unit.parts} for one in (group[0], arrival)]
    return bool(lines[0]) and (kinds[0] == kinds[1] or lines[0] == lines[1])


def ties(joint: Joint, some: set[str], others: set[str]) -> bool:
    return (joint.insert in some and joint.receiver in others) or (joint.receiver in some and joint.insert in others)


def _lines(plan: Plan, unit: Unit, standing: set[str]) -> set[str]:
    own = set(unit.parts)
    return {joint.line for joint in plan.joints_of(own) if ties(joint, own, standing)}


def joints_between(plan: Plan, new: Sequence[str], standing: Sequence[str]) -> list[Joint]:
    """The joints that close when the new parts come to those that stand."""
    some, others = set(new), set(standing)
    return [joint for joint in plan.joints_of(some) if ties(joint, some, others)]


def fastening_way(plan: Plan, fastener: Fastener) -> str:
    """The row of ``methods`` that drives a fastener. Brads bend in hardwood unless they are bored for."""
    if fastener.item.kind == FastenerKind.POCKET_SCREW:
        return "assemble-pockets"
    if fastener.item.pin:
        return "assemble-pegs" if fastener.item.kind == FastenerKind.PEG else "assemble-clamps"
    if fastener.item.kind == FastenerKind.BRAD:
        materials = [plan.part(part).stock.material for part in (fastener.through, fastener.into)]
        hard = any(material.hard and material.solid for material in materials)
        return "assemble-brads-hard" if hard else "assemble-brads"
    return "assemble-screws"


def all_mitred(joints: Sequence[Joint]) -> bool:
    """Whether mitres alone close here: a clamp across a mitre pushes it out of place, tape stretched over its corner draws it shut."""
    return bool(joints) and all(joint.family.mitred for joint in joints)


def all_knocked_home(joints: Sequence[Joint]) -> bool:
    """Whether round ends alone close here: no clamp presses along them, and the fit of the hole holds them."""
    return bool(joints) and all(joint.family.square_end for joint in joints)


def _held_by_hand(joints: Sequence[Joint], glued: bool, taped: bool) -> str:
    """How a joint without fasteners is closed."""
    if taped:
        return IRON
    if joints and not glued and all(not joint.family.moves for joint in joints):
        return "assemble-dry"
    if glued and all_knocked_home(joints):
        return "assemble-knocked"
    return "assemble-mitres" if all_mitred(joints) and glued else "assemble-clamps"


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
    driven = [fastener for fastener in fasteners if not fastener.item.pin]
    by_way: dict[str, list[Fastener]] = {}
    for fastener in fasteners:
        by_way.setdefault(fastening_way(shop.plan, fastener), []).append(fastener)
    # Screws pull the joint together; brads only hold what is in its place already.
    by_way = dict(sorted(by_way.items(), key=lambda way: LAST.index(way[0]) if way[0] in LAST else -1))
    taped = all_tape(shop.plan, joints) and not fasteners
    glued = any(joint.glued for joint in joints) and not taped
    if list(by_way) == ["assemble-pegs"]:
        by_way = {"assemble-clamps": [], **by_way}
    ways = list(by_way) or [_held_by_hand(joints, glued, taped)]
    # Screws hold while the glue sets. Brads do so too along a short joint; where a body goes on, the clamps stay.
    screwed = any(fastener.item.kind != FastenerKind.BRAD for fastener in driven)
    held = screwed or (bool(driven) and kind != "join-body")
    wet = (glued or any(takes_glue(joint) for joint in joints)) and not taped and not held
    operations = []
    for place, way in enumerate(ways):
        fastened = by_way.get(way, [])
        operation = shop.operation(
            name,
            kind if place == 0 else "fasten",
            new,
            way=way,
            pieces=len(new) if place == 0 else 0,
            joints=joints,
            fasteners=fastened,
            settings=JoinSettings(glue=glued),
            standing=standing,
        )
        if wet and place == 0:
            hours = clamp_hours(shop.plan.catalogue) * len(clamp_goes(shop.plan, operation))
            operation = replace(operation, wait_hours=hours)
        operations.append(operation)
    return operations


def join_bodies(shop: Workshop, joining: Joining, before_finish: bool, each: Callable[[list[Body]], None]) -> None:
    """Steps that bring bodies together: those that glue holds come before the finish, the rest after it.

    ``each`` is called for bodies that have just arrived, so that hardware on them follows at once.
    """
    pre = _before_finish(joining)
    _bring(shop, joining, joining.arrivals, lambda body: (body.id in pre) is before_finish, each)


def finished_body(joining: Joining) -> list[str]:
    """The parts that stand when the finish is dry: the first body and all that was brought to it before."""
    pre = _before_finish(joining)
    units = [one.unit for one in joining.arrivals if one.unit.id in pre and not joining.bodies[one.unit.id].loose]
    return [part for unit in units for part in unit.parts]


def _bring(
    shop: Workshop,
    joining: Joining,
    arrivals: Sequence[Arrival],
    now: Callable[[Body], bool],
    each: Callable[[list[Body]], None],
) -> None:
    """Bodies put to the first one in their order; those that go on as one are brought together just before."""
    merged = _merge_loose(symmetric_groups(shop.plan, arrivals), joining.bodies)
    standing: list[str] = []
    for place, group in enumerate(merged):
        bodies = [joining.bodies[arrival.unit.id] for arrival in group]
        for body in bodies:
            if body.members and now(body):
                _bring(shop, joining, joining.inside[body.id], lambda _inner: True, each)
        if place and now(bodies[0]):
            if not bodies[0].loose or bodies[0].applied:
                _join(shop, joining, bodies, group, standing)
            each(bodies)
        standing += [part for body in bodies for part in body.parts]


def _thing(plan: Plan, joining: Joining, body: Body, name: str) -> str:
    """What a title calls a body: by its assembly, but ``other trestle`` where it is the second of two that the assembly falls into."""
    alike = [one.id for one in joining.bodies.values() if one.assembly == body.assembly and one.kinds == body.kinds]
    if len(alike) != 2 or alike[0] == body.id or not name.endswith("s"):
        return name
    return plan.words.tell("other {}", name[:-1])


def _home(plan: Plan, joining: Joining, assembly: str, standing: Sequence[str]) -> tuple[bool, str]:
    """What a title calls an assembly that something is joined to; ``one trestle`` while only one of the two that it falls into stands:
    whether it is so, and the name."""
    name = plan.assembly(assembly).name.lower()
    pieces = [body for body in joining.bodies.values() if body.assembly == assembly and not body.members]
    there = [body for body in pieces if set(standing).intersection(body.parts)]
    alike = len(pieces) == 2 and pieces[0].kinds == pieces[1].kinds and name.endswith("s")
    lone = alike and len(there) == 1
    return lone, name[:-1] if lone else name


def fasteners_of(joints: Sequence[Joint]) -> tuple[Fastener, ...]:
    """All that is driven into these joints."""
    return tuple(fastener for joint in joints for fastener in joint.fasteners)


def _members(joining: Joining, body: Body) -> list[Body]:
    """The bodies that one body was made of, down to those that are no further made of others."""
    if not body.members:
        return [body]
    return [inner for member in body.members for inner in _members(joining, joining.bodies[member])]


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


TO_ALL = {
    (True, True): "Glue the {} to the {}",
    (True, False): "Glue the {} to the {}",
    (False, True): "Screw the {} to the {}",
    (False, False): "Fit the {} to the {}",
}
TO_ONE = {
    (True, True): "Glue the {} to one {}",
    (True, False): "Glue the {} to one {}",
    (False, True): "Screw the {} to one {}",
    (False, False): "Fit the {} to one {}",
}
"""Titles by whether it is glued, and whether anything is driven."""


def _join(
    shop: Workshop, joining: Joining, bodies: Sequence[Body], group: Sequence[Arrival], standing: Sequence[str]
) -> None:
    plan = shop.plan
    new = tuple(part for body in bodies for part in body.parts)
    joints = joints_between(plan, new, standing)
    body = bodies[0]
    key = local(body.assembly) if not body.applied else f"{local(body.assembly)}-{local(plan.part(new[0]).kind)}"
    if len(body.parts) == 1:
        thing = title_names([plan.part(part) for part in new])
    else:
        thing = _thing(plan, joining, body, plan.assembly(body.assembly).name.lower())
    if body.members:
        members = _members(joining, body)
        key = " and ".join(local(one.assembly) for one in members)
        thing = listed([plan.assembly(one.assembly).name.lower() for one in members])
    name = f"join-{slug(key)}"
    rabbets = rabbet_operations(shop, joints, standing)
    if rabbets:
        title = shop.words.tell("Cut the rabbets for the {}", thing)
        scene = Scene(tuple(standing), (), (), (), ())
        home = plan.part(rabbets[0].parts[0]).assembly
        shop.add(rabbets[0].id, Stage.ASSEMBLE, title, rabbets, scene, assembly=home)
    touched = {part for joint in joints for part in (joint.insert, joint.receiver)} - set(new)
    homes = dict.fromkeys(
        _home(plan, joining, plan.part(part).assembly, standing)
        for part in standing
        if part in touched and not goes_round(plan.part(part))
    )
    fits = fit_parts(shop, new, standing)
    if fits:
        around = listed([name for _, name in homes]) if homes else plan.assembly(body.assembly).name.lower()
        title = fitting_title(plan, fits, around)
        shop.add(fits[0].id, Stage.ASSEMBLE, title, fits, fitting_scene(fits, standing), assembly=body.assembly)
    after_finish = not body.glued
    kind = "join-front" if body.applied else "join-body"
    operations = joining_operations(shop, name, new, tuple(standing), joints, kind)
    operations += trim_flush(shop, new, tuple(standing))
    # What no joint holds still has its place.
    title = "Set the {} in its place"
    if homes:
        glued = any(joint.glued for joint in joints)
        driven = any(not fastener.item.pin for fastener in fasteners_of(joints))
        title = TO_ONE[glued, driven] if next(iter(homes))[0] else TO_ALL[glued, driven]
    title = shop.words.tell(title, thing, listed([name for _, name in homes]) if homes else "")
    moves = tuple(
        Move(part, arrival.direction) for arrival in group for part in arrival.unit.parts if arrival.direction
    )
    fasteners = tuple(fastener for joint in joints for fastener in joint.fasteners)
    shop.add(
        name,
        Stage.FIT if after_finish else Stage.ASSEMBLE,
        title,
        operations,
        Scene(tuple(standing), new, moves, fasteners, (), pose=pose_of(plan, new, standing, fasteners)),
        assembly=body.assembly,
        hardware=counted(fasteners),
    )
