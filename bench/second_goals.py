"""What the second goals gain at an equal number of sheets, over the furniture orders.

The measure, for each order: of the first layout found at its sheet count, cut strip after strip just as the search laid it, and of the finished layout, count the
saw settings (how often the fence or stop is moved on the way through the cuts, summed over sheets), the cuts, and the largest offcut worth keeping. The gain is the
mean of three shares: settings saved, cuts saved, and what the largest offcut gained as a share of the larger of the two.

The first layout found is the one that ``Packer.few_sheets`` gives: the first set of sheets with the count that is bought in the end, before anything was
done for the person who cuts it. It is told in two ways. ``as laid`` cuts it along the lines that the search drew, waste staying where the
search left it, rips first: that is the layout as found, and the figure to be held to 15 %. ``in order`` is the same layout after its strips were put in order of
size, which groups equal settings and gathers the waste; against it is told what the search for tidier sheets adds by itself. Tidying has
the effort that it has in a compile, not the bench's larger one.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Sequence
from statistics import mean

from layouts import EFFORT, tests_of

from drawleaf.derive.layout.cut_order import CutPlan, plan_cuts, settings_of
from drawleaf.derive.layout.search.bounds import least_sheets
from drawleaf.derive.layout.search.guillotine import Effort, Filled, Piece
from drawleaf.derive.layout.search.packing import ALL_CUTTING, Order, Packer
from drawleaf.derive.layout.search.sheet_filling import sheet_filler
from drawleaf.derive.layout.second_goals import Handling, handling, practical
from drawleaf.derive.layout.sheets import EFFORT as TIDY_EFFORT

Room = tuple[int, int, int, int]
"""A rectangle: x, y, length, width."""


def worth_keeping(length: int, width: int) -> bool:
    """As in the booklet: 300 x 300 mm, or 1000 x 100 mm. The orders are in millimetres."""
    short, long = sorted((length, width))
    return short >= 300 or (long >= 1000 and short >= 100)


def in_order(sheet: Filled) -> CutPlan:
    """The booklet's own order of cuts; the published orders have no kerf."""
    return plan_cuts(sheet.sheet, sheet.pieces, 0, keepable=worth_keeping)


def as_laid(sheets: Sequence[Filled]) -> Handling:
    """Settings, cuts and largest offcut of sheets cut where their pieces lie, rips first where they part anything."""
    settings = cuts = largest = 0
    for sheet in sheets:
        sawn: list[tuple[int, int]] = []
        waste: list[Room] = []
        _cut((0, 0, *sheet.sheet), sheet.pieces, sawn, waste)
        settings += settings_of(sawn)
        cuts += len(sawn)
        largest = max([largest, *(room[2] * room[3] for room in waste if worth_keeping(room[2], room[3]))])
    return Handling(settings, cuts, largest)


def _cut(room: Room, pieces: Sequence[Piece], sawn: list[tuple[int, int]], waste: list[Room]) -> None:
    if not pieces:
        waste.append(room)
        return
    for axis in (1, 0):
        low, size = room[axis], room[axis + 2]
        ends = sorted({_end(piece, axis) for piece in pieces} | {_start(piece, axis) for piece in pieces})
        for line in ends:
            if low < line < low + size and all(
                _start(piece, axis) >= line or _end(piece, axis) <= line for piece in pieces
            ):
                sawn.append((axis, line - low))
                near, far = list(room), list(room)
                near[axis + 2] = line - low
                far[axis], far[axis + 2] = line, low + size - line
                before = [piece for piece in pieces if _end(piece, axis) <= line]
                after = [piece for piece in pieces if _start(piece, axis) >= line]
                _cut((near[0], near[1], near[2], near[3]), before, sawn, waste)
                _cut((far[0], far[1], far[2], far[3]), after, sawn, waste)
                return


def _start(piece: Piece, axis: int) -> int:
    return piece.x if axis == 0 else piece.y


def _end(piece: Piece, axis: int) -> int:
    return piece.x + piece.length if axis == 0 else piece.y + piece.width


def gains(order: Order, effort: int = EFFORT) -> tuple[float, float, list[Filled]]:
    """Gain over the first layout as laid, over the same in order, and the finished sheets."""
    least = least_sheets(order.sizes[0], order.kinds)
    spend = Effort(effort)
    first = Packer(order, sheet_filler(order, spend), spend, ALL_CUTTING).few_sheets(0, least)
    finished = practical(first, in_order, order, Effort(TIDY_EFFORT))
    result = handling(finished, in_order)
    return result.gain_over(as_laid(first)), result.gain_over(handling(first, in_order)), finished


def measure() -> dict[str, float]:
    """The figures for ``build/bench.json``."""
    found = [gains(order)[:2] for _, order, _ in tests_of("guillotine_csp_furniture_A")]
    return {
        "layout_second_goals_gain": mean(one for one, _ in found),
        "layout_second_goals_gain_in_order": mean(two for _, two in found),
    }


if __name__ == "__main__":
    sys.stdout.write(json.dumps(measure(), indent=1) + "\n")
