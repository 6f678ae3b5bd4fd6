"""Mouldings run from plain boards, and round parts made from square ones. What is bought with its section needs no step."""

from __future__ import annotations

from collections.abc import Sequence

from drawleaf.derive.operations.drafts import Stage, Work, Workshop, key_of, title_names
from drawleaf.english import listed
from drawleaf.model.catalogue import Form
from drawleaf.model.lists import BoardLayout
from drawleaf.model.plan import Part
from drawleaf.model.settings import ProfileSettings
from drawleaf.model.steps import Scene

MOST_NAMED = 3
"""A title names no more kinds of parts than these; the step lists them."""
MOULDED = "run-moulding"
BOUGHT = (Form.MOULDING, Form.ROD)


def run_on_boards(shop: Workshop) -> None:
    """Profiles run on full boards, before anything is cut off them: a long board lies firm, and all its pieces match. That is so for a
    piece too whose further work waits until it is fitted: a plain corner mitred to a moulded one cannot be judged."""
    for parts in _groups([part for part in shop.plan.parts if made_here(part)]):
        boards = _whole_boards(shop, parts)
        if boards:
            _run(shop, parts, listed([str(board.number) for board in boards]), len(boards))


def run_profiles(shop: Workshop) -> None:
    """One step to a profile, and one to a thickness of round parts."""
    run = {part for draft in shop.drafts for op in draft.operations if op.kind == MOULDED for part in op.parts}
    for parts in _groups([part for part in shop.parts if made_here(part) and part.id not in run]):
        _run(shop, parts, "", len(parts))


def _whole_boards(shop: Workshop, parts: Sequence[Part]) -> list[BoardLayout]:
    """The boards of these parts where every piece of them is as wide as its board; none where not."""
    ids = {part.id for part in parts}
    if parts[0].section is None or parts[0].section.round:
        return []
    boards = [board for board in shop.layouts.boards if any(one.part in ids for one in board.placed)]
    whole = all(one.width == board.board.width for board in boards for one in board.placed if one.part in ids)
    return boards if whole and not any(part.glue_up for part in parts) else []


def _groups(wanted: Sequence[Part]) -> list[list[Part]]:
    """By profile and size."""
    groups: dict[tuple[object, ...], list[Part]] = {}
    for part in wanted:
        assert part.section is not None
        groups.setdefault((part.section.name, part.section.round, *part.size[1:]), []).append(part)
    return list(groups.values())


def _run(shop: Workshop, parts: Sequence[Part], boards: str, pieces: int) -> None:
    first = parts[0]
    assert first.section is not None
    work = "make-round" if first.section.round else MOULDED
    name = f"{'round' if first.section.round else 'profile'}-{key_of(shop.plan, first)}"
    _, width, thickness = first.size
    operation = shop.operation(
        name,
        work,
        [part.id for part in parts],
        pieces=pieces,
        settings=ProfileSettings(width, thickness, first.section.name, boards),
    )
    scene = Scene((), operation.parts, (), (), ())
    title = "Make the {} round" if first.section.round else "Run the profile along the {}"
    title = shop.words.tell(title, title_names(parts))
    if boards:
        several = "Run the profile along the full boards"
        title = shop.words.put(several if pieces > 1 else "Run the profile along the full board")
    elif not first.section.round and len({part.name for part in parts}) > MOST_NAMED:
        title = shop.words.put("Run the profile along the moldings")
    shop.add(name, Stage.CUT if boards else Stage.MACHINE, title, (operation,), scene)


def made_here(part: Part) -> bool:
    """Whether the part gets its section in the shop: it is cut from stock that is sold square."""
    return part.section is not None and part.stock.material.form not in BOUGHT


PROFILES = Work(run_profiles, ("run-moulding", "make-round"))
