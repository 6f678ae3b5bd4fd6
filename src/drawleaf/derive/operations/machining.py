"""Work on loose, flat parts: notches, channels, holes, pockets, edges. What shares a set-up is done together."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from typing import TypeVar

from drawleaf.derive.assembly.groups import hang_together
from drawleaf.derive.operations.drafts import (
    MOST_NAMED,
    Stage,
    Work,
    Workshop,
    by_setting,
    distinct,
    key_of,
    local,
    short_names,
    title_names,
)
from drawleaf.derive.operations.machining_titles import EDGE_TITLES, HOLE_TITLES, HOLES_FOR, channel_titles
from drawleaf.derive.operations.mitres import MITRES
from drawleaf.derive.operations.plugs import hiding, hole_settings
from drawleaf.derive.operations.profiles import PROFILES
from drawleaf.derive.operations.shaping import SHAPING
from drawleaf.derive.operations.small_parts import BIG_CHAMFER, sawn_on_board
from drawleaf.derive.operations.standing_rabbet import waits
from drawleaf.english import listed
from drawleaf.model.catalogue import SCREWS, FastenerKind
from drawleaf.model.joint_family import CutKind
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Bore, BoxCut, EdgeProfile, Fastener, Feature, Part, Plan
from drawleaf.model.settings import BoreSettings, ChannelSettings, EdgeSettings, PocketSettings, ShelfPinSettings
from drawleaf.model.steps import Operation, Scene
from drawleaf.setting_out.bevels import is_bevel
from drawleaf.setting_out.channels import Channel, channel_of
from drawleaf.setting_out.screws import ScrewLine, screw_lines
from drawleaf.setting_out.slants import off_square
from drawleaf.units import Length

Item = TypeVar("Item")
ChannelGroup = tuple[ChannelSettings, list[Channel]]
CHANNELS = (CutKind.DADO, CutKind.GROOVE, CutKind.RABBET)
BACK_RABBET = "rabbet-back"
"""Work of its own in ``shared/methods``: it knows a way more, after assembly. Where it is missing, a back's rabbet is like any other."""
BIG_HOLE = Length.of_inches(1) / 2
MOST_ACTIONS = 7
MOST_BITS = 2
"""So many bits to a step: each takes an action to mark and one to set."""
"""Screws that go through a clearance hole."""
MOULDED = ("cove", "ogee", "bead")
"""Profiles along an edge that each have a bit of their own."""
MOST_MARKS = 8
"""So many lines of screws to a step."""


def grouped(items: Sequence[Item], key: Callable[[Item], Hashable]) -> list[list[Item]]:
    """The items gathered by key, groups and members in the order they come."""
    groups: dict[Hashable, list[Item]] = {}
    for item in items:
        groups.setdefault(key(item), []).append(item)
    return list(groups.values())


def _features(shop: Workshop, wanted: Callable[[Feature], bool]) -> list[tuple[Part, Feature]]:
    return [(part, feature) for part in shop.parts for feature in part.features if wanted(feature)]


def _scene(parts: Sequence[Part]) -> Scene:
    return Scene((), tuple(part.id for part in distinct(parts)), (), (), ())


def _ids(parts: Sequence[Part]) -> tuple[str, ...]:
    return tuple(part.id for part in distinct(parts))


def _notches(shop: Workshop) -> None:
    found = _features(shop, lambda feature: isinstance(feature, BoxCut) and feature.kind == CutKind.NOTCH)
    kinds = grouped(found, lambda pair: (pair[0].kind,))
    for alike in grouped(kinds, _notched):
        group = [pair for kind in alike for pair in kind]
        parts = [part for part, _ in group]
        key = key_of(shop.plan, parts[0])
        operation = shop.operation(f"notch-{key}", "notch", _ids(parts), features=[(p.id, f) for p, f in group])
        shop.add(
            f"notch-{key}",
            Stage.SHAPE,
            shop.words.tell("Notch the {}", title_names(distinct(parts))),
            (operation,),
            _scene(parts),
        )


def _notched(pairs: Sequence[tuple[Part, Feature]]) -> Hashable:
    """What the notches of one kind of part have in common with those of another: from every side they lie as far in."""
    own: dict[str, set[Hashable]] = {}
    for part, cut in pairs:
        if isinstance(cut, BoxCut):
            rooms = ((cut.box.span(axis), part.body.span(axis)) for axis in Axis)
            sides = tuple((void.low - span.low, span.high - void.high) for void, span in rooms)
            own.setdefault(part.id, {part.thickness, part.length_axis}).add(sides)
    return frozenset(frozenset(one) for one in own.values())


