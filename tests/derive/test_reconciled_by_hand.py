"""The shopping list and the layouts of both example plans, reckoned once by hand from the cut list, as a buyer with a pencil would.

Saw cut 1/8, 1/4 off the edges of a sheet, 1/2 off the ends of a board. All figures in inches and in dollars of the price book.
"""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

import pytest
from tests.conftest import PLANS, outcome_of

KERF = Fraction(1, 8)


def derived_of(name: str):
    derived = outcome_of(name).derived
    assert derived is not None
    return derived


def wood_of(name: str) -> list[tuple[str, str, int, Fraction | None]]:
    """Name, what of it, how many, what it costs: the rows that the layouts ask for."""
    rows = derived_of(name).shopping.rows
    return [
        (row.name, row.detail.split(".")[0], row.quantity, row.cost)
        for row in rows
        if row.aisle in ("Sheet goods", "Boards")
    ]


def laid(name: str, stock: str) -> list[list[tuple[str, Fraction, Fraction, Fraction, Fraction]]]:
    """For each sheet or board of a stock its pieces: name, x, y, length, width."""
    layouts = derived_of(name).layouts
    return [
        [(one.label, one.x.inches, one.y.inches, one.length.inches, one.width.inches) for one in layout.placed]
        for layout in (*layouts.sheets, *layouts.boards)
        if layout.stock.id == stock
    ]


def test_key_ledge_wood() -> None:
    """Three widths of pine, 24 in each of the 1x6 and the 1x2: a 4 ft board does for each, at 1.95, 1.20 and 0.70 the foot.

    From the 1x4 come the shelf and both brackets: 24 + 3 + 3 and two saw cuts are 30-1/4, of the 47 that are left of 4 ft.
    """
    assert wood_of("key-ledge") == [
        ("Pine board, 1x6", "4 ft", 1, Fraction("7.80")),
        ("Pine board, 1x4", "4 ft", 1, Fraction("4.80")),
        ("Pine board, 1x2", "4 ft", 1, Fraction("2.80")),
    ]
    (pieces,) = laid("key-ledge", "one_by_four")
    assert [(x, length, width) for _, x, _, length, width in pieces] == [
        (Fraction(1, 2), 24, Fraction(7, 2)),
        (Fraction("24.625"), 3, Fraction(11, 4)),
        (Fraction("27.75"), 3, Fraction(11, 4)),
    ]
    left = next(row.spare for row in derived_of("key-ledge").shopping.rows if row.name == "Pine board, 1x4")
    # 48 less 1/2 at the far end, less 27-3/4 + 3 + 1/8.
    assert left == "Left over: 16-5/8 x 2-3/4 in. If only 8 ft boards are in stock, buy 1"


def test_boot_bench_sheets() -> None:
    """One whole sheet of 3/4, half a one of 1/4, a quarter of 1/2: 74.00 + 21.50 + 19.50.

    The 3/4: along the sheet bottom, two sides and divider, 41-1/16 + 18-1/4 + 18-1/4 + 14-1/16 and three saw cuts, 92 of 95-1/2. Over them two rails
    of 3-1/2 and the kick board of 3 beside two shelves of 14-3/64 (14.045): the higher of both is the shelves' row.
    """
    assert wood_of("boot-bench")[:3] == [
        ("Birch plywood, 3/4 in", "4 x 8 ft", 1, Fraction(74)),
        ("Birch plywood, 1/4 in", "4 x 4 ft", 1, Fraction("21.50")),
        ("Birch plywood, 1/2 in", "2 x 4 ft", 1, Fraction("19.50")),
    ]
    ((*pieces,),) = laid("boot-bench", "case")
    row = [piece for piece in pieces if piece[2] == Fraction(1, 4)]
    assert {(length, width) for _, _, _, length, width in row if width == Fraction(31, 2)} == {
        (Fraction(73, 4), Fraction(31, 2))
    }
    assert sum(length for *_, length, _ in row) + 3 * KERF == 92
    second = Fraction(1, 4) + Fraction(31, 2) + KERF
    rails = sorted(y for _, _, y, length, _ in pieces if length == Fraction(649, 16))
    assert rails == [second, second + Fraction(7, 2) + KERF, second + 2 * (Fraction(7, 2) + KERF)]
    (case,) = [one for one in derived_of("boot-bench").layouts.sheets if one.stock.id == "case"]
    shelf = next(width for label, *_, width in pieces if label == "Shelf")
    (offcut,) = case.offcuts
    assert (offcut.length.inches, offcut.width.inches) == (Fraction(191, 2), Fraction(191, 4) - second - shelf - KERF)


