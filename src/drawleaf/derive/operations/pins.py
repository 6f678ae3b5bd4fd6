"""Holes for dowels and pegs in loose parts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from drawleaf.derive.operations.drafts import (
    Stage,
    Work,
    Workshop,
    by_setting,
    distinct,
    key_of,
    short_names,
    title_names,
)
from drawleaf.derive.operations.tenons import add_step, chunks, part_ids
from drawleaf.joinery.pins import dowel_row
from drawleaf.model.plan import Bore, Feature, Joint, Part, Plan
from drawleaf.model.settings import PinHoleSettings
from drawleaf.model.steps import Operation
from drawleaf.setting_out.wood_joints import joint_cuts, of_kinds


def bore_for_pins(shop: Workshop) -> None:
    """Pegs first, whose joints are put together for it, then dowels."""
    _peg_holes(shop)
    _dowel_holes(shop)


def _holes(shop: Workshop, kind: str) -> list[tuple[Part, Bore]]:
    return [(part, one) for part in shop.parts for one in part.features if isinstance(one, Bore) and one.kind == kind]


def _dowel_holes(shop: Workshop) -> None:
    """Both parts of a joint in one go, with one bit."""
    found = _holes(shop, "dowel hole")
    marked = _marked_rows(shop.plan)
    groups = by_setting(
        found,
        lambda pair: PinHoleSettings(pair[1].diameter, from_mate=pair[1].row in marked),
        apart=lambda pair: shop.set_up(pair[0])[0],
    )
    for some in chunks(groups, lambda group: (shop.set_up(group[1][0][0])[0], group[0].from_mate)):
        operations = [_at_centers(_bored(shop, "dowel-holes", *group), group[0].from_mate) for group in some]
        parts = [part for _, group in some for part, _ in group]
        add_step(
            shop,
            operations,
            Stage.DRILL,
            shop.words.tell("Bore the dowel holes in the {}", short_names(shop.plan, distinct(parts))),
            parts,
        )


def _marked_rows(plan: Plan) -> frozenset[str]:
    """The rows of dowel holes whose second half the author has marked from the first."""
    lines = {one.line for one in plan.order.marked}
    return frozenset(dowel_row(joint.id) for joint in plan.joints if joint.position in lines)


def _at_centers(operation: Operation, from_mate: bool) -> Operation:
    """The way with what carries the holes over, where the author wants that and the kit's first way is another."""
    ways = (operation.method, *operation.others)
    asked = next((way for way in ways if any(tool.marks_mate for tool in way.tools)), None)
    if not from_mate or asked is None:
        return operation
    return replace(operation, method=asked, others=tuple(way for way in ways if way is not asked))


def _peg_holes(shop: Workshop) -> None:
    """First through the part that has the mortise; then, marked through these holes, through the tenon."""
    tenoned = {joint.insert for joint in shop.plan.joints}
    receiving = {joint.receiver for joint in shop.plan.joints}
    found = _holes(shop, "peg hole")
    groups = by_setting(found, lambda pair: _peg_setting(shop.plan, pair[1]), apart=lambda pair: pair[0].assembly)
    for setting, group in groups:
        rows = {(joint.id, joint.receiver): joint for joint in shop.plan.joints if joint.receiver in receiving}
        outer = [(part, hole) for part, hole in group if ((hole.row or "").removesuffix("-pegs"), part.id) in rows]
        inner = [pair for pair in group if pair not in outer and pair[0].id in tenoned]
        operations = [_bored(shop, "peg-holes", setting, outer)] if outer else []
        if inner:
            slots = [
                (part.id, cut)
                for part in distinct([part for part, _ in inner])
                for cut in of_kinds(part, ("peg slot",))
                if f"{cut.joint}-pegs" in {hole.row for _, hole in inner}  # type: ignore[union-attr]
            ]
            operations.append(_bored(shop, "peg-holes-tenon", setting, inner, slots))
        parts = [part for part, _ in group]
        add_step(
            shop,
            operations,
            Stage.DRILL,
            shop.words.tell("Bore the peg holes in the {}", title_names(distinct(parts))),
            parts,
        )


def _peg_setting(plan: Plan, hole: Bore) -> PinHoleSettings:
    """The bit for a hole of a pegged joint, and how the holes in its tenons differ from it."""
    joint = next(joint for joint in plan.joints if f"{joint.id}-pegs" == hole.row)
    outer, inner = (_pegged(plan, joint, part) for part in (joint.receiver, joint.insert))
    off = (
        abs(a.start.along(joint.face.axis) - b.start.along(joint.face.axis)) for a, b in zip(outer, inner, strict=False)
    )
    slots = [
        max(cut.box.extent(axis) for axis in cut.into.axis.others())
        for cut in joint_cuts(plan.part(joint.insert), joint, ("peg slot",))
    ]
    return PinHoleSettings(
        hole.diameter, next((one for one in off if one), None), tuple(sorted(set(slots), reverse=True))
    )


def _pegged(plan: Plan, joint: Joint, part: str) -> list[Bore]:
    return [
        one
        for one in plan.part(part).features
        if isinstance(one, Bore) and one.kind == "peg hole" and one.row == f"{joint.id}-pegs"
    ]


def _bored(
    shop: Workshop,
    work: str,
    setting: PinHoleSettings,
    group: Sequence[tuple[Part, Bore]],
    slots: Sequence[tuple[str, Feature]] = (),
) -> Operation:
    parts = distinct([part for part, _ in group])
    rows = {hole.row for _, hole in group}
    joints = [one for one in shop.plan.joints if {f"{one.id}-dowels", f"{one.id}-pegs"} & rows]
    return shop.operation(
        f"{work}-{key_of(shop.plan, parts[0])}",
        work,
        part_ids(parts),
        pieces=len(group) + 2 * len(slots),
        joints=joints,
        settings=setting,
        features=[*((part.id, hole) for part, hole in group), *slots],
    )


PINS = Work(bore_for_pins, ("peg-holes", "peg-holes-tenon", "dowel-holes"))
