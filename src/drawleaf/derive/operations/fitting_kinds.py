"""Bought hardware in steps: how each item is fitted, the ways that are asked for, what must be bought with it."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.derive.operations.drafts import Stage, Workshop, slug
from drawleaf.model.catalogue import FastenerKind, HardwareItem
from drawleaf.model.hardware_family import HARDWARE_FAMILIES, FittingStep
from drawleaf.model.plan import Fitting
from drawleaf.model.steps import HardwareUse

WAYS = tuple(
    dict.fromkeys(
        (
            *(family.step.way for family in HARDWARE_FAMILIES if family.step is not None),
            *(family.brings.way for family in HARDWARE_FAMILIES if family.carries is not None),
            "fit-hardware",
            "set-shelves",
            "set-drawer",
        )
    )
)
"""Every kind of work in ``shared/methods`` that hardware asks for."""
COMPANIONS = (FastenerKind.MACHINE_SCREW,)
"""Kinds that come with another item of the same line of the source, and have no step of their own."""


def step_of(item: HardwareItem) -> FittingStep:
    """How it is fitted; what is not known here is screwed on as its packet says."""
    return item.family.step or FittingStep(name=f"fit-{slug(item.kind)}", template="fit-other")


def uses_of(fittings: Sequence[Fitting], catalogue_hardware: dict[str, HardwareItem]) -> tuple[HardwareUse, ...]:
    """The items of some fittings with the screws that must be bought for them."""
    counts: dict[str, int] = {}
    for fitting in fittings:
        counts[fitting.item.id] = counts.get(fitting.item.id, 0) + fitting.count
        for screw in fitting.item.screws:
            if not screw.supplied:
                counts[screw.item] = counts.get(screw.item, 0) + screw.count * fitting.count
    items = {fitting.item.id: fitting.item for fitting in fittings}
    return tuple(HardwareUse(items.get(item) or catalogue_hardware[item], count) for item, count in counts.items())


def all_coats(shop: Workshop) -> list[str]:
    """Hardware goes on after the last coat: nobody masks a hook."""
    return [operation.id for draft in shop.drafts if draft.stage <= Stage.FINISH for operation in draft.operations[-1:]]
