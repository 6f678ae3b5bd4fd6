"""Cuts that families describe themselves, on loose parts: laps, forks, fingers, tails, and what new families bring."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drawleaf.derive.operations.drafts import Stage, Work, Workshop, by_setting, distinct, key_of, title_names
from drawleaf.joinery import BENCH
from drawleaf.joinery.bench import BenchWork, Cut
from drawleaf.model.plan import Part
from drawleaf.model.settings import Settings
from drawleaf.model.steps import Operation, Scene


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of work: cuts made at one setting in one part."""

    part: Part
    cuts: tuple[Cut, ...]
    setting: Settings


Group = tuple[Settings, list[Piece]]


def cut_corners(shop: Workshop) -> None:
    """One step to a kind of cut and a set of parts of one assembly."""
    for work in BENCH:
        found = [
            Piece(part, cuts, work.setting(shop.plan, part, cuts)) for part in shop.parts for cuts in work.pieces(part)
        ]
        groups = by_setting(found, lambda piece: piece.setting, apart=lambda piece: piece.part.assembly)
        steps: dict[object, list[Group]] = {}
        for number, (setting, group) in enumerate(groups):
            home = group[0].part.assembly if work.together else number
            steps.setdefault(home, []).append((setting, group))
        for step in steps.values():
            _step(shop, work, step)


def _step(shop: Workshop, work: BenchWork, groups: Sequence[Group]) -> None:
    operations = [_operation(shop, work, *group) for group in groups]
    found = [piece for _, group in groups for piece in group]
    parts = distinct(piece.part for piece in found)
    scene = Scene((), tuple(one.id for one in parts), (), (), ())
    title = shop.words.tell(work.titles[len(found) > 1], title_names(parts))
    also = [one.id for one in operations]
    shop.add(operations[0].id, Stage.MACHINE, title, operations, scene, also=also)


def _operation(shop: Workshop, work: BenchWork, setting: Settings, group: Sequence[Piece]) -> Operation:
    joints = {cut.joint for piece in group for cut in piece.cuts}
    return shop.operation(
        f"{work.operation}-{key_of(shop.plan, group[0].part)}",
        work.operation,
        tuple(dict.fromkeys(piece.part.id for piece in group)),
        way=work.way_of(setting),
        pieces=len(group),
        settings=setting,
        joints=[joint for joint in shop.plan.joints if joint.id in joints],
        features=[(piece.part.id, cut) for piece in group for cut in piece.cuts],
    )


CORNERS = Work(
    cut_corners,
    (*(work.operation for work in BENCH), *(way for work in BENCH for way in work.further_ways)),
)
