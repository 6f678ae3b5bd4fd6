"""What is built on its own and moves as one: assemblies, and the pieces that loose assemblies fall into."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from enum import IntEnum

from drawleaf.derive.assembly.order import Unit
from drawleaf.graphs import connected, is_connected
from drawleaf.model.fitted import FittedAs
from drawleaf.model.joint_family import CutKind
from drawleaf.model.place import Axis, Point
from drawleaf.model.plan import Assembly, Fitting, Joint, Part, Plan, Vector
from drawleaf.setting_out.hinging import cleats_on_wall, is_hinge
from drawleaf.setting_out.mitres import mitres
from drawleaf.units import Length


class Closing(IntEnum):
    """The conventional order in which bodies come to the piece."""

    GLUED = 0
    SCREWED = 1
    """Also a top that its fasteners carry."""
    DRAWER = 2
    FRONT = 3
    SHELF = 4
    DOOR = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """Parts that are joined at the bench before they meet the rest. ``carried`` when slides carry it; ``loose`` when nothing
    fastens it; ``applied`` for a front that is screwed to a body already hung. ``closing`` is its place in the conventional order, then that of
    its assembly and its own; ``kinds`` is what its copies share. A body of
    several, brought together before they go to the rest, has the ``members`` that it is made of."""

    id: str
    assembly: str
    parts: tuple[str, ...]
    closing: tuple[Closing, int, int]
    kinds: tuple[str, ...]
    shape: Hashable
    """What bodies share that are alike but for their place, whatever their parts are called."""
    loose: bool = False
    carried: bool = False
    applied: bool = False
    glued: bool = False
    members: tuple[str, ...] = ()


def bodies_of(plan: Plan) -> tuple[Body, ...]:
    """The bodies of a plan in source order: each fixed top assembly, and each piece of a loose one."""
    found: list[Body] = []
    carried = {fitting.moving: _closing(fitting) for fitting in plan.fittings if fitting.moving}
    walls = cleats_on_wall(plan)
    for place, assembly in enumerate(plan.assemblies):
        if assembly.parts and walls.issuperset(assembly.parts):
            continue  # it is screwed to the wall
        if assembly.loose:
            rides = assembly.id in carried
            for number, (parts, applied) in enumerate(_pieces(plan, assembly.parts)):
                closing = Closing.FRONT if applied else carried.get(assembly.id, Closing.SHELF)
                body = _body(plan, assembly, parts, (closing, place, number))
                found.append(replace(body, loose=True, carried=rides, applied=applied))
        elif assembly.parent is None:
            inside = tuple(part.id for part in plan.parts if _root_of(plan, part) == assembly.id)
            for number, parts in enumerate(_standing_pieces(plan, inside)):
                glued = _is_glued_to_rest(plan, parts)
                closing = Closing.GLUED if glued else Closing.SCREWED
                found.append(replace(_body(plan, assembly, parts, (closing, place, number)), glued=glued))
    if found and not any(body.closing[0] is Closing.GLUED for body in found):
        found[0] = replace(found[0], glued=True, closing=(Closing.GLUED, *found[0].closing[1:]))
    return tuple(found)


def _body(plan: Plan, assembly: Assembly, parts: tuple[str, ...], closing: tuple[Closing, int, int]) -> Body:
    """One piece of an assembly: named as that where it is the first, with its number where it is another."""
    number = closing[-1]
    return Body(
        id=assembly.id if number == 0 else f"{assembly.id} {number + 1}",
        assembly=assembly.id,
        parts=parts,
        closing=closing,
        kinds=_kinds(plan, parts),
        shape=shape_of(plan, parts),
    )


def shape_of(plan: Plan, parts: Sequence[str]) -> Hashable:
    """Sizes and places of some parts, from the low corner of them all: equal for what is alike but for its place. A single part is like no
    other: a strip here and a strip there have each their own place in the work."""
    if len(parts) == 1:
        return parts
    own = [plan.part(part) for part in parts]
    low = low_corner(own)
    return frozenset((part.stock.id, part.grain, part.body.shifted(-low), part.tilt is None) for part in own)


def low_corner(parts: Sequence[Part]) -> Point:
    """The low corner of some parts together. Raises ValueError where there are none."""
    return Point(*(min(part.body.low.along(axis) for part in parts) for axis in Axis))


def _standing_pieces(plan: Plan, parts: Sequence[str]) -> list[tuple[str, ...]]:
    """The pieces that a fixed assembly falls into by itself, such as two ends of a plinth that only the case holds. It stays whole where
    one of them would be held by nothing at all."""
    own = set(parts)
    mouldings = {part for part in parts if plan.part(part).fitted_as is FittedAs.MOULDING}
    links = [link for link in _links(plan, parts) if not mouldings.issuperset(link)]
    pieces = sorted(connected(parts, links), key=lambda piece: _mitres_left(plan, piece))
    held = {part for joint in _across(plan, own) for part in (joint.insert, joint.receiver)}
    return pieces if all(held.intersection(piece) for piece in pieces) else [tuple(parts)]


def _mitres_left(plan: Plan, piece: Sequence[str]) -> int:
    """Less for mouldings with a mitre at both ends: the front goes on first, what returns from it later."""
    parts = [plan.part(part) for part in piece]
    mouldings = all(part.fitted_as is FittedAs.MOULDING for part in parts)
    return -max(len(mitres(part)) for part in parts) if mouldings else 0


def floor_of(plan: Plan) -> Length | None:
    """How high the floor is that the piece stands on; None for one that hangs on a wall."""
    if plan.hangs:
        return None
    return min((part.body.span(Axis.Z).low for part in plan.parts), default=None)


def _closing(fitting: Fitting) -> Closing:
    """When what a fitting carries comes to the piece: a top before the drawers, shelves after them, doors last."""
    if fitting.item.family.carries_top:
        return Closing.SCREWED
    return Closing.DOOR if is_hinge(fitting) else Closing.DRAWER


def together(unit: Unit, bodies: Mapping[str, Body]) -> Body:
    """The body that several bodies are once they have been joined to one another."""
    own = [bodies[member.id] for member in unit.members]
    parts = tuple(part for body in own for part in body.parts)
    kinds = tuple(kind for body in own for kind in body.kinds)
    glued = any(body.glued for body in own)
    names = tuple(body.id for body in own)
    return Body(
        id=unit.id,
        assembly=own[0].assembly,
        parts=parts,
        closing=own[0].closing,
        kinds=kinds,
        shape=tuple(body.shape for body in own),
        glued=glued,
        members=names,
    )


def _kinds(plan: Plan, parts: Sequence[str]) -> tuple[str, ...]:
    return tuple(plan.part(part).kind for part in parts)


def _root_of(plan: Plan, part: Part) -> str | None:
    """The top assembly a part is fixed in; None for parts of loose assemblies."""
    assembly = plan.assembly(part.assembly)
    while not assembly.loose:
        if assembly.parent is None:
            return assembly.id
        assembly = plan.assembly(assembly.parent)
    return None


def _is_glued_to_rest(plan: Plan, parts: Sequence[str]) -> bool:
    """Whether glue or hidden joinery holds it to others, so that it must go on before the finish. What stands alone counts as glued."""
    across = _across(plan, set(parts))
    return not across or any(joint.glued for joint in across)


def _pieces(plan: Plan, parts: Sequence[str]) -> list[tuple[tuple[str, ...], bool]]:
    """The pieces of a loose assembly: parts held by more than screws alone. The largest is first; others screwed to it are applied.

    What only screws hold together, with no one piece that all the rest is screwed to, is one piece and is built as such.
    """
    joints = _within(plan, set(parts))
    firm = [(joint.insert, joint.receiver) for joint in joints if not is_screwed_on(joint)]
    screwed = {joint.insert for joint in joints if is_screwed_on(joint)}
    found: list[tuple[tuple[str, ...], bool]] = []
    for whole in connected(parts, _links(plan, parts)):
        pieces = [
            (piece, not screwed.isdisjoint(piece))
            for piece in connected(whole, [link for link in firm if link[0] in whole])
        ]
        standing = sum(not applied for _, applied in pieces)
        found += pieces if standing == 1 else [(whole, False)]
    return found


def is_screwed_on(joint: Joint) -> bool:
    """A butt joint held by screws alone: it can be closed after the finish, and opened again."""
    return joint.family.set_on and not joint.glued and bool(joint.fasteners)


def units_of(plan: Plan, bodies: Sequence[tuple[str, tuple[str, ...], tuple[int, ...]]]) -> tuple[Unit, ...]:
    """Units for the order search, with the directions in which each one's joints close."""
    owner = {part: name for name, parts, _ in bodies for part in parts}
    towards: dict[str, dict[Vector, None]] = {name: {} for name, _, _ in bodies}
    drags: dict[str, dict[Vector, None]] = {name: {} for name, _, _ in bodies}
    for joint, a, b in _between(plan, owner):
        into = joint.face.normal
        towards[a][into] = None
        towards[b][(0.0 - into[0], 0.0 - into[1], 0.0 - into[2])] = None
        for way in _along_glue(plan, joint):
            drags[a][way] = drags[b][way] = None
    return tuple(
        Unit(name, parts, rank, tuple(towards[name]), drags=tuple(drags[name])) for name, parts, rank in bodies
    )


