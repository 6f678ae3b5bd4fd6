"""Holes for dowels and pegs in loose parts."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.derive.operations.drafts import Stage, Work, Workshop, key_of, title_names
from drawleaf.derive.operations.machining import grouped
from drawleaf.derive.operations.tenons import add_step, chunks, distinct, part_ids
from drawleaf.model.plan import Bore, Feature, Part
from drawleaf.model.steps import Operation
from drawleaf.setting_out.wood_joints import of_kinds


def bore_for_pins(shop: Workshop) -> None:
    """Pegs first, whose joints are put together for it, then dowels."""
    _peg_holes(shop)
    _dowel_holes(shop)


def _holes(shop: Workshop, kind: str) -> list[tuple[Part, Bore]]:
    return [
        (part, one) for part in shop.plan.parts for one in part.features if isinstance(one, Bore) and one.kind == kind
    ]


def _dowel_holes(shop: Workshop) -> None:
    """Both parts of a joint in one go, with one bit."""
    found = _holes(shop, "dowel hole")
    groups = grouped(found, lambda pair: (pair[0].assembly, pair[1].diameter))
    for some in chunks(groups, lambda group: group[0][0].assembly):
        operations = [_bored(shop, "dowel-holes", group) for group in some]
        parts = [part for group in some for part, _ in group]
        add_step(shop, operations, Stage.DRILL, f"Bore the dowel holes in the {title_names(distinct(parts))}", parts)


def _peg_holes(shop: Workshop) -> None:
    """First through the part that has the mortise; then, marked through these holes, through the tenon."""
    tenoned = {joint.insert for joint in shop.plan.joints}
    receiving = {joint.receiver for joint in shop.plan.joints}
    found = _holes(shop, "peg hole")
    for group in grouped(found, lambda pair: (pair[0].assembly, pair[1].diameter)):
        rows = {(joint.id, joint.receiver): joint for joint in shop.plan.joints if joint.receiver in receiving}
        outer = [(part, hole) for part, hole in group if ((hole.row or "").removesuffix("-pegs"), part.id) in rows]
        inner = [pair for pair in group if pair not in outer and pair[0].id in tenoned]
        operations = [_bored(shop, "peg-holes", outer)] if outer else []
        if inner:
            slots = [
                (part.id, cut)
                for part in distinct([part for part, _ in inner])
                for cut in of_kinds(part, ("peg slot",))
            ]
            operations.append(_bored(shop, "peg-holes-tenon", inner, slots))
        parts = [part for part, _ in group]
        add_step(shop, operations, Stage.DRILL, f"Bore the peg holes in the {title_names(distinct(parts))}", parts)


def _bored(
    shop: Workshop, work: str, group: Sequence[tuple[Part, Bore]], slots: Sequence[tuple[str, Feature]] = ()
) -> Operation:
    parts = distinct([part for part, _ in group])
    rows = {hole.row for _, hole in group}
    joints = [one for one in shop.plan.joints if {f"{one.id}-dowels", f"{one.id}-pegs"} & rows]
    depths = {hole.depth for _, hole in group if hole.depth is not None}
    return shop.operation(
        f"{work}-{key_of(shop.plan, parts[0])}",
        work,
        part_ids(parts),
        pieces=len(group) + 2 * len(slots),
        joints=joints,
        settings=(("bit", group[0][1].diameter), *((("depth", depths.pop()),) if len(depths) == 1 else ())),
        features=[*((part.id, hole) for part, hole in group), *slots],
    )


PINS = Work(bore_for_pins, ("peg-holes", "peg-holes-tenon", "dowel-holes"))
