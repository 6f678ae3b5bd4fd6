"""Work on loose, flat parts: notches, channels, holes, pockets, edges. What shares a set-up is done together."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from typing import TypeVar

from drawleaf.derive.channels import Channel, channel_of
from drawleaf.derive.drafts import Stage, Workshop, key_of, plural, title_names
from drawleaf.model.plan import Bore, BoxCut, EdgeProfile, Fastener, Feature, Part
from drawleaf.model.steps import Operation, Scene, Setting
from drawleaf.units import Length

Item = TypeVar("Item")
CHANNELS = ("dado", "groove", "rabbet")
BIG_CHAMFER = Length.of_inches(1) / 2
"""A chamfer larger than a router bit cuts: the corner is sawn off."""
BIG_HOLE = Length.of_inches(1) / 2
MOST_SETUPS = 2
"""So many set-ups to a step: each takes an action of its own to set and one to cut."""


def machine_parts(shop: Workshop) -> None:
    """All steps that work on parts before they are joined."""
    for kind in CHANNELS:
        _channels(shop, kind)
    _shelf_pins(shop)
    _bores(shop)
    _pockets(shop)
    _notches(shop)
    _edges(shop)


def grouped(items: Sequence[Item], key: Callable[[Item], Hashable]) -> list[list[Item]]:
    """The items gathered by key, groups and members in the order they come."""
    groups: dict[Hashable, list[Item]] = {}
    for item in items:
        groups.setdefault(key(item), []).append(item)
    return list(groups.values())


def _features(shop: Workshop, wanted: Callable[[Feature], bool]) -> list[tuple[Part, Feature]]:
    return [(part, feature) for part in shop.plan.parts for feature in part.features if wanted(feature)]


def _distinct(parts: Sequence[Part]) -> list[Part]:
    return list({part.id: part for part in parts}.values())


def _scene(parts: Sequence[Part]) -> Scene:
    return Scene((), tuple(part.id for part in _distinct(parts)), (), (), ())


def _ids(parts: Sequence[Part]) -> tuple[str, ...]:
    return tuple(part.id for part in _distinct(parts))


def _notches(shop: Workshop) -> None:
    found = _features(shop, lambda feature: isinstance(feature, BoxCut) and feature.kind == "notch")
    for group in grouped(found, lambda pair: (pair[0].kind,)):
        parts = [part for part, _ in group]
        key = key_of(shop.plan, parts[0])
        operation = shop.operation(f"notch-{key}", "notch", _ids(parts), features=[(p.id, f) for p, f in group])
        shop.add(f"notch-{key}", Stage.SHAPE, f"Notch the {title_names(_distinct(parts))}", (operation,), _scene(parts))


def _channels(shop: Workshop, kind: str) -> None:
    """One operation to each set-up; set-ups on the same kinds of part share a step."""
    found = [
        channel_of(part, feature)
        for part, feature in _features(shop, lambda feature: isinstance(feature, BoxCut) and feature.kind == kind)
        if isinstance(feature, BoxCut)
    ]
    setups = grouped(found, lambda channel: (channel.part.assembly, *channel.setup))
    by_parts = grouped(setups, lambda setup: tuple(dict.fromkeys(channel.part.kind for channel in setup)))
    for steps in by_parts:
        for start in range(0, len(steps), MOST_SETUPS):
            _channel_step(shop, kind, steps[start : start + MOST_SETUPS], start // MOST_SETUPS + 1)


def _channel_step(shop: Workshop, kind: str, setups: Sequence[Sequence[Channel]], number: int) -> None:
    parts = [channel.part for setup in setups for channel in setup]
    key = key_of(shop.plan, parts[0])
    name = f"{kind}-{key}" + (f"-{number}" if number > 1 else "")
    operations = [
        shop.operation(
            name,
            "channel",
            _ids([channel.part for channel in setup]),
            way=kind,
            time=kind,
            pieces=len(setup),
            settings=_channel_settings(kind, setup[0]),
            features=[(channel.part.id, channel.cut) for channel in setup],
        )
        for setup in setups
    ]
    word = plural(kind) if len(parts) > 1 else kind
    into = "into" if kind != "rabbet" else "along"
    title = f"Cut the {word} {into} the {title_names(_distinct(parts))}"
    shop.add(name, Stage.MACHINE, title, operations, _scene(parts))


def _channel_settings(kind: str, channel: Channel) -> list[tuple[str, object]]:
    settings: list[tuple[str, object]] = [
        ("kind", kind),
        ("width", channel.width),
        ("depth", channel.depth),
        ("edge", channel.edge.value),
        ("offset", channel.offset),
        ("far side", channel.offset + channel.width),
    ]
    settings += [(f"stop {face.value}", room) for face, room in channel.stops]
    return settings


def _shelf_pins(shop: Workshop) -> None:
    """All rows of one hole size and depth with one jig: the step says where each part's lowest hole stands."""
    found = _features(shop, lambda feature: isinstance(feature, Bore) and feature.kind == "shelf pin")
    for group in grouped(found, lambda pair: (pair[0].assembly, pair[1].diameter, pair[1].depth)):  # type: ignore[union-attr]
        parts = _distinct([part for part, _ in group])
        operation = shop.operation(
            "drill-shelf-pins",
            "shelf-pins",
            _ids(parts),
            settings=[("bit", group[0][1].diameter), ("depth", group[0][1].depth)],  # type: ignore[union-attr]
            features=[(part.id, feature) for part, feature in group],
        )
        shop.add(
            operation.id,
            Stage.DRILL,
            f"Drill the shelf-pin holes in the {title_names(parts)}",
            (operation,),
            _scene(parts),
        )