def test_boot_bench_boards() -> None:
    """Frame: 39 + 39 + 24-13/32 + 24-13/32 + 16-1/32 + 16-1/32 + 14-25/32 + 13-1/32 + 12 is 198-11/16 (the shelves' edging, 25 less two gaps of
    1/16 and the side's 23/32, is cut 1/4 too long and trimmed); three boards of 6 ft give 213, and nothing shorter does: 8 + 4 + 4 ft give 189. Three at 2.10 x 6. Seat: six strips of 44-1/2, two to a board of 8 ft (89-1/8 of 95), three at 4.30 x 8.
    """
    assert wood_of("boot-bench")[3:] == [
        ("Red oak board, 1x2", "6 ft", 3, Fraction("37.80")),
        ("Red oak board, 1x6", "4 ft", 1, Fraction("26.80")),
        ("Red oak board, 1x4", "8 ft", 3, Fraction("103.20")),
    ]
    frame = [piece for board in laid("boot-bench", "frame") for piece in board]
    assert sum(length for *_, length, _ in frame) == 198 + Fraction(11, 16)
    seat = laid("boot-bench", "seat")
    assert [[length for *_, length, _ in board] for board in seat] == [[Fraction(89, 2)] * 2] * 3
    assert [[x for _, x, *_ in board] for board in seat] == [
        [Fraction(1, 2), Fraction(1, 2) + Fraction(89, 2) + KERF]
    ] * 3


CUT_OVER = {
    "boot-bench": {
        "case.back": ("1/4", "1/4"),  # a panel into its rabbets
        "drawer.box_bottom": ("1/2", "0"),
        "drawer.box_front": ("1/2", "0"),
        "drawer.box_back": ("1/2", "0"),
        "drawer.face": ("1/2", "1/4"),
        "shelves.edging.1": ("1/4", "1/16"),  # proud all round, trimmed flush
    },
}
"""How much longer and wider a part is sawn than the cut list's finished size, as its row's note says; all others are sawn to size."""


@pytest.mark.parametrize("name", PLANS)
def test_the_cut_list_and_the_layouts_hold_the_same_wood(name: str) -> None:
    """Piece by piece: each row as often as it says, a panel as its strips, longer by what is trimmed at both ends."""
    derived = derived_of(name)
    wanted: Counter[tuple[int, Fraction, Fraction]] = Counter()
    for item in derived.cut_list.items:
        glue = item.part.glue_up
        if glue is None:
            longer, wider = map(Fraction, CUT_OVER.get(name, {}).get(item.part.id, ("0", "0")))
            wanted[item.number, item.length.inches + longer, item.width.inches + wider] += item.quantity
        else:
            long = item.length.inches + 2 * glue.extra.inches
            wanted[item.number, long, glue.strip_width.inches] += item.quantity * glue.strips
    got = Counter(
        (one.number, one.length.inches, one.width.inches)
        for layout in (*derived.layouts.sheets, *derived.layouts.boards)
        for one in layout.placed
    )
    assert got == wanted


@pytest.mark.parametrize("name", PLANS)
def test_what_is_bought_is_what_is_laid_out_and_the_total_is_its_sum(name: str) -> None:
    derived = derived_of(name)
    bought = sum(quantity for _, _, quantity, _ in wood_of(name))
    assert bought == len(derived.layouts.sheets) + len(derived.layouts.boards)
    rows = derived.shopping.rows
    assert all(row.cost == row.quantity * row.each for row in rows if row.each is not None)
    assert derived.shopping.total == sum(row.cost for row in rows if row.cost is not None)
    for row in derived.hardware:
        (line,) = [
            one
            for one in rows
            if one.name.lower() == row.item.plural.lower() or one.name.lower() == row.item.name.lower()
        ]
        assert line.quantity == row.packs
        assert row.count <= row.packs * row.item.per_pack < row.count + row.item.per_pack
    assert derived.audit.passed
