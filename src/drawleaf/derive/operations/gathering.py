"""Moves of one assembly gathered into steps: what is fastened the same way stands together, no more than a page's worth."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from drawleaf.derive.operations.drafts import Stage, Workshop, counted, title_names
from drawleaf.derive.operations.fitted import fitting_title
from drawleaf.derive.operations.lying_over import legs_up
from drawleaf.model.catalogue import PINS, FastenerKind
from drawleaf.model.place import Axis
from drawleaf.model.plan import Fastener, Plan
from drawleaf.model.settings import StandingRabbetSettings
from drawleaf.model.steps import Move, Operation, Scene

MOST_ACTIONS = 7
DRY_FIT_ACTIONS = 4
SECOND_FASTENING = 2
"""A joint that is made with two kinds of fastener takes two actions more, as its lines are long."""
CUT = "rabbet-standing"
"""A portion that cuts instead of joining: it stands alone."""
SPLINES, TRIM = "splines", "trim"
"""Portions of splines that go in after the corners are glued, and of what then stands out of them: each stands alone."""
FIT = "fit"
"""A portion that gives parts their last size: it stands alone."""
SQUARE_ACTIONS = 3


@dataclass(frozen=True, slots=True)
class Portion:
    """One move (``join``), one rehearsal (``dry-fit``), one squaring up (``square``), the ``splines`` of corners or their ``trim``, not yet a step.

    ``first`` marks the move that brings the first part to the one that is laid down; ``closing`` the squaring up before a panel closes
    the piece. ``apart``: something is cut into what stands before it.
    """

    name: str
    kind: str
    operations: tuple[Operation, ...]
    standing: tuple[str, ...]
    new: tuple[str, ...]
    moves: tuple[Move, ...] = ()
    first: bool = False
    closing: bool = False
    apart: bool = False

    @property
    def fasteners(self) -> tuple[Fastener, ...]:
        return tuple(fastener for operation in self.operations for fastener in operation.fasteners)

    @property
    def glued(self) -> bool:
        return any(joint.glued for operation in self.operations for joint in operation.joints)

    @property
    def way(self) -> str:
        """What closes its joints: ``pocket screw``, ``wood screw``, ``brad``, ``clamps``; ``slide`` where nothing does."""
        if self.kind != "join":
            return self.kind
        kinds = {fastener.item.kind for fastener in self.operations[0].fasteners}
        return min(kinds, default="clamps" if self.glued else "slide")


def add_gathered(shop: Workshop, assembly: str, heading: str, portions: Sequence[Portion]) -> None:
    """The steps of these portions, in order."""
    everything = {
        part for portion in portions for part in (*portion.standing, *portion.new) if not shop.plan.part(part).brought
    }
    for group in _pegged_square(_squared_wet(_held_in_go(gathered(shop.plan, portions)))):
        _add(shop, assembly, heading, group, len(everything))


def _held_in_go(groups: list[list[Portion]]) -> list[list[Portion]]:
    """The same, but what a later move holds has no wait of its own, where nothing between the two has to wait either."""
    portions = [portion for group in groups for portion in group]
    last = len(portions)
    go: set[int] = set()
    for place in range(last - 2, -1, -1):
        for later in range(place + 1, last):
            if _held_by(portions[place], portions[later]):
                go.add(place)
                break
            if later not in go:
                break
    at = iter(range(last))
    return [[_waiting(one, 0.0) if next(at) in go else one for one in group] for group in groups]


def _held_by(before: Portion, after: Portion) -> bool:
    """Whether glue and pins alone hold what one move brings, and the next one holds its other end, driven or glued: nobody clamps a rail or
    a shelf to one side and lets it set before the other side comes."""
    if before.kind != "join" or after.kind != "join" or not before.glued:
        return False
    if any(not fastener.item.pin for fastener in before.fasteners):
        return False
    new = set(before.new)
    driven = any(not fastener.item.pin for fastener in after.fasteners)
    meets = any(joint.glued and new & {joint.insert, joint.receiver} for op in after.operations for joint in op.joints)
    return (driven and meets) or bool(_glued_ends(before, new) & _glued_ends(after, new))


def _glued_ends(portion: Portion, parts: Collection[str]) -> set[tuple[str, Axis]]:
    """Which of these parts a move glues by an end or an edge to what takes them, and along which axis."""
    joints = (joint for op in portion.operations for joint in op.joints)
    return {(joint.insert, joint.face.axis) for joint in joints if joint.glued and joint.insert in parts}


def _squared_wet(groups: list[list[Portion]]) -> list[list[Portion]]:
    """The same, but where squaring up is a step of its own the wait for the clamps comes after it: one pulls while the glue is wet."""
    for place in range(1, len(groups)):
        square = groups[place][0]
        if square.kind != "square":
            continue
        before = groups[place - 1]
        groups[place - 1] = [_waiting(portion, 0.0) for portion in before]
    return groups


def _pegged_square(groups: list[list[Portion]]) -> list[list[Portion]]:
    """The same, but pegs that draw the joints of a ring home are driven when it has been pulled square: after them nothing moves."""
    for place, group in enumerate(groups):
        square = group[-1]
        if square.kind != "square" or square.closing:
            continue
        places = [place] if len(group) > 1 else [place - 1] if place else []
        pegs = [op for one in places for portion in groups[one] for op in portion.operations if _draws(op)]
        if pegs:
            joined = (part for one in places for portion in groups[one] for part in (*portion.standing, *portion.new))
            whole = tuple(dict.fromkeys(joined))
            for one in places:
                groups[one] = [_without(portion, pegs) for portion in groups[one]]
            groups[place][-1] = _with_pegs(square, pegs, whole)
    return groups


def _draws(operation: Operation) -> bool:
    """Whether it drives pegs that hold fast; one in a slot lets the wood move."""
    pegs = all(one.item.kind == FastenerKind.PEG and not one.slotted for one in operation.fasteners)
    return operation.kind == "fasten" and bool(operation.fasteners) and pegs


def _without(portion: Portion, pegs: Sequence[Operation]) -> Portion:
    kept = (op for op in portion.operations if op not in pegs)
    return replace(portion, operations=tuple(replace(op, after=_past(op.after, pegs)) for op in kept))


def _past(after: Sequence[str], pegs: Sequence[Operation]) -> tuple[str, ...]:
    """What an operation waits for, with what the pegs wait for in their place."""
    waits = {peg.id: peg.after for peg in pegs}
    found: dict[str, None] = {}
    edge = list(after)
    while edge:
        one = edge.pop(0)
        if one in waits:
            edge = [*waits[one], *edge]
        else:
            found[one] = None
    return tuple(found)


def _with_pegs(square: Portion, pegs: Sequence[Operation], whole: tuple[str, ...]) -> Portion:
    """Squaring up, then the pegs: what the one waited for the other now does. ``whole`` is all that they hold, twins included."""
    pulled = tuple(replace(op, after=_past(op.after, pegs)) for op in square.operations)
    first = pegs[0]
    driven = replace(
        first,
        after=(pulled[-1].id,),
        parts=whole,
        joints=tuple(dict.fromkeys(joint for peg in pegs for joint in peg.joints)),
        fasteners=tuple(fastener for peg in pegs for fastener in peg.fasteners),
        minutes=sum(peg.minutes for peg in pegs),
    )
    return replace(square, operations=(*pulled, driven), standing=whole)


def _waiting(portion: Portion, hours: float) -> Portion:
    return replace(portion, operations=tuple(replace(one, wait_hours=hours) for one in portion.operations))


def gathered(plan: Plan, portions: Sequence[Portion]) -> list[list[Portion]]:
    """Portions in order, each put with the one before it where they go together and an actions' list holds both."""
    groups: list[list[Portion]] = []
    for portion in portions:
        if groups and _fits(plan, groups[-1], portion):
            groups[-1].append(portion)
        else:
            groups.append([portion])
    return groups