def _all_channels(shop: Workshop) -> None:
    for kind in CHANNELS:
        _channels(shop, kind)


def _channels(shop: Workshop, kind: CutKind) -> None:
    """One operation to each set-up; set-ups on the same kinds of part share a step."""
    found = [
        channel_of(part, feature)
        for part, feature in _features(shop, lambda feature: isinstance(feature, BoxCut) and feature.kind == kind)
        if isinstance(feature, BoxCut) and not waits(shop.plan, feature)
    ]
    setups = by_setting(found, lambda channel: channel.settings, apart=lambda channel: shop.set_up(channel.part)[0])
    steps: list[list[ChannelGroup]] = []
    for setup in setups:
        if steps and _channel_actions(shop, [*steps[-1], setup]) <= MOST_ACTIONS:
            steps[-1].append(setup)
        else:
            steps.append([setup])
    cut = [[channel for _, channels in setup for channel in channels] for setup in steps]
    for setup, title in zip(steps, channel_titles(shop, kind, cut), strict=True):
        _channel_step(shop, kind, setup, title)


def _channel_actions(shop: Workshop, setups: Sequence[ChannelGroup]) -> int:
    """How many actions the wording makes of these set-ups in one step: see ``templates/steps/channel.j2``."""
    if len({shop.set_up(channel.part)[0] for _, channels in setups for channel in channels}) > 1:
        return MOST_ACTIONS + 1
    settings = {(setting.width, setting.depth) for setting, _ in setups}
    return 2 + len(setups) + 2 * len(settings) + any(setting.stops for setting, _ in setups)


def _channel_step(shop: Workshop, kind: CutKind, setups: Sequence[ChannelGroup], title: str) -> None:
    parts = [channel.part for _, channels in setups for channel in channels]
    name = f"{kind}-{key_of(shop.plan, parts[0])}"
    operations = [
        shop.operation(
            name,
            "channel",
            _ids([channel.part for channel in channels]),
            way=BACK_RABBET if kind == CutKind.RABBET and _can_wait(shop.plan, channels) else kind,
            pieces=len(channels),
            settings=setting,
            features=[(channel.part.id, channel.cut) for channel in channels],
        )
        for setting, channels in setups
    ]
    also = [f"{kind}-{key_of(shop.plan, part)}" for part in parts]
    shop.add(operations[0].id, Stage.MACHINE, title, operations, _scene(parts), also=also)


def _can_wait(plan: Plan, rabbets: Sequence[Channel]) -> bool:
    """Whether these rabbets can also be cut once the piece stands: their parts hang together without what lies in the rabbets."""
    receivers = {channel.part.id for channel in rabbets}
    if BACK_RABBET not in plan.catalogue.methods or len(receivers) < 2:
        return False
    laid_in = {
        joint.insert
        for joint in plan.joints_of(receivers)
        if joint.family.channel is CutKind.RABBET and joint.receiver in receivers
    }
    return receivers.isdisjoint(laid_in) and hang_together(plan, receivers, laid_in)


def _holes(shop: Workshop, kinds: Sequence[str]) -> list[tuple[Part, Bore]]:
    return [
        (part, feature)
        for part in shop.parts
        for feature in part.features
        if isinstance(feature, Bore) and feature.kind in kinds
    ]


def _shelf_pins(shop: Workshop) -> None:
    """All rows of one hole size and depth with one jig: the step says where each part's lowest hole stands."""
    found = _holes(shop, ("shelf pin",))
    for setting, group in by_setting(
        found, lambda pair: ShelfPinSettings(pair[1].diameter, pair[1].depth), apart=lambda pair: pair[0].assembly
    ):
        parts = distinct([part for part, _ in group])
        operation = shop.operation(
            "drill-shelf-pins",
            "shelf-pins",
            _ids(parts),
            settings=setting,
            features=[(part.id, feature) for part, feature in group],
        )
        shop.add(
            operation.id,
            Stage.DRILL,
            shop.words.tell("Drill the shelf-pin holes in the {}", title_names(parts)),
            (operation,),
            _scene(parts),
        )


def _bores(shop: Workshop) -> None:
    """Single holes. Those that one kind of bit bores stand together, a few sizes to a step."""
    found = _holes(shop, ("hole", "finger hole"))
    for work in grouped(found, lambda pair: _bore_work(pair[1])):
        groups = by_setting(work, lambda pair: _bore_setting(pair[1]), apart=lambda pair: pair[0].kind)
        for start in range(0, len(groups), MOST_BITS):
            _bore_step(shop, groups[start : start + MOST_BITS])