def _bores(shop: Workshop) -> None:
    found = _features(shop, lambda feature: isinstance(feature, Bore) and feature.kind in ("hole", "finger hole"))
    for group in grouped(found, lambda pair: (pair[0].kind, pair[1].kind)):  # type: ignore[union-attr]
        parts = _distinct([part for part, _ in group])
        kind = group[0][1].kind  # type: ignore[union-attr]
        bores = [feature for _, feature in group if isinstance(feature, Bore)]
        key = key_of(shop.plan, parts[0])
        name = f"{'finger-hole' if kind == 'finger hole' else 'bore'}-{key}"
        wide = any(bore.diameter > BIG_HOLE for bore in bores)
        operation = shop.operation(
            name,
            "bore",
            _ids(parts),
            way="bore-wide" if wide else "bore",
            pieces=len(bores),
            settings=[("bit", bores[0].diameter), ("kind", kind)],
            features=[(part.id, feature) for part, feature in group],
        )
        hole = kind if len(bores) == len(parts) == 1 else f"{kind}s"
        shop.add(name, Stage.DRILL, f"Drill the {hole} in the {title_names(parts)}", (operation,), _scene(parts))


def pocket_screws(shop: Workshop) -> list[Fastener]:
    """Every pocket screw of the plan, in joint order."""
    return [
        fastener for joint in shop.plan.joints for fastener in joint.fasteners if fastener.item.kind == "pocket screw"
    ]


def _pockets(shop: Workshop) -> None:
    """Pocket holes by assembly, with one setting of jig and collar for each thickness."""
    screws = pocket_screws(shop)
    part_of = {part.id: part for part in shop.plan.parts}
    for in_assembly in grouped(screws, lambda screw: part_of[screw.through].assembly):
        assembly = part_of[in_assembly[0].through].assembly
        name = f"pocket-holes-{assembly.rsplit('.', 1)[-1].replace('_', '-')}"
        operations: list[Operation] = []
        for group in grouped(in_assembly, lambda screw: part_of[screw.through].stock.thickness):
            parts = _distinct([part_of[screw.through] for screw in group])
            pockets = [
                (part.id, feature)
                for part in parts
                for feature in part.features
                if isinstance(feature, Bore) and feature.kind == "pocket"
            ]
            operations.append(
                shop.operation(
                    name,
                    "pocket-holes",
                    _ids(parts),
                    pieces=len(group),
                    settings=[("thickness", parts[0].stock.thickness), ("count", str(len(group)))],
                    features=pockets,
                )
            )
        parts = _distinct([part_of[screw.through] for screw in in_assembly])
        title = f"Drill the pocket holes for the {shop.plan.assembly(assembly).name.lower()}"
        shop.add(name, Stage.DRILL, title, operations, _scene(parts))


def _edges(shop: Workshop) -> None:
    """Edge profiles on loose parts, one step to a kind of part; a large chamfer is a sawn corner."""
    found = [
        (part, f) for part, f in _features(shop, lambda f: isinstance(f, EdgeProfile)) if isinstance(f, EdgeProfile)
    ]
    for group in grouped(found, lambda pair: (pair[0].kind, _edge_work(pair[1]), pair[1].size)):
        parts = _distinct([part for part, _ in group])
        work, size = _edge_work(group[0][1]), group[0][1].size
        name = f"{work}-{key_of(shop.plan, parts[0])}"
        operation = shop.operation(
            name,
            work,
            _ids(parts),
            time="round-over" if work == "round-over" else "chamfer",
            pieces=len(group),
            settings=[("size", size)],
            features=[(part.id, feature) for part, feature in group],
        )
        verb = {"round-over": "Round over the edges of", "chamfer": "Chamfer", "clip-corner": "Cut the corner off"}[
            work
        ]
        shop.add(operation.id, Stage.SHAPE, f"{verb} the {title_names(parts)}", (operation,), _scene(parts))


def _edge_work(profile: EdgeProfile) -> str:
    if profile.kind == "chamfer":
        return "clip-corner" if profile.size > BIG_CHAMFER else "chamfer"
    return "round-over"


def setting(operation: Operation, name: str) -> Setting | None:
    """The setting of that name, None where there is none."""
    return next((setting for setting in operation.settings if setting.name == name), None)
