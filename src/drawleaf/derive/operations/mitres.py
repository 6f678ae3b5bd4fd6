"""Mitres sawn and slotted: one end of every piece first, then the other, crept up on until it fits."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.derive.operations.drafts import Stage, Work, Workshop, by_setting, distinct, key_of, title_names
from drawleaf.derive.operations.fitted import fits_late
from drawleaf.graphs import connected
from drawleaf.joinery.splines import slot_sizes
from drawleaf.model.plan import Part
from drawleaf.model.settings import MitreSettings, SplineSlotSettings
from drawleaf.model.shapes import OutlineCut
from drawleaf.model.steps import Operation, Scene
from drawleaf.setting_out.mitres import is_short, lies_level, mitres, spline_size, spline_slots, stands_up
from drawleaf.setting_out.slants import Slant

KINDS = ("mitre-ends", "mitre-ends-short", "mitre-edges", "spline-slots", "spline-slots-level")


def cut_mitres(shop: Workshop) -> None:
    """All mitres, and the slots for their splines: what meets in mitres and is cut from one stock stands together."""
    for parts in _rings(shop):
        _saw(shop, parts)
        _slot(shop, parts)


def _rings(shop: Workshop) -> list[list[Part]]:
    """The mitred parts, those that mitres tie together by themselves, parted by their stock."""
    ties = [(joint.insert, joint.receiver) for joint in shop.plan.joints if joint.family.mitred]
    ring_of = {part: ring for ring in connected((part.id for part in shop.plan.parts), ties) for part in ring}
    rings: dict[tuple[tuple[str, ...], str], list[Part]] = {}
    for part in shop.parts:
        if mitres(part) and not fits_late(part):
            rings.setdefault((ring_of[part.id], part.stock.id), []).append(part)
    return list(rings.values())


def _saw(shop: Workshop, parts: Sequence[Part]) -> None:
    """A step to each way of holding the work at the saw."""
    found = [(part, one) for part in parts for one in mitres(part)]
    for sort in ("edge", "end"):
        groups = by_setting([pair for pair in found if pair[1].sort == sort], _mitre_setting)
        operations: list[Operation] = []
        for setting, group in sorted(groups, key=lambda one: one[0].short):
            first = group[0][0]
            operations.append(
                shop.operation(
                    f"mitre-{key_of(shop.plan, first)}",
                    f"mitre-{sort}s",
                    list(dict.fromkeys(part.id for part, _ in group)),
                    way="mitre-ends-short" if setting.short else None,
                    pieces=len(group),
                    settings=setting,
                    features=[(part.id, one.cut) for part, one in group],
                )
            )
        if operations:
            _step(shop, "Miter the {}", operations, [part for part, one in found if one.sort == sort])


def _mitre_setting(pair: tuple[Part, Slant]) -> MitreSettings:
    part, one = pair
    return MitreSettings(
        one.mitre,
        one.tilt,
        stands=stands_up(part, one),
        moulding=part.section is not None,
        short=one.sort == "end" and is_short(part),
    )


def _slot(shop: Workshop, parts: Sequence[Part]) -> None:
    found = [(part, cut) for part in parts for cut in spline_slots(part)]
    for setting, group in by_setting(found, lambda pair: _slot_setting(pair[1])):
        part = group[0][0]
        operation = shop.operation(
            f"spline-{key_of(shop.plan, part)}",
            "spline-slots",
            list(dict.fromkeys(part.id for part, _ in group)),
            way="spline-slots-level" if setting.level else "spline-slots",
            pieces=len(group),
            settings=setting,
            features=[(part.id, cut) for part, cut in group],
        )
        _step(shop, "Slot the miters of the {}", [operation], [part for part, _ in group])


def _slot_setting(cut: OutlineCut) -> SplineSlotSettings:
    return SplineSlotSettings(spline_size(cut)[0], slot_sizes(cut)[1], lies_level(cut))


def _step(shop: Workshop, title: str, operations: Sequence[Operation], parts: Sequence[Part]) -> None:
    once = distinct(parts)
    scene = Scene((), tuple(part.id for part in once), (), (), ())
    names = [operation.id for operation in operations]
    shop.add(names[0], Stage.MACHINE, shop.words.tell(title, title_names(once)), operations, scene, also=names)


MITRES = Work(cut_mitres, KINDS)
