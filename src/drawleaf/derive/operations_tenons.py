"""Mortises, tenons, tongues, breadboard ends, dowels and pegs on loose parts: mortises first, then what is fitted to them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

from drawleaf.derive.drafts import Stage, Work, Workshop, key_of, title_names
from drawleaf.derive.operations_machining import grouped
from drawleaf.derive.wood_joints import MORTISES, Mortise, TenonEnd, joint_cuts, mortise_of, tenon_ends
from drawleaf.model.plan import Bore, BoxCut, Feature, Part
from drawleaf.model.steps import Operation, Scene

Group = TypeVar("Group")

MOST_SETTINGS = 2
"""So many settings to a step."""


def make_tenons(shop: Workshop) -> None:
    """All of it, in the order of the bench."""
    _mortises(shop)
    for kind in ("tenon", "tongue", "breadboard tongue"):
        _tenons(shop, kind)
    _peg_holes(shop)
    _dowel_holes(shop)


def _mortises(shop: Workshop) -> None:
    found = [
        mortise_of(part, cut)
        for part in shop.plan.parts
        for cut in part.features
        if isinstance(cut, BoxCut) and cut.kind in MORTISES
    ]
    groups = grouped(found, lambda one: (one.part.assembly, one.part.kind, one.width))
    for start in _chunks(groups, lambda group: group[0].part.assembly):
        operations = [_mortise(shop, group) for group in start]
        parts = [one.part for group in start for one in group]
        _add(shop, operations, Stage.MACHINE, f"Cut the mortises in the {title_names(_distinct(parts))}", parts)


def _mortise(shop: Workshop, group: Sequence[Mortise]) -> Operation:
    part = group[0].part
    deep = [one.depth for one in group if one.depth is not None]
    return shop.operation(
        f"mortise-{key_of(shop.plan, part)}",
        "mortise",
        _ids([one.part for one in group]),
        pieces=sum(one.cut.kind == "mortise" for one in group),
        settings=(
            ("width", group[0].width),
            ("offset", group[0].offset[1]),
            *((("depth", max(deep)),) if deep else ()),
        ),
        features=[(one.part.id, one.cut) for one in group],
    )


def _tenons(shop: Workshop, kind: str) -> None:
    """One operation to each setting of stop, fence and depth."""
    ends = [
        end for part in shop.plan.parts for end in tenon_ends(shop.plan, part) if joint_cuts(part, end.joint, (kind,))
    ]
    groups = grouped(ends, lambda end: (end.part.assembly, end.part.kind, end.setup))
    verb = {
        "tenon": "Cut the tenons on",
        "tongue": "Cut the tongues on",
        "breadboard tongue": "Cut the tongue and tenons on",
    }
    for some in _chunks(groups, lambda group: group[0].part.assembly):
        operations = [_tenon(shop, kind, group) for group in some]
        parts = [end.part for group in some for end in group]
        _add(shop, operations, Stage.MACHINE, f"{verb[kind]} the {title_names(_distinct(parts))}", parts)


def _tenon(shop: Workshop, kind: str, ends: Sequence[TenonEnd]) -> Operation:
    first = ends[0]
    work = kind.replace(" ", "-")
    kinds = (kind, "peg slot") if kind == "breadboard tongue" else (kind,)
    return shop.operation(
        f"{work}-{key_of(shop.plan, first.part)}",
        work,
        _ids([end.part for end in ends]),
        pieces=len(ends),
        joints=[end.joint for end in ends],
        settings=(
            ("thickness", first.thick.extent),
            ("length", first.length),
            ("cheek", first.offset[1]),
            ("haunch", first.haunch),
        ),
        features=[(end.part.id, cut) for end in ends for cut in joint_cuts(end.part, end.joint, kinds)],
    )


def _holes(shop: Workshop, kind: str) -> list[tuple[Part, Bore]]:
    return [
        (part, one) for part in shop.plan.parts for one in part.features if isinstance(one, Bore) and one.kind == kind
    ]


def _dowel_holes(shop: Workshop) -> None:
    """Both parts of a joint in one go, with one bit."""
    found = _holes(shop, "dowel hole")
    groups = grouped(found, lambda pair: (pair[0].assembly, pair[1].diameter))
    for some in _chunks(groups, lambda group: group[0][0].assembly):
        operations = [_bored(shop, "dowel-holes", group) for group in some]
        parts = [part for group in some for part, _ in group]
        _add(shop, operations, Stage.DRILL, f"Bore the dowel holes in the {title_names(_distinct(parts))}", parts)


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
            operations.append(_bored(shop, "peg-holes-tenon", inner))
        parts = [part for part, _ in group]
        _add(shop, operations, Stage.DRILL, f"Bore the peg holes in the {title_names(_distinct(parts))}", parts)


def _bored(shop: Workshop, work: str, group: Sequence[tuple[Part, Bore]]) -> Operation:
    parts = _distinct([part for part, _ in group])
    rows = {hole.row for _, hole in group}
    joints = [one for one in shop.plan.joints if {f"{one.id}-dowels", f"{one.id}-pegs"} & rows]
    depths = {hole.depth for _, hole in group if hole.depth is not None}
    return shop.operation(
        f"{work}-{key_of(shop.plan, parts[0])}",
        work,
        _ids(parts),
        pieces=len(group),
        joints=joints,
        settings=(("bit", group[0][1].diameter), *((("depth", depths.pop()),) if len(depths) == 1 else ())),
        features=[(part.id, hole) for part, hole in group],
    )


def _chunks(groups: Sequence[Group], home) -> list[list[Group]]:  # type: ignore[no-untyped-def]
    """A few settings to a step, never of two assemblies."""
    steps: list[list[Group]] = []
    for group in groups:
        if steps and len(steps[-1]) < MOST_SETTINGS and home(steps[-1][0]) == home(group):
            steps[-1].append(group)
        else:
            steps.append([group])
    return steps


def _add(shop: Workshop, operations: Sequence[Operation], stage: Stage, title: str, parts: Sequence[Part]) -> None:
    ids = tuple(part.id for part in _distinct(parts))
    shop.add(
        operations[0].id, stage, title, operations, Scene((), ids, (), (), ()), also=[one.id for one in operations]
    )


def _distinct(parts: Sequence[Part]) -> list[Part]:
    return list({part.id: part for part in parts}.values())


def _ids(parts: Sequence[Part]) -> tuple[str, ...]:
    return tuple(part.id for part in _distinct(parts))


KINDS = ("mortise", "tenon", "tongue", "breadboard-tongue", "peg-holes", "peg-holes-tenon", "dowel-holes")
TENONS = Work(make_tenons, KINDS)

__all__ = ["TENONS", "Feature"]