def _along_glue(plan: Plan, joint: Joint) -> tuple[Vector, ...]:
    """Both ways along a glued channel with two walls; none for any other joint."""
    if not joint.glued or joint.family.channel not in (CutKind.DADO, CutKind.GROOVE):
        return ()
    across = plan.part(joint.insert).thickness
    return tuple(
        face.normal for axis in joint.face.axis.others() if axis is not across for face in (axis.low, axis.high)
    )


def nested_units(plan: Plan, body: Body, rank: Callable[[str], tuple[int, ...]]) -> tuple[Unit, ...]:
    """The units that a body is built of: its assembly's own parts, and each assembly inside it as one unit with members of its own. Loose
    pieces of joints are none: they come after the parts that they hold together."""
    inside = set(body.parts)
    pieces = hosts_of(plan)

    def members(assembly_id: str) -> list[Unit]:
        assembly = plan.assembly(assembly_id)
        found = [Unit(part, (part,), rank(part)) for part in assembly.parts if part in inside and part not in pieces]
        for child in assembly.children:
            own = members(child)
            parts = tuple(part for unit in own for part in unit.parts)
            parts += tuple(piece for piece, hosts in pieces.items() if hosts <= set(parts) and piece in inside)
            if len(parts) > 1 and is_connected(parts, _links(plan, parts)):
                found.append(Unit(child, parts, min(unit.rank for unit in own), members=_directed(plan, own)))
            else:
                found += own
        return found

    return (
        _directed(plan, members(body.assembly))
        if not body.loose
        else units_of(plan, [(part, (part,), rank(part)) for part in body.parts if part not in pieces])
    )


