"""Small parts stay on the board while they are sawn to width: what is left of a board is ripped first, then they are cut off it.

A short piece gives a saw and two hands nothing to hold; a long one does. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from drawleaf.derive.shop.limits import SHORTEST_HELD, SHORTEST_RIP, ShopLimits
from drawleaf.english import listed, noun
from drawleaf.model.lists import BoardLayout, Cut, Offcut, Placed
from drawleaf.model.plan import Making
from drawleaf.units import ZERO, Length


def ripped_before(board: BoardLayout, piece: Placed) -> Cut | None:
    """The rip that gives a piece its width while it is still part of a longer one; None where it is cut off first."""
    for cut in board.cuts:
        if cut.kind != "rip" or cut.setting != piece.width or cut.run <= piece.length:
            continue
        along = cut.start[0] <= piece.x and piece.x + piece.length <= cut.end[0]
        if along and cut.start[1] == piece.y + piece.width:
            return cut
    return None


def small_parts_last(board: BoardLayout, making: Making, shop: ShopLimits) -> BoardLayout:
    """The layout with short pieces at the board's end ripped as one long piece, where all of them are equally wide and enough is left
    to hold; the layout as it was where not."""
    small = _row_at_end(board)
    if not small:
        return board
    first = small[0]
    rest = board.length - first.x
    if rest < SHORTEST_HELD:
        return board
    line = first.width
    start, end = (first.x, line), (board.length, line)
    guide = shop.guide("rip", line, board=True, heavy=False, width=board.board.width, run=rest)
    numbers = dict.fromkeys(str(piece.number) for piece in small)
    frees = f"a long piece for {noun(len(numbers), 'part')} {listed(numbers)}"
    rip = Cut(0, "rip", line, start, end, frees, guide)
    cuts: list[Cut] = []
    for cut in board.cuts:
        if cut.kind == "rip" and cut.start[0] >= first.x:
            continue
        if cut.kind == "crosscut" and cut.start[0] > first.x:
            if rip not in cuts:
                cuts.append(rip)
            cut = replace(_narrowed(cut, line, small), guide=shop.across(line, short=True))
        cuts.append(cut)
    if rip not in cuts:
        cuts.append(rip)
    freeing = max(
        (cut for cut in cuts if cut.kind == "crosscut" and cut.start[0] <= first.x),
        key=lambda cut: cut.start[0],
        default=None,
    )
    if freeing is not None and cuts.index(freeing) > cuts.index(rip):
        # The first of them still hangs on the piece before it: they match, and are cut apart last of all.
        return board
    ordered = tuple(replace(cut, order=order) for order, cut in enumerate(cuts, start=1))
    offcuts = tuple(_kept(offcut, first, line, making.kerf) for offcut in board.offcuts)
    return replace(board, cuts=ordered, offcuts=tuple(offcut for offcut in offcuts if offcut is not None))


def _row_at_end(board: BoardLayout) -> list[Placed]:
    """The last pieces of a board where they are short, of one width less than the board's, and lie one behind the other."""
    row: list[Placed] = []
    for piece in sorted(board.placed, key=lambda piece: piece.x, reverse=True):
        short = piece.length < SHORTEST_RIP and piece.y == ZERO and ZERO < piece.width < board.board.width
        if not short or (row and piece.width != row[0].width):
            break
        if row and piece.x + piece.length > row[0].x:
            break
        row.insert(0, piece)
    if any(other not in row and row and other.x + other.length > row[0].x for other in board.placed):
        return []
    return row


def _narrowed(cut: Cut, width: Length, small: Sequence[Placed]) -> Cut:
    """A crosscut of what has been ripped already: it frees a finished part."""
    freed = [piece for piece in small if piece.x + piece.length == cut.start[0]]
    frees = f"part {freed[0].number}" if freed else cut.frees
    return replace(cut, end=(cut.end[0], width), frees=frees)


def _kept(offcut: Offcut, first: Placed, line: Length, kerf: Length) -> Offcut | None:
    """What an offcut beyond the small parts comes to, now that the rip runs on through it; beside them a strip is left at most."""
    if offcut.x + offcut.length <= first.x:
        return offcut
    if offcut.y == ZERO:
        return replace(offcut, width=min(offcut.width, line))
    return None if offcut.y < line + kerf else offcut