def _fits(plan: Plan, group: Sequence[Portion], portion: Portion) -> bool:
    kinds = [one.kind for one in (*group, portion)]
    if {"dry-fit", CUT, SPLINES, TRIM, FIT} & set(kinds) or portion.first or portion.apart:
        return False
    if portion.closing or kinds.count("square") > 1 or "square" in kinds[1:-1]:
        return False
    every = (*group, portion)
    held = [one for one, following in pairwise(every) if _held_by(one, following)]
    ways = {one.way for one in every if one not in held} - {"slide", "square"}
    return len(ways) <= 1 and actions_of(plan, (*group, portion)) <= MOST_ACTIONS


def actions_of(plan: Plan, portions: Sequence[Portion]) -> int:
    """How many actions the wording makes of them: see ``templates/steps/join.j2``."""
    joins = [portion for portion in portions if portion.kind == "join"]
    square = 1 if joins and portions[-1].kind == "square" else SQUARE_ACTIONS
    count = sum(square for portion in portions if portion.kind == "square")
    count += sum(DRY_FIT_ACTIONS for portion in portions if portion.kind == "dry-fit")
    glued = any(portion.glued for portion in joins)
    hard = any(operation.method.tools and _bored_for(operation) for one in joins for operation in one.operations)
    for portion in joins:
        count += len({plan.part(part).kind for part in portion.new}) + SECOND_FASTENING * (len(portion.operations) - 1)
    if len(joins) == 1:
        count += 1 + glued * 2
    elif joins:
        count += 1
    return count + hard


def _bored_for(operation: Operation) -> bool:
    """Brads in hardwood by hammer: each is bored for, which is an action of its own."""
    tools = {tool.id for tool in operation.method.tools}
    return any(fastener.item.kind == FastenerKind.BRAD for fastener in operation.fasteners) and bool(
        tools & {"drill", "hand drill"}
    )


