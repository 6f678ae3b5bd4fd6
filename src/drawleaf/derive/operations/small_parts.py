"""Small parts cut off their board last: it is what one holds while their corners are sawn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drawleaf.derive.operations.drafts import Stage, Workshop, title_names
from drawleaf.derive.shop.limits import SHORTEST_AT_STOP, WIDEST_MITRE
from drawleaf.model.lists import BoardLayout, Cut, Placed
from drawleaf.model.plan import EdgeProfile, Part
from drawleaf.model.settings import BoardChamferSettings, CutOffSettings
from drawleaf.model.steps import Scene
from drawleaf.units import Length

BIG_CHAMFER = Length.of_inches(1) / 2
"""A chamfer larger than a router bit cuts: the corner is sawn off."""
KINDS = ("crosscut-short", "crosscut-wide", "crosscut-tiny", "crosscut", "clip-corner")


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece on a board. ``rest`` is the rip of all that is left of the board, where the piece gets its width by that."""

    board: BoardLayout
    placed: Placed
    rest: Cut | None = None


def end_chamfer(part: Part) -> EdgeProfile | None:
    """The large chamfer at one end of a part, which can be sawn while the part is still the end of a board; None where there is none,
    or more than one."""
    found = [
        feature
        for feature in part.features
        if isinstance(feature, EdgeProfile)
        and feature.kind == "chamfer"
        and feature.size > BIG_CHAMFER
        and all(face.axis is not part.thickness for face in feature.edge)
    ]
    return found[0] if len(found) == 1 else None


def sawn_on_board(shop: Workshop) -> frozenset[str]:
    """The parts whose corner is sawn off before they leave their board."""
    return frozenset(
        part for draft in shop.drafts for op in draft.operations if op.kind == "clip-on-board" for part in op.parts
    )


def _squared(shop: Workshop) -> frozenset[int]:
    """The boards whose rough end is off by now, as longer parts were cut from them."""
    cut = {part for draft in shop.drafts for op in draft.operations if op.kind == "crosscut" for part in op.parts}
    return frozenset(
        board.number for board in shop.layouts.boards if any(placed.part in cut for placed in board.placed)
    )


def cut_off(shop: Workshop, pieces: Sequence[Piece]) -> None:
    """One step for each length and shape: saw the corner at the free end, cut the part off, and begin again."""
    groups: dict[tuple, list[Piece]] = {}
    for piece in pieces:
        profile = end_chamfer(shop.plan.part(piece.placed.part))
        shape = (piece.placed.length, piece.placed.width, profile.size if profile else None, piece.board.stock.id)
        groups.setdefault(shape, []).append(piece)
    for number, group in enumerate(groups.values(), start=1):
        _cut_off_alike(shop, group, number)


def _cut_off_alike(shop: Workshop, pieces: Sequence[Piece], number: int) -> None:
    plan = shop.plan
    parts = tuple(dict.fromkeys(piece.placed.part for piece in pieces))
    first = pieces[0]
    name = "cut-short-parts" if number == 1 else f"cut-short-parts-{number}"
    profile = end_chamfer(plan.part(parts[0]))
    shared = (
        first.placed.length,
        len(pieces),
        first.board.stock.nominal,
        first.rest is not None,
        profile is not None,
        all(piece.board.number in _squared(shop) for piece in pieces),
    )
    operations = []
    if profile is not None:
        chamfers = [(part, one) for part in parts if (one := end_chamfer(plan.part(part))) is not None]
        operations.append(
            shop.operation(
                f"chamfer-{name}",
                "clip-on-board",
                parts,
                way="clip-corner",
                settings=BoardChamferSettings(*shared, profile.size),
                features=chamfers,
            )
        )
    # By now the board may be ripped: what counts is how wide the saw meets it.
    way = "crosscut-wide" if max(piece.placed.width for piece in pieces) > WIDEST_MITRE else "crosscut-short"
    if first.placed.length < SHORTEST_AT_STOP:
        way = "crosscut-tiny"
    operations.append(shop.operation(name, "cut-off", parts, way=way, settings=CutOffSettings(*shared)))
    strips = all(plan.part(part).glue_up is not None for part in parts)
    off = "Cut the strips for the {} off the board" if strips else "Cut the {} off the board"
    title = shop.words.tell(off, title_names([plan.part(part) for part in parts]))
    scene = Scene((), parts, (), (), (), layout=f"board {first.board.number}")
    shop.add(name, Stage.CUT, title, operations, scene, also=[op.id for op in operations])
