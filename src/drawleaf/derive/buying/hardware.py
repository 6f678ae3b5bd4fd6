"""Hardware counted from joints and fittings: each fastener once, each fitting with the screws that must be bought for it."""

from __future__ import annotations

from collections.abc import Iterator

from drawleaf.english import listed, lower_first
from drawleaf.model.catalogue import HardwareItem
from drawleaf.model.lists import HardwareRow
from drawleaf.model.plan import Fitting, Joint, Plan


def count_hardware(plan: Plan) -> tuple[HardwareRow, ...]:
    """All that is bought, in order of first use. Screws that come in a fitting's packet are not bought, so they have no row.

    Temporary fasteners are taken out again and driven elsewhere, so they are not counted.
    """
    items: dict[str, HardwareItem] = {}
    uses: dict[str, dict[str, int]] = {}
    for item, where, count in _all_uses(plan):
        items.setdefault(item.id, item)
        of_item = uses.setdefault(item.id, {})
        of_item[where] = of_item.get(where, 0) + count
    return tuple(_row(items[item], tuple(of_item.items())) for item, of_item in uses.items())


def _row(item: HardwareItem, uses: tuple[tuple[str, int], ...]) -> HardwareRow:
    count = sum(number for _, number in uses)
    return HardwareRow(item, count, -(-count // max(item.per_pack, 1)), uses)


def _all_uses(plan: Plan) -> Iterator[tuple[HardwareItem, str, int]]:
    for joint in plan.joints:
        for fastener in joint.fasteners:
            if not fastener.temporary:
                yield fastener.item, _joint_words(plan, joint), 1
                if fastener.washer is not None:
                    yield fastener.washer, f"under the screws in the {lower_first(plan.part(fastener.through).name)}", 1
                if fastener.plug is not None:
                    yield fastener.plug, f"over the screws in the {lower_first(plan.part(fastener.through).name)}", 1
    for fitting in plan.fittings:
        if not fitting.count:
            continue
        alike = [other for other in plan.fittings if (other.line, other.item.id) == (fitting.line, fitting.item.id)]
        yield fitting.item, _fitting_words(plan, alike), fitting.count
        for screw in fitting.item.screws:
            if not screw.supplied:
                yield (
                    plan.catalogue.hardware[screw.item],
                    f"for the {fitting.item.name.lower()}",
                    screw.count * fitting.count,
                )


def _joint_words(plan: Plan, joint: Joint) -> str:
    """``Bottom to side``."""
    return f"{plan.part(joint.insert).name} to {lower_first(plan.part(joint.receiver).name)}"


def _fitting_words(plan: Plan, fittings: list[Fitting]) -> str:
    """``on the divider and the spacer``: all that one source line puts in place; names that repeat are said once."""
    parts = [part for fitting in fittings for part in fitting.parts]
    names = list(dict.fromkeys(f"the {lower_first(plan.part(part).name)}" for part in parts))
    if not names:
        return "as the step says"
    return f"on {listed(names)}"
