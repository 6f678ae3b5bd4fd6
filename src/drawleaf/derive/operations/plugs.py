"""Heads that are hidden: plugs glued in over them once the screws are driven, and pared flush before the last sanding."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import replace

from drawleaf.derive.operations.drafts import Stage, Workshop, title_names
from drawleaf.derive.operations.standing import standing_so_far
from drawleaf.derive.shop.times import clamp_hours
from drawleaf.model.plan import Fastener, Plan
from drawleaf.model.settings import PlugSettings, ScrewHoleSettings
from drawleaf.model.steps import HardwareUse, Operation, Scene
from drawleaf.setting_out.screws import ScrewLine
from drawleaf.units import ZERO, Length

KINDS = ("plug-heads", "trim-plugs")
"""Kinds of work in ``shared/methods``."""


def plugged(plan: Plan) -> tuple[Fastener, ...]:
    """Every screw whose head a plug covers, in joint order."""
    return tuple(one for joint in plan.joints for one in joint.fasteners if one.plug is not None and not one.temporary)


def filled(plan: Plan) -> tuple[Fastener, ...]:
    """Every screw whose head lies under filler."""
    return tuple(one for joint in plan.joints for one in joint.fasteners if one.under_filler)


def hiding(line: ScrewLine) -> tuple[str, Length, Length]:
    """What lines of screws bored in one go have in common besides their size: the plug, how deep their heads lie and how wide they are counterbored."""
    return line.plug.id if line.plug is not None else "", line.sunk, line.counterbore or ZERO


def hole_settings(line: ScrewLine) -> ScrewHoleSettings:
    """What the step that bores the holes says of them."""
    return ScrewHoleSettings(line.item.gauge or 0, line.slotted, line.sunk, line.counterbore)


def plug_heads(shop: Workshop) -> None:
    """Plugs over the heads of all screws driven so far, in a step of their own: the glue sets before they are pared."""
    screws = _driven(shop)
    if screws:
        _plug_step(shop, screws, Stage.SMOOTH, ())


def plug_late_heads(shop: Workshop) -> None:
    """Plugs over heads that were driven after the finish: glued, pared and touched up in one step."""
    done = {id(one) for one in _driven(shop, Stage.SMOOTH)}
    screws = [one for one in plugged(shop.plan) if id(one) not in done]
    if screws:
        _plug_step(shop, screws, Stage.FIT, (_trimming(shop, screws, late=True),), late=True)


def trim_plugs(shop: Workshop) -> tuple[Operation, ...]:
    """The paring of the plugs that were glued in before; nothing where there are none."""
    screws = _driven(shop)
    return (_trimming(shop, screws, late=False),) if screws else ()


def _driven(shop: Workshop, before: Stage = Stage.FINISH) -> list[Fastener]:
    """The plugged screws that steps so far drive."""
    driven = {
        id(one) for draft in shop.drafts if draft.stage < before for op in draft.operations for one in op.fasteners
    }
    return [one for one in plugged(shop.plan) if id(one) in driven]


def _plug_step(
    shop: Workshop, screws: Sequence[Fastener], stage: Stage, more: Sequence[Operation], late: bool = False
) -> None:
    parts = _parts(shop.plan, screws)
    operation = shop.operation(
        "plug-heads",
        "plug-heads",
        parts,
        pieces=len(screws),
        settings=PlugSettings(len(screws), late),
        wait_hours=0.0 if more else clamp_hours(shop.plan.catalogue),
    )
    marks = tuple(
        replace(one, item=one.plug, at=one.mouth, sunk=ZERO, plug=None) for one in screws if one.plug is not None
    )
    title = shop.words.tell("Plug the screw holes in the {}", title_names([shop.plan.part(part) for part in parts]))
    shop.add(
        operation.id,
        stage,
        title,
        (operation, *more),
        Scene(standing_so_far(shop, parts), (), (), marks, ()),
        hardware=_uses(screws),
    )


def _trimming(shop: Workshop, screws: Sequence[Fastener], late: bool) -> Operation:
    return shop.operation(
        "trim-plugs",
        "trim-plugs",
        _parts(shop.plan, screws),
        pieces=len(screws),
        settings=PlugSettings(len(screws), late),
    )


def _parts(plan: Plan, screws: Iterable[Fastener]) -> tuple[str, ...]:
    through = {one.through for one in screws}
    return tuple(part.id for part in plan.parts if part.id in through)


def _uses(screws: Iterable[Fastener]) -> tuple[HardwareUse, ...]:
    counts = Counter(one.plug.id for one in screws if one.plug is not None)
    items = {one.plug.id: one.plug for one in screws if one.plug is not None}
    return tuple(HardwareUse(items[name], count) for name, count in counts.items())