def _bore_setting(hole: Bore) -> BoreSettings:
    return BoreSettings(hole.diameter, hole.kind, hole.depth, off_square(hole) or None)


def _bore_work(hole: Bore) -> str:
    if off_square(hole):
        return "bore-slant"
    if hole.diameter <= BIG_HOLE:
        return "bore"
    return "bore-wide" if hole.depth is None else "bore-wide-blind"


def _bore_step(shop: Workshop, groups: Sequence[tuple[BoreSettings, list[tuple[Part, Bore]]]]) -> None:
    operations, names = [], []
    for setting, group in groups:
        names.append(f"{'finger-hole' if setting.kind == 'finger hole' else 'bore'}-{key_of(shop.plan, group[0][0])}")
        operations.append(
            shop.operation(
                names[-1],
                "bore",
                _ids([part for part, _ in group]),
                way=_bore_work(group[0][1]),
                pieces=len(group),
                settings=setting,
                features=[(part.id, feature) for part, feature in group],
            )
        )
    pairs = [pair for _, group in groups for pair in group]
    parts = distinct([part for part, _ in pairs])
    kinds = {setting.kind for setting, _ in groups}
    hole = kinds.pop() if len(kinds) == 1 else "hole"
    named = short_names(shop.plan, parts)
    comes = {fitting.position: fitting.item.family.bored_for for fitting in shop.plan.fittings}
    bored_for = {comes.get(bore.position, "") for _, bore in pairs}
    what = bored_for.pop() if len(bored_for) == 1 else ""
    title = shop.words.tell(HOLE_TITLES[hole][len(pairs) > 1], named)
    if what:
        title = shop.words.tell(HOLES_FOR, what, named)
    shop.add(operations[0].id, Stage.DRILL, title, operations, _scene(parts), also=names)


def pocket_screws(shop: Workshop) -> list[Fastener]:
    """Every pocket screw of the plan, in joint order."""
    return [
        fastener
        for joint in shop.plan.joints
        for fastener in joint.fasteners
        if fastener.item.kind == FastenerKind.POCKET_SCREW
    ]


def _pockets(shop: Workshop) -> None:
    """All pocket holes, with one setting of jig and collar for each thickness."""
    part_of = {part.id: part for part in shop.plan.parts}
    screws = [screw for screw in pocket_screws(shop) if shop.works_on(screw.through)]
    groups = grouped(screws, lambda screw: part_of[screw.through].stock.thickness)
    for start in range(0, len(groups), MOST_BITS):
        _pocket_step(shop, groups[start : start + MOST_BITS])


def _pocket_step(shop: Workshop, groups: Sequence[Sequence[Fastener]]) -> None:
    plan = shop.plan
    operations: list[Operation] = []
    for group in groups:
        parts = distinct([plan.part(screw.through) for screw in group])
        pockets = [
            (part.id, feature)
            for part in parts
            for feature in part.features
            if isinstance(feature, Bore) and feature.kind == "pocket"
        ]
        operations.append(
            shop.operation(
                _pocket_name(parts[0]),
                "pocket-holes",
                _ids(parts),
                pieces=len(group),
                settings=PocketSettings(parts[0].stock.thickness, len(group)),
                features=pockets,
            )
        )
    parts = distinct([plan.part(screw.through) for group in groups for screw in group])
    assemblies = list(dict.fromkeys(part.assembly for part in parts))
    title = shop.words.put("Drill the pocket holes")
    if len(assemblies) <= MOST_NAMED:
        names = listed([plan.assembly(one).name.lower() for one in assemblies])
        title = shop.words.tell("Drill the pocket holes for the {}", names)
    also = [_pocket_name(part) for part in parts]
    shop.add(operations[0].id, Stage.DRILL, title, operations, _scene(parts), also=also)


def _pocket_name(part: Part) -> str:
    return f"pocket-holes-{local(part.assembly)}"


def _screw_holes(shop: Workshop) -> None:
    """Clearance holes for wood screws, while the parts lie flat: one operation to a size of hole, a few lines of screws to a step."""
    plan = shop.plan
    lines = screw_lines(plan, tuple(f for joint in plan.joints for f in joint.fasteners if f.item.kind in SCREWS))
    lines = tuple(line for line in lines if shop.works_on(line.through))
    alike = grouped(
        lines,
        lambda line: (
            line.item.gauge,
            line.slotted,
            hiding(line),
            line.along,
            line.across,
            *(_handless(f) for f in (line.end, line.edge)),
            line.face if line.face.axis is not Axis.X else None,
        ),
    )
    steps: list[list[ScrewLine]] = []
    room = 0
    for lines in alike:
        taken = 2 if lines[0].slotted or lines[0].counterbore is not None else 1
        if taken > room:
            steps.append([])
            room = MOST_MARKS
        steps[-1] += lines
        room -= taken
    for step in steps:
        _screw_hole_step(shop, step)


