"""Layouts against proven optima of published instances; their sources stand in the data files beside this.

A representative part, so that the tests stay quick; ``bench/layouts.py`` runs all of them with more effort.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest
from tests.conftest import examples

from drawleaf.derive.layout.cut_order import CutPlan, plan_cuts
from drawleaf.derive.layout.search.board_filling import board_filler
from drawleaf.derive.layout.search.bounds import least_boards, least_sheets
from drawleaf.derive.layout.search.cutting_stock import few_boards
from drawleaf.derive.layout.search.guillotine import Cutting, Effort, Filled, Kind
from drawleaf.derive.layout.search.packing import ALL_CUTTING, Order, Packer
from drawleaf.derive.layout.search.sheet_filling import sheet_filler
from drawleaf.derive.layout.second_goals import handling, practical

DATA = Path(__file__).parent / "data"
QUICK = 30_000


def instances(name: str) -> list[dict[str, Any]]:
    return json.loads((DATA / f"{name}.json").read_text(encoding="utf-8"))["instances"]


def orders(name: str, most: int) -> list[tuple[str, Order, int]]:
    """Instances of at most so many pieces, in both variants: name, order, published optimum."""
    return [
        (
            f"{instance['name']}-{variant}",
            Order(tuple(Kind(*item, variant == "RG") for item in instance["items"]), (tuple(instance["stock"]),)),
            instance[f"opt_{variant}"],
        )
        for instance in instances(name)
        for variant in ("OG", "RG")
        if instance["n"] <= most and instance[f"opt_{variant}"] is not None
    ]


FURNITURE = orders("guillotine_csp_furniture_A", 160)
CLASS = orders("guillotine_bpp_class", 100)


def solved(order: Order, cuttings: Sequence[Cutting] = ALL_CUTTING, effort: int = QUICK) -> list[Filled]:
    spend = Effort(effort)
    least = least_sheets(order.sizes[0], order.kinds)
    return Packer(order, sheet_filler(order, spend), spend, cuttings).few_sheets(0, least)


def assert_sound(order: Order, sheets: Sequence[Filled]) -> None:
    """Pieces inside, none over another, all pieces of the order, none turned that may not, each sheet parted by through cuts."""
    counts = [0] * len(order.kinds)
    for sheet in sheets:
        length, width = order.sizes[sheet.size]
        for at, piece in enumerate(sheet.pieces):
            kind = order.kinds[piece.kind]
            counts[piece.kind] += 1
            lies = (kind.width, kind.length) if piece.turned else (kind.length, kind.width)
            assert (piece.length, piece.width) == lies
            assert kind.turns or not piece.turned
            assert piece.x >= 0
            assert piece.y >= 0
            assert piece.x + piece.length <= length
            assert piece.y + piece.width <= width
            for other in sheet.pieces[:at]:
                apart = (
                    piece.x + piece.length <= other.x
                    or other.x + other.length <= piece.x
                    or piece.y + piece.width <= other.y
                    or other.y + other.width <= piece.y
                )
                assert apart
        assert parts_by_through_cuts(sheet.pieces)
    assert counts == [kind.count for kind in order.kinds]


def parts_by_through_cuts(pieces: Sequence[Any]) -> bool:
    """Whether straight cuts from edge to edge part all pieces: found anew, with nothing from the search."""
    if len(pieces) <= 1:
        return True
    for low, high in (
        (lambda p: p.x, lambda p: p.x + p.length),
        (lambda p: p.y, lambda p: p.y + p.width),
    ):
        for line in sorted({low(piece) for piece in pieces})[1:]:
            before = [piece for piece in pieces if high(piece) <= line]
            after = [piece for piece in pieces if low(piece) >= line]
            if before and len(before) + len(after) == len(pieces):
                return parts_by_through_cuts(before) and parts_by_through_cuts(after)
    return False


def test_the_bound_never_exceeds_a_published_optimum() -> None:
    """And it is tight on at least 65 of the 94."""
    pairs = [(least_sheets(order.sizes[0], order.kinds), best) for _, order, best in (*FURNITURE, *CLASS)]
    assert len(pairs) == 94
    assert all(least <= best for least, best in pairs)
    assert sum(least == best for least, best in pairs) >= 65


def test_furniture_orders_reach_their_optima() -> None:
    """Real orders of the furniture industry: at least 26 of 28 with this little effort, never more than one sheet above."""
    hits = 0
    for _, order, best in FURNITURE:
        sheets = solved(order)
        assert_sound(order, sheets)
        assert best <= len(sheets) <= best + 1
        hits += len(sheets) == best
    assert hits >= 26


@pytest.mark.parametrize(
    ("order", "best"), [(order, best) for name, order, best in CLASS if "_020_" in name], ids=lambda value: ""
)
def test_class_instances_of_twenty(order: Order, best: int) -> None:
    sheets = solved(order, effort=80_000)
    assert_sound(order, sheets)
    assert len(sheets) == best


def ripped_first(order: Order, sheet: Filled) -> bool:
    """Whether a line along the whole sheet parts it, or leaves what is over above its pieces."""
    tops = sorted({piece.y + piece.width for piece in sheet.pieces})
    return any(all(piece.y >= top or piece.y + piece.width <= top for piece in sheet.pieces) for top in tops)


def test_rips_first_cost_little() -> None:
    """With full-length rips as the first cuts of every sheet, at least 24 of the 28 furniture orders stay at the optimum."""
    hits = 0
    for _, order, best in FURNITURE:
        sheets = solved(order, (Cutting.RIP_FIRST,))
        assert len(sheets) <= best + 1
        hits += len(sheets) == best
        for sheet in sheets:
            assert ripped_first(order, sheet)
    assert hits >= 24


def test_boards_reach_their_optima() -> None:
    """One-dimensional orders of 50 to 250 pieces: all but two at the optimum, never more than one board above. Each is about a second's work,
    so it is every sixth of the 18 here, all of them with ``--long``."""
    hits = 0
    chosen = instances("oned_bpp")[:: examples(6, 1)]
    for instance in chosen:
        kinds = tuple(Kind(size, 1, count, False) for size, count in instance["items"])
        order = Order(kinds, ((instance["stock"], 1),))
        least = least_boards(instance["stock"], [(size, count) for size, count in instance["items"]])
        assert least <= instance["opt"]
        spend = Effort(200_000)
        boards = Packer(order, board_filler(order, spend), spend, (Cutting.FREE,)).few_sheets(0, least)
        if len(boards) > least:
            boards = min(boards, few_boards(order, 0, least), key=len)
        assert_sound(order, boards)
        assert instance["opt"] <= len(boards) <= instance["opt"] + 1
        hits += len(boards) == instance["opt"]
    assert hits >= len(chosen) - len(chosen) // 6


def kept_if_large(length: int, width: int) -> bool:
    return min(length, width) >= 300


def test_second_goals_make_cutting_easier() -> None:
    """On as many sheets, with the same pieces, settings, cuts and the largest offcut never get worse on balance and get better in the mean.

    How much they get better than the first layout as laid is measured by ``bench/second_goals.py``. Every other order here, all with ``--long``.
    """

    def plan(sheet: Filled) -> CutPlan:
        return plan_cuts(sheet.sheet, sheet.pieces, 0, keepable=kept_if_large)

    gains = []
    for _, order, _ in FURNITURE[:: examples(2, 1)]:
        if sum(order.counts) > 50:
            continue
        first = solved(order)
        tidied = practical(first, plan, order, Effort(QUICK))
        assert len(tidied) == len(first)
        assert_sound(order, tidied)
        gains.append(handling(tidied, plan).gain_over(handling(first, plan)))
        assert gains[-1] >= 0
    assert sum(gains) / len(gains) >= 0.04


@pytest.mark.parametrize("name", ["t60_00", "t60_02"])
def test_triplets_by_column_generation(name: str) -> None:
    """Three pieces fill every board to the last millimetre: only the linear programme finds these."""
    instance = next(one for one in instances("oned_bpp") if one["name"] == name)
    kinds = tuple(Kind(size, 1, count, False) for size, count in instance["items"])
    order = Order(kinds, ((instance["stock"], 1),))
    boards = few_boards(order, 0, instance["opt"])
    assert_sound(order, boards)
    assert len(boards) == instance["opt"]


def test_the_invented_furniture_order() -> None:
    """Kerf 3, trim 10, mixed grain: 7, 1 and 3 sheets, each the proven least."""
    data = json.loads((DATA / "own_furniture_order.json").read_text(encoding="utf-8"))
    kerf, trim = data["kerf"], data["edge_trim"]
    sheet = tuple(side - 2 * trim + kerf for side in data["sheet"])
    for of_set in data["sets"]:
        kinds = tuple(
            Kind(long + kerf, wide + kerf, count, bool(turns)) for _, long, wide, count, turns in of_set["parts"]
        )
        order = Order(kinds, (sheet,))
        assert least_sheets(sheet, kinds) == of_set["lower_bound"]
        sheets = solved(order, effort=100_000)
        assert_sound(order, sheets)
        assert len(sheets) == of_set["found"]
