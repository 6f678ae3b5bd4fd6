"""From what the store sells to parts of finished size: sheets broken down, boards cut and ripped, panels glued up and trimmed."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from drawleaf.derive.layout.small_parts import ripped_before
from drawleaf.derive.operations.drafts import Stage, Work, Workshop, slug
from drawleaf.derive.operations.panels import glue_up, trim
from drawleaf.derive.operations.profiles import run_on_boards
from drawleaf.derive.operations.small_parts import Piece, cut_off, end_chamfer
from drawleaf.derive.operations.strips_first import run_strips
from drawleaf.derive.operations.tape import CUT as CUT_TAPE
from drawleaf.derive.operations.tape import cut_tape, is_tape
from drawleaf.derive.shop.limits import (
    BY_KNIFE,
    LINE,
    NARROW_BOARD,
    NARROWEST_RIP,
    SHORTEST_AT_STOP,
    SHORTEST_RIP,
    THINNEST_PLANED,
    WIDEST_MITRE,
)
from drawleaf.english import listed, lower_first, noun
from drawleaf.model.catalogue import Form, Stock
from drawleaf.model.lists import BoardLayout, Cut, Placed, SheetLayout
from drawleaf.model.plan import Part, Plan
from drawleaf.model.settings import (
    CrosscutSettings,
    LineCutSettings,
    RipSettings,
    SheetSettings,
)
from drawleaf.model.steps import Operation, Scene
from drawleaf.units import Length

MOST_STOPS = 10
"""So many stop settings to a step, a line each; more are shared out over two."""
MOST_WIDTHS = 4
"""So many widths are ripped in one step, whatever saws they take."""
MOST_SHEETS = 3
"""So many sheets to a step: each takes an action of its own."""
SHORT_STOP = Length.of_inches(6)
"""A part shorter than this comes near the fingers that hold it: it is clamped."""


def cut_parts(shop: Workshop) -> None:
    """All steps that make blanks."""
    places = {stock.id: place for place, stock in enumerate(shop.plan.stocks)}
    every = sorted(shop.layouts.sheets, key=lambda sheet: places.get(sheet.stock.id, len(places)))
    for thin in (False, True):
        sheets = [sheet for sheet in every if (sheet.stock.thickness <= BY_KNIFE) is thin]
        for start in range(0, len(sheets), MOST_SHEETS):
            _break_down(shop, sheets[start : start + MOST_SHEETS], whole=len(sheets) <= MOST_SHEETS)
    run_on_boards(shop)
    run_strips(shop)
    if shop.layouts.boards:
        pieces = _pieces(shop.layouts.boards)
        tape = [piece for piece in pieces if is_tape(shop.plan.part(piece.placed.part))]
        cut_tape(shop, tape)
        pieces = [piece for piece in pieces if piece not in tape]
        small = [piece for piece in pieces if _stays_on_board(shop.plan, piece)]
        _crosscuts(shop, [piece for piece in pieces if piece not in small])
        _rips(shop, pieces)
        cut_off(shop, small)
    for part in _one_of_each_kind(shop):
        if part.glue_up is not None:
            glue_up(shop, part)
        elif part.oversize:
            trim(shop, part)


def _break_down(shop: Workshop, sheets: Sequence[SheetLayout], whole: bool) -> None:
    """A few sheets, one after the other: what is laid and measured for the first holds for all."""
    operations, names = [], []
    for sheet in sheets:
        names.append(f"break-down-{slug(sheet.stock.id)}")
        parts = tuple(dict.fromkeys(placed.part for placed in sheet.placed))
        operations.append(
            shop.operation(
                names[-1],
                "break-down",
                parts,
                way="break-down-thin" if sheet.stock.thickness <= BY_KNIFE else "break-down",
                pieces=max(len(sheet.cuts), len(parts)),
                settings=SheetSettings(sheet.number, stock_words(sheet.stock), len(sheet.cuts), sheet.stock.thickness),
            )
        )
    operations += _by_line(shop, sheets)
    stocks = list(dict.fromkeys(sheet.stock.id for sheet in sheets))
    kinds = {sheet.stock.material.name for sheet in sheets}
    what = (
        stock_words(sheets[0].stock)
        if len(stocks) == 1
        else kinds.pop().lower()
        if len(kinds) == 1
        else shop.words.put("sheets")
    )
    numbers = listed([str(sheet.number) for sheet in sheets])
    title = "Cut up the {}" if whole else "Cut up the {}, sheets {}" if len(sheets) > 1 else "Cut up the {}, sheet {}"
    title = shop.words.tell(title, what, numbers)
    scene = Scene(
        (),
        tuple(dict.fromkeys(part for op in operations for part in op.parts)),
        (),
        (),
        (),
        layout=f"sheet {sheets[0].number}",
    )
    shop.add(operations[0].id, Stage.CUT, title, operations, scene, also=[*names, *(op.id for op in operations)])


def _by_line(shop: Workshop, sheets: Sequence[SheetLayout]) -> list[Operation]:
    """The cuts of sheets that no guide serves, made with another saw; empty where there are none."""
    found = [(sheet, [cut for cut in sheet.cuts if cut.guide == LINE]) for sheet in sheets]
    found = [(sheet, cuts) for sheet, cuts in found if cuts and sheet.stock.thickness > BY_KNIFE]
    if not found:
        return []
    parts = dict.fromkeys(
        placed.part for sheet, cuts in found for placed in sheet.placed if any(_frees(cut, placed) for cut in cuts)
    )
    words = [f"{counted_cuts(cuts)} of sheet {sheet.number}" for sheet, cuts in found]
    count = sum(len(cuts) for _, cuts in found)
    words[0] = f"{'Cut' if count == 1 else 'Cuts'} {words[0]}"
    settings = LineCutSettings(listed(words), count)
    return [shop.operation("saw-lines", "saw-lines", tuple(parts), way="rip-short", pieces=count, settings=settings)]


def _frees(cut: Cut, placed: Placed) -> bool:
    """Whether a rip runs along the far edge of a piece."""
    return cut.start[1] == placed.y + placed.width and cut.start[0] <= placed.x < cut.end[0]


def counted_cuts(cuts: Sequence[Cut]) -> str:
    """``14 to 17``; ``3, 7 and 8``."""
    orders = sorted(cut.order for cut in cuts)
    if len(orders) > 2 and orders[-1] - orders[0] == len(orders) - 1:
        return f"{orders[0]} to {orders[-1]}"
    return listed([str(order) for order in orders])


def stock_words(stock: Stock) -> str:
    """What the store calls it: ``3/4 in birch plywood``, ``1x4 red oak board``."""
    bare = stock.nominal.replace("/", "").replace("-", "").replace(".", "").isdigit()
    return f"{stock.nominal}{' in' if bare else ''} {lower_first(stock.name)}"


def _pieces(boards: Sequence[BoardLayout]) -> list[Piece]:
    return [Piece(board, placed, ripped_before(board, placed)) for board in boards for placed in board.placed]


def _by(pieces: Sequence[Piece], size: Callable[[Piece], Length]) -> list[tuple[Length, list[Piece]]]:
    """Pieces by a setting they share, the largest first."""
    groups: dict[Length, list[Piece]] = {}
    for piece in pieces:
        groups.setdefault(size(piece), []).append(piece)
    return sorted(groups.items(), key=lambda group: group[0], reverse=True)


def _shared_out(groups: list[tuple[Length, list[Piece]]]) -> list[list[tuple[Length, list[Piece]]]]:
    """Groups in steps of no more than ``MOST_STOPS``, about the same number in each."""
    steps = -(-len(groups) // MOST_STOPS)
    size = -(-len(groups) // steps) if steps else 1
    return [groups[start : start + size] for start in range(0, len(groups), size)]


CROSSCUTS = {
    "board": ("Cut the board to length", "Cut the wide board to length"),
    "boards": ("Cut the boards to length", "Cut the wide boards to length"),
    "rod": ("Cut the rod to length", "Cut the wide rod to length"),
    "rods": ("Cut the rods to length", "Cut the wide rods to length"),
}
"""Titles by what is cut: as it comes, and of boards too wide for a miter saw."""


def _crosscuts(shop: Workshop, pieces: Sequence[Piece]) -> None:
    """All that shares a stop is cut in one go, whatever board it comes from; boards too wide for a mitre saw by themselves."""
    narrow = [piece for piece in pieces if not _is_wide(piece)]
    _crosscut(shop, narrow, "cut-boards", shop.words.put(CROSSCUTS[_blanks_word(narrow)][0]), "crosscut")
    wide = [piece for piece in pieces if _is_wide(piece)]
    _crosscut(shop, wide, "cut-wide-boards", shop.words.put(CROSSCUTS[_blanks_word(wide)][1]), "crosscut-wide")


def _blanks_word(pieces: Sequence[Piece]) -> str:
    """What these pieces are cut from: ``boards``, ``board``; ``rods``, ``rod`` where there is nothing else."""
    rods = all(piece.board.stock.material.form is Form.ROD for piece in pieces)
    several = len({piece.board.number for piece in pieces}) > 1
    return noun(2 if several else 1, "rod" if rods else "board")


def _is_wide(piece: Piece) -> bool:
    return piece.board.board.width > WIDEST_MITRE


def _crosscut(shop: Workshop, pieces: Sequence[Piece], base: str, heading: str, way: str) -> None:
    if not pieces:
        return
    steps = _shared_out(_by(pieces, lambda piece: piece.placed.length))
    for number, groups in enumerate(steps, start=1):
        name = base if number == 1 else f"{base}-{number}"
        operations = [
            shop.operation(
                name,
                "crosscut",
                _parts_of(pieces),
                way=_way_across(way, stop),
                pieces=_blanks(pieces),
                settings=CrosscutSettings(
                    stop,
                    _blanks(pieces),
                    strips=_is_strips(pieces),
                    start=number == 1,
                    blanks=_blanks_word([piece for _, pieces in groups for piece in pieces]),
                ),
            )
            for stop, pieces in groups
        ]
        parts = _parts_of([piece for _, pieces in groups for piece in pieces])
        used = dict.fromkeys(piece.board.number for _, pieces in groups for piece in pieces)
        title = heading + (f", part {number} of {len(steps)}" if len(steps) > 1 else "")
        scene = Scene((), parts, (), (), (), layout=f"board {next(iter(used))}")
        shop.add(name, Stage.CUT, title, operations, scene)


def _blanks(pieces: Sequence[Piece]) -> int:
    """Pieces as they come off the crosscut: what lies side by side on a board comes off in one and is parted by the rip."""
    return len({(piece.board.number, piece.placed.x) for piece in pieces})


def _way_across(way: str, stop: Length) -> str:
    """How a part of that length is cut off: clamped where it is short, by hand where it is tiny."""
    if way != "crosscut" or stop >= SHORT_STOP:
        return way
    return "crosscut-tiny" if stop < SHORTEST_AT_STOP else "crosscut-short"


def _stays_on_board(plan: Plan, piece: Piece) -> bool:
    """Whether a piece is cut off only when it has its shape: it was ripped with the rest of its board, or a corner of it is sawn off."""
    if piece.rest is not None:
        return True
    return piece.placed.length < SHORTEST_RIP and end_chamfer(plan.part(piece.placed.part)) is not None


def _rip_kind(piece: Piece) -> str:
    """Short parts, and short rests of a board, are sawn by hand, jigsaw or bandsaw: no hold at a table saw, no room for a circular saw."""
    if (piece.rest.run if piece.rest else piece.placed.length) < SHORTEST_RIP:
        return "rip-short"
    if piece.placed.width < NARROWEST_RIP and piece.board.stock.thickness < THINNEST_PLANED:
        return "rip-thin"
    if piece.board.board.width >= NARROW_BOARD:
        return "rip"
    return "rip-thin" if piece.placed.width < NARROWEST_RIP else "rip-narrow"


def _rips(shop: Workshop, pieces: Sequence[Piece]) -> None:
    """What is narrower than its board, by fence setting; where there are many widths, narrow and short parts that take another tool have a
    step of their own."""
    ripped = [piece for piece in pieces if piece.placed.width < piece.board.board.width]
    kinds = (
        ("rip", "rip-boards", "Rip the boards to width"),
        ("rip-narrow", "rip-narrow-boards", "Rip the narrow boards to width"),
        ("rip-thin", "rip-narrow-boards", "Rip the narrow boards to width"),
        ("rip-short", "rip-short-parts", "Saw the short parts to width"),
    )
    steps: dict[str, list[tuple[str, str, str, list[Piece]]]] = {}
    for kind, name, title in kinds:
        some = [piece for piece in ripped if _rip_kind(piece) == kind]
        if some:
            steps.setdefault(shop.first_tool(kind), []).append((kind, name, title, some))
    if steps and len({piece.placed.width for piece in ripped}) <= MOST_WIDTHS:
        steps = {"": [one for together in steps.values() for one in together]}
    for together in steps.values():
        _rip(shop, together)


def _rip(shop: Workshop, together: Sequence[tuple[str, str, str, list[Piece]]]) -> None:
    operations = [
        shop.operation(
            name,
            "rip",
            _parts_of(some),
            way=kind,
            pieces=_runs(some),
            settings=RipSettings(width, _runs(some), _is_strips(some), rest),
        )
        for kind, name, _, pieces in together
        for width, of_width in _by(pieces, lambda piece: piece.placed.width)
        for rest, some in _by_rest(of_width)
    ]
    _, name, title, first = together[0]
    parts = _parts_of([piece for *_, pieces in together for piece in pieces])
    scene = Scene((), parts, (), (), (), layout=f"board {first[0].board.number}")
    shop.add(name, Stage.CUT, title, operations, scene, also=[other for _, other, *_ in together])


def _by_rest(pieces: Sequence[Piece]) -> list[tuple[str, list[Piece]]]:
    """Loose pieces together, under no name; those that are still part of a board by its stock and number: ``1x4, board 2``."""
    groups: dict[str, list[Piece]] = {}
    for piece in pieces:
        name = "" if piece.rest is None else f"{piece.board.stock.nominal}, board {piece.board.number}"
        groups.setdefault(name, []).append(piece)
    return list(groups.items())


def _runs(pieces: Sequence[Piece]) -> int:
    """How many times the saw runs: once for all pieces of one board that are ripped as one."""
    return len({(piece.board.number, piece.rest.order if piece.rest else piece.placed) for piece in pieces})


def _is_strips(pieces: Sequence[Piece]) -> bool:
    return all(piece.placed.strip is not None for piece in pieces)


def _parts_of(pieces: Sequence[Piece]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(piece.placed.part for piece in pieces))


def _one_of_each_kind(shop: Workshop) -> list[Part]:
    return list({part.kind: part for part in reversed(shop.plan.parts)}.values())[::-1]


CUTTING = Work(
    cut_parts,
    (
        *(
            "break-down",
            "break-down-thin",
            "crosscut",
            "crosscut-short",
            "crosscut-wide",
            "crosscut-tiny",
            "rip",
            "rip-narrow",
            "rip-thin",
            "rip-short",
        ),
        *(CUT_TAPE, "clip-corner", "glue-up", "glue-up-jointed", "glue-up-machined", "trim-panel"),
    ),
)
