"""Recesses in loose parts, for hinges, magnets, plates and fasteners: pockets with square corners, and round ones."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from drawleaf.derive.operations.drafts import Stage, Work, Workshop, by_setting, distinct, key_of, title_names
from drawleaf.derive.operations.fitting_kinds import all_coats
from drawleaf.derive.operations.machining import grouped
from drawleaf.model.catalogue import HardwareItem
from drawleaf.model.plan import Bore, BoxCut, Feature, Fitting, Part, Plan
from drawleaf.model.settings import RecessSettings, RoundRecessSettings
from drawleaf.model.steps import Operation, Scene
from drawleaf.units import Length

ROUND = ("recess", "hinge cup")
"""Kinds of bores that take a wide flat-bottomed bit and a sure depth."""
MARKED = "recess-marked"
"""Kind of the operations that cut a recess where its mate marked it."""
CUPS = ("Bore the hinge cup in the {}", "Bore the hinge cups in the {}")


def item_for(plan: Plan, part_id: str, feature: Feature) -> HardwareItem | None:
    """The piece of hardware that a recess is for: the one that the same line of the source puts on that part."""
    for fitting in plan.fittings:
        if fitting.position == feature.position and part_id in fitting.parts:
            return fitting.item
    return None


def cut_recesses(shop: Workshop) -> None:
    """Round ones and square ones, a step to each kind of hardware."""
    found = _found(shop.plan, shop.parts, marked=False)
    for group in grouped(found, lambda pair: _work(shop.plan, *pair)):
        _step(shop, group)


def _found(plan: Plan, parts: Iterable[Part], *, marked: bool) -> list[tuple[Part, Bore | BoxCut]]:
    """The recesses of some parts: those that are ``marked`` from their mates, or the others."""
    return [
        (part, feature)
        for part in parts
        for feature in part.features
        if isinstance(feature, Bore | BoxCut)
        and feature.kind in ROUND
        and plan.order.is_marked(part.id, feature.position) is marked
    ]


def _work(plan: Plan, part: Part, feature: Feature) -> tuple[bool, str, str]:
    item = item_for(plan, part.id, feature)
    return isinstance(feature, Bore), feature.kind, item.id if item else ""


def _step(shop: Workshop, group: list[tuple[Part, Bore | BoxCut]]) -> None:
    """One operation to a setting of bit and depth; all of one kind of hardware in a step."""
    first_part, first = group[0]
    item = item_for(shop.plan, first_part.id, first)
    round_ = isinstance(first, Bore)
    work = "recess-round" if round_ else "recess"
    name = f"{'cups' if first.kind == 'hinge cup' else 'recess'}-{key_of(shop.plan, first_part)}"
    operations = []
    kind = item.kind if item else ""
    for setting, alike in by_setting(group, lambda pair: _setting(pair[1], kind)):
        operations.append(
            shop.operation(
                name,
                work,
                tuple(dict.fromkeys(part.id for part, _ in alike)),
                pieces=len(alike),
                settings=setting,
                features=[(part.id, one) for part, one in alike],
            )
        )
    parts = distinct(part for part, _ in group)
    title = shop.words.tell(_title(first, item)[len(group) > 1], title_names(parts))
    scene = Scene((), tuple(part.id for part in parts), (), (), ())
    word = name.partition("-")[0]
    also = [f"{word}-{key_of(shop.plan, part)}" for part in parts]
    shop.add(operations[0].id, Stage.DRILL if round_ else Stage.SHAPE, title, operations, scene, also=also)


def _setting(feature: Bore | BoxCut, item: str) -> RecessSettings:
    if isinstance(feature, Bore):
        return RoundRecessSettings(_depth(feature), item, feature.diameter, feature.kind)
    return RecessSettings(_depth(feature), item)


def _depth(feature: Bore | BoxCut) -> Length:
    if isinstance(feature, Bore):
        return feature.depth or feature.diameter
    return feature.box.extent(feature.into.axis)


def _title(feature: Bore | BoxCut, item: HardwareItem | None) -> tuple[str, str]:
    if feature.kind == "hinge cup":
        return CUPS
    work = "Bore" if isinstance(feature, Bore) else "Cut"
    lies = f" for {item.family.recess_for}" if item is not None and item.family.recess_for else ""
    return f"{work} the recess{lies} in the {{}}", f"{work} the recesses{lies} in the {{}}"


def marked_recesses(shop: Workshop, fittings: Sequence[Fitting]) -> list[Operation]:
    """The recesses for some hardware that are marked from their mates, cut when that half sits; one operation to a setting."""
    plan, lines = shop.plan, {fitting.position: fitting.item for fitting in fittings}
    found = [(part, cut) for part, cut in _found(plan, plan.parts, marked=True) if cut.position in lines]
    operations = []
    for setting, alike in by_setting(found, lambda pair: _setting(pair[1], lines[pair[1].position].kind)):
        operations.append(
            shop.operation(
                f"mark-{key_of(plan, alike[0][0])}",
                MARKED,
                tuple(dict.fromkeys(part.id for part, _ in alike)),
                way="recess-round" if isinstance(setting, RoundRecessSettings) else "recess",
                pieces=len(alike),
                settings=setting,
                features=[(part.id, one) for part, one in alike],
                fittings=[one for one in fittings if any(one.position == cut.position for _, cut in alike)],
                after=all_coats(shop),
            )
        )
    return operations


RECESSES = Work(cut_recesses, ("recess", "recess-round"))