def hosts_of(plan: Plan) -> dict[str, set[str]]:
    """Each loose piece that a joint brings along, with the parts that it holds together: it comes when they all stand."""
    brought = [part.id for part in plan.parts if part.brought]
    return {piece: {joint.receiver for joint in plan.joints_of((piece,)) if joint.insert == piece} for piece in brought}


def _directed(plan: Plan, units: Sequence[Unit]) -> tuple[Unit, ...]:
    """The same units with the directions in which their joints to one another close."""
    bare = units_of(plan, [(unit.id, unit.parts, unit.rank) for unit in units])
    return tuple(replace(unit, towards=one.towards, drags=one.drags) for unit, one in zip(units, bare, strict=True))


def _links(plan: Plan, parts: Sequence[str]) -> list[tuple[str, str]]:
    return [(joint.insert, joint.receiver) for joint in _within(plan, set(parts))]


def _within(plan: Plan, parts: set[str]) -> list[Joint]:
    """The joints of these parts to one another."""
    return [joint for joint in plan.joints_of(parts) if joint.insert in parts and joint.receiver in parts]


def _across(plan: Plan, parts: set[str]) -> list[Joint]:
    """The joints of these parts to others."""
    return [joint for joint in plan.joints_of(parts) if (joint.insert in parts) != (joint.receiver in parts)]


def _between(plan: Plan, owner: Mapping[str, str]) -> Iterator[tuple[Joint, str, str]]:
    """The joints that tie what owns the insert to something else, with both owners."""
    for joint in plan.joints_of(owner):
        a, b = owner.get(joint.insert), owner.get(joint.receiver)
        if a is not None and b is not None and a != b:
            yield joint, a, b


def joined_units(plan: Plan, units: Sequence[Unit]) -> dict[str, frozenset[str]]:
    """For each unit the units that a joint, or what is bolted on, ties it to."""
    owner = {part: unit.id for unit in units for part in unit.parts}
    links: dict[str, set[str]] = {unit.id: set() for unit in units}
    for _, a, b in _between(plan, owner):
        links[a].add(b)
        links[b].add(a)
    for fitting in plan.fittings:
        ends = {owner[part] for part in fitting.parts if part in owner} if fitting.item.family.bolts_on else set[str]()
        for unit in ends:
            links[unit] |= ends - {unit}
    return {name: frozenset(others) for name, others in links.items()}


def hang_together(plan: Plan, parts: set[str], without: set[str]) -> bool:
    """Whether what is fastened makes one piece of these parts, with others left out; looked for from one of them on."""
    found = [min(parts)]
    left = parts.difference(found)
    known = without.union(found)
    for part in found:
        if not left:
            break
        for joint in plan.joints_of((part,)):
            other = joint.other(part)
            if other not in known and (joint.glued or joint.fasteners):
                known.add(other)
                left.discard(other)
                found.append(other)
    return not left
