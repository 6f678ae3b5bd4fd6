"""Mortises, tenons, tongues and breadboard ends on loose parts: mortises first, then what is fitted to them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

from drawleaf.derive.operations.drafts import Stage, Work, Workshop, key_of, title_names
from drawleaf.derive.operations.machining import grouped
from drawleaf.model.plan import BoxCut, Part
from drawleaf.model.steps import Operation, Scene
from drawleaf.setting_out.wood_joints import MORTISES, Mortise, TenonEnd, joint_cuts, mortise_of, tenon_ends

Group = TypeVar("Group")

MOST_SETTINGS = 2
"""So many settings to a step."""


def make_tenons(shop: Workshop) -> None:
    """All of it, in the order of the bench."""
    _mortises(shop)
    for kind in ("tenon", "tongue", "breadboard tongue"):
        _tenons(shop, kind)


def _mortises(shop: Workshop) -> None:
    found = [
        mortise_of(part, cut)
        for part in shop.plan.parts
        for cut in part.features
        if isinstance(cut, BoxCut) and cut.kind in MORTISES
    ]
    groups = grouped(found, lambda one: (one.part.assembly, one.part.kind, one.width))
    for start in chunks(groups, lambda group: group[0].part.assembly):
        operations = [_mortise(shop, group) for group in start]
        parts = [one.part for group in start for one in group]
        add_step(shop, operations, Stage.MACHINE, f"Cut the mortises in the {title_names(distinct(parts))}", parts)


def _mortise(shop: Workshop, group: Sequence[Mortise]) -> Operation:
    part = group[0].part
    deep = [one.depth for one in group if one.depth is not None]
    return shop.operation(
        f"mortise-{key_of(shop.plan, part)}",
        "mortise",
        part_ids([one.part for one in group]),
        pieces=sum(one.cut.kind == "mortise" for one in group),
        settings=(
            ("width", min(min(one.length, one.width) for one in group)),
            ("apart", group[0].width),
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
    for some in chunks(groups, lambda group: group[0].part.assembly):
        operations = [_tenon(shop, kind, group) for group in some]
        parts = [end.part for group in some for end in group]
        add_step(shop, operations, Stage.MACHINE, f"{verb[kind]} the {title_names(distinct(parts))}", parts)


def _tenon(shop: Workshop, kind: str, ends: Sequence[TenonEnd]) -> Operation:
    first = ends[0]
    work = kind.replace(" ", "-")
    return shop.operation(
        f"{work}-{key_of(shop.plan, first.part)}",
        work,
        part_ids([end.part for end in ends]),
        pieces=len(ends),
        joints=[end.joint for end in ends],
        settings=(
            ("thickness", first.thick.extent),
            ("length", first.length),
            ("cheek", first.offset[1]),
            ("haunch", first.haunch),
        ),
        features=[(end.part.id, cut) for end in ends for cut in joint_cuts(end.part, end.joint, (kind,))],
    )


def chunks(groups: Sequence[Group], home) -> list[list[Group]]:  # type: ignore[no-untyped-def]
    """A few settings to a step, never of two assemblies."""
    steps: list[list[Group]] = []
    for group in groups:
        if steps and len(steps[-1]) < MOST_SETTINGS and home(steps[-1][0]) == home(group):
            steps[-1].append(group)
        else:
            steps.append([group])
    return steps


def add_step(shop: Workshop, operations: Sequence[Operation], stage: Stage, title: str, parts: Sequence[Part]) -> None:
    ids = tuple(part.id for part in distinct(parts))
    shop.add(
        operations[0].id, stage, title, operations, Scene((), ids, (), (), ()), also=[one.id for one in operations]
    )


def distinct(parts: Sequence[Part]) -> list[Part]:
    return list({part.id: part for part in parts}.values())


def part_ids(parts: Sequence[Part]) -> tuple[str, ...]:
    return tuple(part.id for part in distinct(parts))


KINDS = ("mortise", "tenon", "tongue", "breadboard-tongue")
TENONS = Work(make_tenons, KINDS)
