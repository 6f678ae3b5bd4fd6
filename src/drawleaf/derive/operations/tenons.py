"""Mortises, tenons, tongues and breadboard ends on loose parts: mortises first, then what is fitted to them."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from dataclasses import replace
from typing import TypeVar

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
from drawleaf.model.joint_family import CutKind
from drawleaf.model.plan import Part
from drawleaf.model.settings import MortiseSettings, TenonSettings
from drawleaf.model.steps import Operation, Scene
from drawleaf.setting_out.wood_joints import TENONS as TENON_KINDS
from drawleaf.setting_out.wood_joints import Mortising, TenonEnd, joint_cuts, mortisings, tenon_ends
from drawleaf.units import ZERO

Group = TypeVar("Group")

MOST_SETTINGS, MOST_MORTISES, MOST_TONGUES = 2, 4, 3
"""So many settings to a step; of mortises and tongues, which take a line each, so many."""


def make_tenons(shop: Workshop) -> None:
    """All of it, in the order of the bench."""
    _mortises(shop)
    for kind in TENON_KINDS:
        _tenons(shop, kind)


def _mortises(shop: Workshop) -> None:
    found = [one for part in shop.parts for one in mortisings(part)]
    groups = by_setting(found, lambda one: one.settings, apart=lambda one: shop.set_up(one.part))
    for some in chunks(groups, lambda group: shop.set_up(group[1][0].part)[0], MOST_MORTISES):
        operations = [_mortise(shop, *group) for group in some]
        parts = [one.part for _, group in some for one in group]
        add_step(
            shop,
            operations,
            Stage.MACHINE,
            shop.words.tell("Cut the mortises in the {}", short_names(shop.plan, distinct(parts))),
            parts,
        )


def _mortise(shop: Workshop, setting: MortiseSettings, group: Sequence[Mortising]) -> Operation:
    part = group[0].part
    return shop.operation(
        f"mortise-{key_of(shop.plan, part)}",
        "mortise",
        part_ids([one.part for one in group]),
        pieces=sum(len(one.mortises) for one in group),
        settings=setting,
        features=[(one.part.id, cut) for one in group for cut in one.cuts],
    )


def _tenons(shop: Workshop, kind: CutKind) -> None:
    """One operation to each setting of stop, fence and depth."""
    ends = [end for part in shop.parts for end in tenon_ends(shop.plan, part) if joint_cuts(part, end.joint, (kind,))]
    groups = by_setting(ends, lambda end: end.settings, apart=lambda end: shop.set_up(end.part))
    title = {
        CutKind.TENON: "Cut the tenons on the {}",
        CutKind.TONGUE: "Cut the tongues on the {}",
        CutKind.BREADBOARD_TONGUE: "Cut the tongue and tenons on the {}",
    }[kind]

    def home(group: tuple[TenonSettings, Sequence[TenonEnd]]) -> Hashable:
        setting, own = group
        at = shop.set_up(own[0].part)[0]
        if kind == CutKind.TENON:
            return at
        # Tongues are cut at one setting, whose wording is that of the first: what differs is how wide each is marked.
        return at, replace(setting, edges=(ZERO, ZERO), places=()), frozenset(end.joint.receiver for end in own)

    for some in chunks(groups, home, MOST_SETTINGS if kind == CutKind.TENON else MOST_TONGUES):
        operations = [_tenon(shop, kind, *group) for group in some]
        parts = [end.part for _, group in some for end in group]
        add_step(shop, operations, Stage.MACHINE, shop.words.tell(title, title_names(distinct(parts))), parts)


def _tenon(shop: Workshop, kind: str, setting: TenonSettings, ends: Sequence[TenonEnd]) -> Operation:
    first = ends[0]
    work = kind.replace(" ", "-")
    return shop.operation(
        f"{work}-{key_of(shop.plan, first.part)}",
        work,
        part_ids([end.part for end in ends]),
        pieces=len(ends),
        joints=[end.joint for end in ends],
        settings=setting,
        features=[(end.part.id, cut) for end in ends for cut in joint_cuts(end.part, end.joint, (kind,))],
    )


def chunks(groups: Sequence[Group], home: Callable[[Group], Hashable], most: int = MOST_SETTINGS) -> list[list[Group]]:
    """At most so many settings to a step, never of two homes, such as assemblies."""
    steps: list[list[Group]] = []
    for group in groups:
        if steps and len(steps[-1]) < most and home(steps[-1][0]) == home(group):
            steps[-1].append(group)
        else:
            steps.append([group])
    return steps


def add_step(shop: Workshop, operations: Sequence[Operation], stage: Stage, title: str, parts: Sequence[Part]) -> None:
    ids = tuple(part.id for part in distinct(parts))
    shop.add(
        operations[0].id, stage, title, operations, Scene((), ids, (), (), ()), also=[one.id for one in operations]
    )


def part_ids(parts: Sequence[Part]) -> tuple[str, ...]:
    return tuple(part.id for part in distinct(parts))


KINDS = (CutKind.MORTISE, *(kind.replace(" ", "-") for kind in TENON_KINDS))
TENONS = Work(make_tenons, KINDS)