def _add(shop: Workshop, body: str, heading: str, group: Sequence[Portion], count: int) -> None:
    """One step. ``count`` is how many parts the body has, copies included."""
    assembly = _assembly_of(shop.plan, group) or body
    operations = tuple(operation for portion in group for operation in portion.operations)
    fasteners = tuple(fastener for portion in group for fastener in portion.fasteners)
    new = tuple(part for portion in group for part in portion.new)
    moves = tuple(move for portion in group for move in portion.moves)
    standing = group[0].standing
    if group[0].kind in (CUT, TRIM, FIT):  # what is cut stands out, as what is new does elsewhere
        new = tuple(dict.fromkeys(part for operation in operations for part in operation.parts))
        standing = tuple(part for part in standing if part not in new)
    shop.add(
        group[0].name,
        Stage.ASSEMBLE,
        _title(shop, assembly, group, count),
        operations,
        Scene(standing, new, moves, fasteners, (), pose=legs_up(shop.plan, new, standing)),
        assembly=assembly,
        hardware=counted(fasteners),
        heading=heading,
        also=[portion.name for portion in group],
    )


def _assembly_of(plan: Plan, group: Sequence[Portion]) -> str | None:
    """The assembly that all parts of these portions belong to, None where they are of several."""
    parts = (part for portion in group for part in (*portion.standing, *portion.new))
    assemblies = {plan.part(part).assembly for part in parts}
    return assemblies.pop() if len(assemblies) == 1 else None


ADD = {
    "": "Add the {new}",
    "before": "Square the {whole} and add the {new}",
    "after": "Add the {new}, and square the {whole}",
}
JOIN = {
    "": "Join the {all}",
    "before": "Square the {whole} and join the {all}",
    "after": "Join the {all}, and square the {whole}",
}
JOIN_TO = {
    "": "Join the {new} to the {base}",
    "before": "Square the {whole} and join the {new} to the {base}",
    "after": "Join the {new} to the {base}, and square the {whole}",
}
"""Titles by when the whole is squared."""
WHOLE = {
    (True, "screw"): ("Glue and screw the {} together", "Glue and screw the {} together, and square the corners"),
    (True, "nail"): ("Glue and nail the {} together", "Glue and nail the {} together, and square the corners"),
    (True, ""): ("Glue the {} together", "Glue the {} together, and square the corners"),
    (False, "screw"): ("Screw the {} together", "Screw the {} together, and square the corners"),
    (False, "nail"): ("Nail the {} together", "Nail the {} together, and square the corners"),
    (False, ""): ("Put the {} together", "Put the {} together, and square the corners"),
}
"""Titles of a whole that one step puts together, by glue and what is driven: plain, and where it is squared too."""
DRIVEN = frozenset(FastenerKind) - set(PINS)
"""What a title says is driven; pins of wood go in with the glue."""


def _title(shop: Workshop, assembly: str, group: Sequence[Portion], count: int) -> str:
    plan = shop.plan
    whole = plan.assembly(assembly).name.lower()
    joins = [portion for portion in group if portion.kind == "join"]
    squared = any(portion.kind == "square" for portion in group)
    if group[0].kind == CUT:
        return plan.words.tell("Cut the rabbets for the {}", _names(plan, [_insert_of(group[0])]))
    if group[0].kind == FIT:
        return fitting_title(plan, group[0].operations, whole)
    if group[0].kind == TRIM:
        return plan.words.tell("Trim the {} flush", _names(plan, group[0].operations[0].parts))
    if group[0].kind == SPLINES:
        title = "Glue the {} into the {}" if group[0].glued else "Push the {} into the {}"
        return plan.words.tell(title, _names(plan, group[0].new), whole)
    if not joins:
        pegged = any(_draws(op) for portion in group for op in portion.operations)
        square = "Square the {}, and drive the pegs" if pegged else "Square the {}"
        return plan.words.tell(square if squared else "Put the {} together dry", whole)
    new = [part for portion in joins for part in portion.new]
    square = "" if not squared else "before" if group[0].kind == "square" else "after"
    if not joins[0].first:
        return plan.words.tell(ADD[square], new=_names(plan, new), whole=whole)
    base = list(joins[0].standing)
    own = [part for part in plan.assembly(assembly).parts if not plan.part(part).brought]
    if len(joins) > 1 and len(base) + len(new) in (count, len(own)):
        return plan.words.tell(_whole_title(joins)[squared], whole)
    kinds = {plan.part(part).kind for part in base}
    if len(joins) > 1 or any(plan.part(part).kind in kinds for part in new):
        return plan.words.tell(JOIN[square], all=_names(plan, [*base, *new]), whole=whole)
    return plan.words.tell(JOIN_TO[square], new=_names(plan, new), base=_names(plan, base), whole=whole)


def _insert_of(portion: Portion) -> str:
    return next(op.settings.insert for op in portion.operations if isinstance(op.settings, StandingRabbetSettings))


def _whole_title(joins: Sequence[Portion]) -> tuple[str, str]:
    """``Glue and screw the face frame together``; and the same where it is squared too."""
    ways = {portion.way for portion in joins} & DRIVEN
    driven = "nail" if ways == {FastenerKind.BRAD} else "screw" if ways else ""
    return WHOLE[any(portion.glued for portion in joins), driven]


def _names(plan: Plan, parts: Sequence[str]) -> str:
    return title_names([plan.part(part) for part in parts])
