"""Grooves, rabbets and edges that run the whole length of short parts are cut on the board, before the parts are cut off it.

A part shorter than a machine can hold is safe there while it is still one with a long board. Common practice, no source.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from drawleaf.derive.operations.drafts import Stage, Workshop, by_setting, distinct, key_of, title_names
from drawleaf.derive.operations.machining import edge_work
from drawleaf.derive.operations.machining_titles import ON_BOARD_TITLES
from drawleaf.derive.operations.standing_rabbet import waits
from drawleaf.english import listed
from drawleaf.model.joint_family import CutKind
from drawleaf.model.lists import BoardLayout
from drawleaf.model.place import Face
from drawleaf.model.plan import BoxCut, EdgeProfile, Feature, Part
from drawleaf.model.settings import ChannelSettings, EdgeSettings
from drawleaf.model.steps import Scene
from drawleaf.setting_out.channels import channel_of

ROUTED = ("round-over", "chamfer")
CHANNELED = (CutKind.GROOVE, CutKind.RABBET)


@dataclass(frozen=True, slots=True)
class Lengthwise:
    """A feature that runs the whole length of a part: the ``work`` that cuts it, its wording ``kind``, what a set-up shares, and on which
    ``sides`` of the part it lies, its broad face and its edge."""

    part: Part
    feature: Feature
    work: str
    kind: str
    setting: ChannelSettings | EdgeSettings
    sides: tuple[Face | None, Face | None]


def run_strips(shop: Workshop) -> None:
    """One step to a set-up of which some part is too short for the tool that cuts it; what is done here is not done again later."""
    boards = _boards_of(shop)
    done: dict[str, list[Lengthwise]] = {}
    for group in _groups(shop, boards):
        tool = shop.plan.catalogue.tools[shop.first_tool(group[0].work)]
        if tool.least_piece is None or min(one.part.size[0] for one in group) >= tool.least_piece.long:
            continue
        if len(set(Counter(one.part.id for one in group).values())) == 1 and _alike(group, done):
            for one in group:
                done.setdefault(one.part.id, []).append(one)
            _run(shop, group, boards)
    shop.on_board = {part: tuple(one.feature for one in found) for part, found in done.items()}


def _boards_of(shop: Workshop) -> dict[str, BoardLayout]:
    """The board of each part that is as wide as its board and is cut to its size at once."""
    found: dict[str, BoardLayout] = {}
    for board in shop.layouts.boards:
        for piece in board.placed:
            part = shop.plan.part(piece.part)
            plain = part.glue_up is None and part.section is None and not part.oversize and part.tilt is None
            if plain and piece.width == board.board.width and not piece.turned:
                found[piece.part] = board
    return found


def _groups(shop: Workshop, boards: dict[str, BoardLayout]) -> list[list[Lengthwise]]:
    """What one set-up cuts along the boards of one stock."""
    found = [one for part in shop.parts if part.id in boards for one in _lengthwise(shop, part)]
    groups = by_setting(found, lambda one: one.setting, apart=lambda one: (one.work, boards[one.part.id].stock.id))
    return [group for _, group in groups]


def _lengthwise(shop: Workshop, part: Part) -> Iterator[Lengthwise]:
    for feature in part.features:
        if isinstance(feature, BoxCut) and feature.kind in CHANNELED and not waits(shop.plan, feature):
            channel = channel_of(part, feature)
            if channel.run is part.length_axis and not channel.stops:
                sides = _sides(part, (feature.into, channel.edge))
                yield Lengthwise(part, feature, feature.kind, "channel", channel.settings, sides)
        elif isinstance(feature, EdgeProfile) and _runs_along(part, feature):
            work = edge_work(part, feature)
            sides = _sides(part, feature.edge)
            yield Lengthwise(part, feature, work, work, EdgeSettings(feature.size), sides)


def _runs_along(part: Part, profile: EdgeProfile) -> bool:
    """Whether it is a plain round-over or small chamfer along a straight edge."""
    straight = not profile.round_what and not profile.courses
    along = all(face.axis is not part.length_axis for face in profile.edge)
    return straight and along and edge_work(part, profile) in ROUTED


def _sides(part: Part, faces: Sequence[Face]) -> tuple[Face | None, Face | None]:
    broad = next((face for face in faces if face.axis is part.thickness), None)
    return broad, next((face for face in faces if face.axis is part.width_axis), None)


def _alike(group: Sequence[Lengthwise], done: dict[str, list[Lengthwise]]) -> bool:
    """Whether one strip has them all: a part may be turned round and over as it is cut off, so only how its features lie to one another counts."""
    every = []
    for part in {one.part.id for one in group}:
        found = [*done.get(part, ()), *(one for one in group if one.part.id == part)]
        first = found[0]
        every.append(
            tuple(
                (one.work, one.setting, one.sides[0] is first.sides[0], one.sides[1] is first.sides[1]) for one in found
            )
        )
    return len(set(every)) == 1


def _run(shop: Workshop, group: Sequence[Lengthwise], boards: dict[str, BoardLayout]) -> None:
    first = group[0]
    parts = distinct(one.part for one in group)
    numbers = sorted({boards[part.id].number for part in parts})
    name = f"{first.work}-{key_of(shop.plan, first.part)}"
    operation = shop.operation(
        name,
        first.kind,
        [part.id for part in parts],
        way=first.work,
        pieces=len(numbers),
        settings=first.setting.on_boards(listed(str(number) for number in numbers)),
        features=[(one.part.id, one.feature) for one in group],
    )
    title = shop.words.tell(ON_BOARD_TITLES[first.work], title_names(parts))
    scene = Scene((), operation.parts, (), (), (), layout=f"board {numbers[0]}")
    shop.add(
        name, Stage.CUT, title, (operation,), scene, also=[f"{first.work}-{key_of(shop.plan, one)}" for one in parts]
    )
