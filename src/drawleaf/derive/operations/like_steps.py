"""Steps that say of like parts what another step says are told once: "do this six times". Alike is what coincides when it is moved, whatever
the author called it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Sequence
from dataclasses import dataclass, replace

from drawleaf.derive.assembly.groups import low_corner
from drawleaf.derive.operations.drafts import Draft, Stage, title_names
from drawleaf.derive.operations.dry_fits import DRY_FIT
from drawleaf.graphs import connected
from drawleaf.model.catalogue import FastenerKind
from drawleaf.model.place import Point
from drawleaf.model.plan import Fastener, Feature, Fitting, Joint, Part, Plan
from drawleaf.model.position import Position
from drawleaf.model.steps import Copy, Operation

Key = tuple[Hashable, ...]
FROM, UPTO = Stage.MACHINE, Stage.PLACE
"""What is cut out of sheets and boards is told layout by layout."""
SHELVES = "set-shelves"
_NOWHERE = Position("", 1, 1)
_WHOLE = ("coat", "fill-and-sand")
"""Work on all that there is, once."""


@dataclass(frozen=True, slots=True)
class _Likeness:
    """What two steps must share to be told as one. ``parts`` in an order that is the same for all that are alike, where they are put together;
    ``worked`` are the shapes of parts that are worked on one by one, each for itself: one step's may be some of the other's."""

    key: Key
    parts: tuple[str, ...]
    worked: frozenset[Hashable]


@dataclass(slots=True)
class _Group:
    drafts: list[Draft]
    parts: list[tuple[str, ...]]
    """Of each draft, as in its likeness."""
    like: _Likeness | None
    after: int
    """Bits of the groups that come before it, whatever lies between."""
    homes: set[str]
    """The assemblies whose work it is: two steps on one assembly are a row of work, not the same work again."""


def like_told_once(plan: Plan, drafts: Sequence[Draft]) -> tuple[Draft, ...]:
    """The drafts, which are in order, with those that are alike as one where nothing that comes between waits for the one and is waited for by
    the other. Whoever orders them anew keeps what waits for it behind it."""
    groups: list[_Group] = []
    home: dict[str, int] = {}
    known: dict[Hashable, list[int]] = {}
    for draft, following in zip(drafts, (*drafts[1:], None), strict=True):
        before = {home[one] for op in draft.operations for one in op.after if one in home}
        like = _likeness(plan, draft)
        if like is not None and following is not None and any(op.kind == DRY_FIT for op in draft.operations):
            # What is tried dry together is put together, and told as alike, together.
            then = _likeness(plan, following)
            like = replace(like, key=(*like.key, then.key if then else following.id))
        own = _home(plan, draft)
        place = _place(groups, known.get(like.key, ()) if like else (), like, own, before)
        if place is None:
            place = len(groups)
            groups.append(_Group([draft], [like.parts if like is not None else ()], like, 0, set()))
            if like is not None:
                known.setdefault(like.key, []).append(place)
        else:
            _take_in(groups[place], draft, like)
        groups[place].homes.add(own)
        home |= {op.id: place for op in draft.operations}
        _wait(groups, place, before)
    # Where the last of them stood all that the others wait for has been told.
    last = {id(one): place for place, one in enumerate(drafts)}
    groups.sort(key=lambda group: max(last[id(one)] for one in group.drafts))
    return _under_one_heading(plan, groups)


def _under_one_heading(plan: Plan, groups: Sequence[_Group]) -> tuple[Draft, ...]:
    """The groups as drafts. What builds assemblies that are alike stands together under the heading of the first of them, also where one of
    them has work of its own."""
    drafts = [_as_one(plan, group) for group in groups]
    builds = [
        draft.stage is Stage.ASSEMBLE and draft.heading != plan.words.put(Stage.ASSEMBLE.heading) for draft in drafts
    ]
    building = [group for group, yes in zip(groups, builds, strict=True) if yes]
    links = [(_home(plan, group.drafts[0]), home) for group in building for home in group.homes]
    shared = [some for some in connected((one.id for one in plan.assemblies), links) if len(some) > 1]
    first = {home: some[0] for some in shared for home in some}
    headings = {_home(plan, one): one.heading for group in building for one in group.drafts}
    homes = [first.get(_home(plan, draft), "") if yes else "" for draft, yes in zip(drafts, builds, strict=True)]
    ends = {home: place for place, home in enumerate(homes)}
    order = sorted(range(len(drafts)), key=lambda place: (ends[homes[place]] if homes[place] else place, place))
    return tuple(
        replace(drafts[place], heading=headings.get(homes[place], drafts[place].heading))
        if homes[place]
        else drafts[place]
        for place in order
    )


def _place(
    groups: Sequence[_Group], known: Sequence[int], like: _Likeness | None, home: str, before: set[int]
) -> int | None:
    """The group that a draft goes into: one that is alike, and that nothing which the draft waits for waits for."""
    for place in known:
        group = groups[place]
        assert like is not None
        assert group.like is not None
        if (home and home in group.homes) or not (like.worked <= group.like.worked or group.like.worked <= like.worked):
            continue
        if not any(groups[one].after >> place & 1 for one in before if one != place):
            return place
    return None


def _take_in(group: _Group, draft: Draft, like: _Likeness | None) -> None:
    assert like is not None
    assert group.like is not None
    if len(like.worked) > len(group.like.worked):  # the one that shows all is drawn
        group.drafts.insert(0, draft)
        group.parts.insert(0, like.parts)
        group.like = like
    else:
        group.drafts.append(draft)
        group.parts.append(like.parts)


def _wait(groups: Sequence[_Group], place: int, before: set[int]) -> None:
    """Notes that a group waits for others, and with it all that wait for it."""
    more = 0
    for one in before - {place}:
        more |= groups[one].after | 1 << one
    more &= ~(1 << place)
    groups[place].after |= more
    for group in groups:
        if group.after >> place & 1:
            group.after |= more


def _as_one(plan: Plan, group: _Group) -> Draft:
    first, *others = group.drafts
    if not others:
        return first
    waits = [max(op.wait_hours for op in at) for at in zip(*(one.operations for one in group.drafts), strict=True)]
    drafts = [
        replace(one, operations=tuple(replace(op, wait_hours=w) for op, w in zip(one.operations, waits, strict=True)))
        for one in group.drafts
    ]
    if group.like is not None and group.like.worked:
        drafts[1:] = [_at_the_same_setting(one) for one in drafts[1:]]
    uses: dict[str, int] = {}
    for use in (use for one in drafts for use in one.hardware):
        uses[use.item.id] = uses.get(use.item.id, 0) + use.count
    items = {use.item.id: use for one in drafts for use in one.hardware}
    names = (name for one in drafts for name in (one.id, *one.also))
    return replace(
        first,
        title=_title(plan, drafts),
        operations=tuple(op for one in drafts for op in one.operations),
        hardware=tuple(replace(items[item], count=count) for item, count in uses.items()),
        also=tuple(dict.fromkeys(name for name in names if name != first.id)),
        copies=tuple(_copy(plan, *one) for one in zip(drafts, group.parts, strict=True)),
    )


def _at_the_same_setting(draft: Draft) -> Draft:
    """The same work on more loose parts: the machine stands as it was set. What is put together is set up anew each time."""
    operations = tuple(replace(op, minutes=op.minutes - op.set_up, set_up=0.0) for op in draft.operations)
    return replace(draft, operations=operations)


def _title(plan: Plan, drafts: Sequence[Draft]) -> str:
    """``Glue the lower drawer together; the upper drawer likewise``; ``Glue the drawer 1 together: 5 alike``."""
    title = drafts[0].title
    if not all(_home(plan, one) for one in drafts):
        parts = dict.fromkeys(part for one in drafts[1:] for op in one.operations for part in op.parts)
        return plan.words.tell("{}; the {} likewise", title, title_names([plan.part(part) for part in parts]))
    if len(drafts) == 2:
        return plan.words.tell("{}; the {} likewise", title, plan.assembly(_home(plan, drafts[1])).name.lower())
    return plan.words.tell("{}: {} alike", title, str(len(drafts)))


def _copy(plan: Plan, draft: Draft, parts: tuple[str, ...]) -> Copy:
    return Copy(_home(plan, draft), parts, tuple(op.id for op in draft.operations))


def _home(plan: Plan, draft: Draft) -> str:
    """The assembly that it is work on; empty where it is work on parts of several."""
    homes = {plan.part(one).assembly for op in draft.operations for one in _touched(op)}
    return draft.assembly or (homes.pop() if len(homes) == 1 else "")


def _likeness(plan: Plan, draft: Draft) -> _Likeness | None:
    """None for what is told by itself in any case."""
    scene = draft.scene
    if not FROM <= draft.stage <= UPTO or scene is None or scene.layout is not None:
        return None
    ops = draft.operations
    if any(op.kind in _WHOLE or op.coat is not None for op in ops) or _helped(plan, ops) or _ordered(plan, ops):
        return None
    work = tuple((op.kind, op.method.id, tuple(one.id for one in op.others), op.settings, op.lesson) for op in ops)
    if not scene.standing and all(op.features and not op.joints and not op.fittings for op in ops):
        worked = frozenset(
            (place, _worked(plan.part(one), op)) for place, op in enumerate(ops) for one in dict.fromkeys(op.parts)
        )
        return _Likeness((draft.stage, work, draft.cautions), (), worked)
    parts = [plan.part(one) for one in dict.fromkeys(one for op in ops for one in _touched(op))]
    if not parts:
        return None
    low = low_corner(parts)
    parts.sort(key=lambda part: (part.body.shifted(-low).low.mm, part.body.high.mm, part.name))
    number = {part.id: place for place, part in enumerate(parts)}
    # Hardware and bodies go to the standing piece at a height that is told; shelves lie where their pins are.
    level = low.z if any((op.fittings and op.kind != SHELVES) or op.kind == "join-body" for op in ops) else None
    moves = frozenset((number[move.part], move.direction) for move in scene.moves if move.part in number)
    shapes = tuple(_placed(part, low) for part in parts)
    done = tuple(_done(op, number, low) for op in ops)
    own = tuple(sorted(number[one] for op in ops for one in op.parts if one in number))
    return _Likeness(
        (draft.stage, work, draft.cautions, scene.pose, level, moves, shapes, done, own), tuple(number), frozenset()
    )


def _helped(plan: Plan, ops: Sequence[Operation]) -> bool:
    """Whether scraps hold or guide the work: each is set for its own joint."""
    if not plan.helps:
        return False
    ids = {one.id for op in ops for one in (*op.joints, *op.fittings)}
    lines = {feature.position for op in ops for _, feature in op.features}
    return any(one.serves & ids or one.line in lines for one in plan.helps)


def _ordered(plan: Plan, ops: Sequence[Operation]) -> bool:
    """Whether the author says what comes before or after one of its parts: its step stays where it is."""
    order = plan.order
    wishes = [one.early | one.late for one in order.orders] + [one.until for one in order.standing]
    wishes += [one.parts for one in (*order.firsts, *order.fitted_after, *order.marked)]
    return any(not wish.isdisjoint(_touched(op)) or not wish.isdisjoint(op.parts) for wish in wishes for op in ops)


def _touched(op: Operation) -> tuple[str, ...]:
    """The parts whose place to each other the work follows from."""
    ends = tuple(end for joint in op.joints for end in (joint.insert, joint.receiver))
    ends += tuple(part for fitting in op.fittings for part in fitting.parts)
    return ends or op.parts


def _worked(part: Part, op: Operation) -> Hashable:
    low = part.body.low
    cuts = frozenset(_cut(feature, low) for one, feature in op.features if one == part.id)
    return (*_placed(part, low), cuts)


def _placed(part: Part, low: Point) -> Key:
    sort = None if part.fitted is None else (part.fitted.sort, part.rough)
    # Not the part moved: its features would move with it.
    section, tilt = (one.moved(-low) if one is not None else None for one in (part.section, part.tilt))
    boxes = part.seen.shifted(-low), part.body.shifted(-low)
    return (*boxes, part.name, part.stock.id, part.thickness, part.grain, section, tilt, sort)


def _cut(feature: Feature, low: Point) -> Feature:
    blank = {"position": _NOWHERE, "joint": None, "row": None}
    moved = feature.moved(-low)
    return replace(moved, **{name: value for name, value in blank.items() if hasattr(moved, name)})


def _done(op: Operation, number: dict[str, int], low: Point) -> Hashable:
    """What an operation closes, cuts, drives and fits, by the numbers of its parts."""
    return (
        frozenset(_joint(joint, number, low) for joint in op.joints),
        frozenset((number.get(part), _cut(feature, low)) for part, feature in op.features),
        _all_driven(op.fasteners, number, low),
        frozenset(_fitted(one, number, low) for one in op.fittings),
    )


def _joint(joint: Joint, number: dict[str, int], low: Point) -> Hashable:
    ends = number[joint.insert], number[joint.receiver]
    driven = _all_driven(joint.fasteners, number, low)
    what = joint.family.key, joint.face, joint.depth, joint.width, joint.glued, joint.normal, joint.after_assembly
    return (*what, joint.contact.shifted(-low), ends, driven)


def _all_driven(fasteners: Sequence[Fastener], number: dict[str, int], low: Point) -> Hashable:
    return frozenset(Counter(_driven(one, number, low) for one in fasteners).items())


def _driven(one: Fastener, number: dict[str, int], low: Point) -> Hashable:
    ends = number.get(one.through), number.get(one.into)
    plug = one.plug.id if one.plug else None
    how = one.item.id, one.direction, one.temporary, one.slotted, one.wide, one.sunk, plug, one.open_wide
    # Brads are spaced by eye: one that stands aside from a screw makes no other work.
    return (*how, None if one.item.kind == FastenerKind.BRAD else one.at.shifted(-low), ends)


def _fitted(one: Fitting, number: dict[str, int], low: Point) -> Hashable:
    parts = tuple(number[part] for part in one.parts)
    how = one.item.id, one.count, one.face, one.note, one.held_by, one.other_held_by, one.opens
    return (*how, one.at.shifted(-low), parts)