def _handless(face: Face) -> str:
    """What twins share: left and right are one, and so are top and bottom."""
    return "end" if face.axis is not Axis.Y else face.value


def _screw_hole_step(shop: Workshop, lines: Sequence[ScrewLine]) -> None:
    plan = shop.plan
    operations, names = [], []
    for setting, some in by_setting(lines, hole_settings, apart=hiding):
        parts = distinct([plan.part(line.through) for line in some])
        pairs = {(line.through, line.into) for line in some}
        joints = [joint for joint in plan.joints if any((f.through, f.into) in pairs for f in joint.fasteners)]
        names += [f"screw-holes-{local(part.assembly)}" for part in parts]
        operations.append(
            shop.operation(
                f"sunk-{names[-1]}" if setting.sunk else names[-1],
                "screw-holes",
                _ids(parts),
                pieces=sum(line.count for line in some),
                joints=joints,
                way="screw-holes-plugged" if setting.counterbore is not None else "screw-holes",
                settings=setting,
            )
        )
    parts = distinct([plan.part(line.through) for line in lines])
    title = shop.words.tell("Drill the screw holes in the {}", short_names(plan, parts))
    named = next((one.id for one in operations if not one.id.startswith("sunk-")), operations[0].id)
    shop.add(named, Stage.DRILL, title, operations, _scene(parts), also=names)


def _edges(shop: Workshop) -> None:
    """Edge profiles on loose parts, one step to a kind of part; a large chamfer is a sawn corner."""
    done = sawn_on_board(shop)
    found = [
        (part, f)
        for part, f in _features(shop, lambda f: isinstance(f, EdgeProfile))
        if isinstance(f, EdgeProfile) and not (part.id in done and edge_work(part, f) == "clip-corner")
    ]
    for work in grouped(found, lambda pair: edge_work(*pair)):
        groups = by_setting(work, lambda pair: EdgeSettings(pair[1].size), apart=lambda pair: pair[0].kind)
        for start in range(0, len(groups), MOST_BITS):
            _edge_step(shop, edge_work(*work[0]), groups[start : start + MOST_BITS])


def _edge_step(
    shop: Workshop, work: str, groups: Sequence[tuple[EdgeSettings, list[tuple[Part, EdgeProfile]]]]
) -> None:
    operations, names = [], []
    for setting, group in groups:
        names.append(f"{work}-{key_of(shop.plan, group[0][0])}")
        operations.append(
            shop.operation(
                names[-1],
                work,
                _ids([part for part, _ in group]),
                pieces=len(group),
                settings=setting,
                features=[(part.id, feature) for part, feature in group],
            )
        )
    parts = distinct([part for _, group in groups for part, _ in group])
    several = sum(len(group) for _, group in groups) > 1
    title = shop.words.tell(EDGE_TITLES[work][several], title_names(parts))
    shop.add(operations[0].id, Stage.SHAPE, title, operations, _scene(parts), also=names)


def edge_work(part: Part, profile: EdgeProfile) -> str:
    """The kind of work that cuts a profile along an edge."""
    if is_bevel(part, profile):
        return "rip-bevel"
    if profile.kind == "chamfer":
        return "clip-corner" if profile.size > BIG_CHAMFER else "chamfer"
    return profile.kind if profile.kind in MOULDED else "round-over"


CHANNELING = Work(_all_channels, CHANNELS)
PIN_ROWS = Work(_shelf_pins, ("shelf-pins",))
BORING = Work(_bores, ("bore", "bore-wide", "bore-wide-blind", "bore-slant"))
NOTCHING = Work(_notches, ("notch",))
EDGING = Work(_edges, ("round-over", "chamfer", "clip-corner", "rip-bevel", *MOULDED))
MACHINES: tuple[Work, ...] = (
    PROFILES,
    MITRES,
    CHANNELING,
    PIN_ROWS,
    BORING,
    Work(_pockets, ("pocket-holes",)),
    Work(_screw_holes, ("screw-holes", "screw-holes-plugged")),
    NOTCHING,
    SHAPING,
    EDGING,
)
"""Work of each kind on loose parts, in the order in which it is done. What a new file of operations does to loose parts is a line here."""
