"""Kinds of bought hardware, as steps know them: what a step is called, which wording it takes, when it comes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drawleaf.derive.operations.drafts import Stage, Workshop, slug
from drawleaf.model.catalogue import FastenerKind, HardwareItem
from drawleaf.model.plan import Fitting
from drawleaf.model.steps import HardwareUse, Pose
from drawleaf.setting_out.hinging import HINGES, TOPS


@dataclass(frozen=True, slots=True)
class FittingKind:
    """``name`` is the step's id, ``template`` its wording, ``way`` the work in ``shared/methods``. ``title`` of the step where it is no plain
    ``Fit the ...``. ``early`` goes on the bare piece, before drawers and doors; ``on_wall`` is done where the piece will stand;
    ``inside`` sits behind the door or panel that takes its other half, which its picture leaves out; ``pose`` is how the
    piece lies meanwhile."""

    name: str
    template: str
    way: str = "fit-hardware"
    title: str = ""
    early: bool = False
    on_wall: bool = False
    inside: bool = False
    pose: Pose = Pose.UPRIGHT


KINDS: dict[str, FittingKind] = {
    "wall screw": FittingKind("hang-on-wall", "hang-on-wall", "wall", "Hang it on the wall", on_wall=True),
    "hanger": FittingKind("hang-on-wall", "hang-on-wall", "wall", "Hang it on the wall", on_wall=True),
    "anti-tip strap": FittingKind("anchor-to-wall", "anchor-to-wall", "wall", "Fasten it to the wall", on_wall=True),
    "slides": FittingKind(
        "fit-slides", "fit-slides", "fit-slides", "Screw the slides to the case and the drawer", early=True
    ),
    "undermount slides": FittingKind(
        "fit-slides", "fit-undermount", "fit-slides", "Screw the slides to the case and the drawer", early=True
    ),
    "leveller": FittingKind(
        "fit-levellers", "fit-levellers", "fit-feet", title="Fit the leveling feet", early=True, pose=Pose.ON_BACK
    ),
    "castor": FittingKind("fit-castors", "fit-castors", title="Screw on the casters", early=True, pose=Pose.ON_BACK),
    "pin sleeve": FittingKind(
        "press-sleeves", "press-sleeves", "press-sleeves", "Press in the pin sleeves", early=True
    ),
    "corner bracket": FittingKind("fit-brackets", "fit-brackets", title="Screw in the corner brackets", early=True),
    "inset magnet": FittingKind(
        "fit-magnets", "fit-magnets", title="Screw in the magnets and their plates", early=True, inside=True
    ),
    "catch": FittingKind("fit-catch", "fit-catch", inside=True),
    "lid stay": FittingKind("fit-stay", "fit-stay", inside=True),
    "hook": FittingKind("fit-hooks", "fit-hooks"),
    "pull": FittingKind("fit-pull", "fit-pull"),
    "bolted pull": FittingKind("fit-pull", "fit-bolted-pull", "fit-bolts"),
}
WAYS = tuple(
    dict.fromkeys(
        (*(kind.way for kind in KINDS.values()), "hang-door", "hang-piano", "fasten-top", "hang-drawer", "set-shelves")
    )
)
"""Every kind of work in ``shared/methods`` that hardware asks for."""
HELD_BACK = (*HINGES, *TOPS)
"""Kinds that go on in the step that brings what they carry: a door, a lid, a top."""
COMPANIONS = (FastenerKind.MACHINE_SCREW,)
"""Kinds that come with another item of the same line of the source, and have no step of their own."""


def kind_of(kind: str) -> FittingKind:
    """How a kind of hardware is fitted; one that is not known here is screwed on as its packet says."""
    return KINDS.get(kind) or FittingKind(f"fit-{slug(kind)}", "fit-other")


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
