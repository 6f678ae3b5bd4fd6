"""Layouts against published optima: two-dimensional guillotine orders and one-dimensional cutting stock.

Run by itself it prints a line for each instance that misses its optimum. Sources of instances and optima stand in the data files, in
``tests/outside/data``. Effort is counted in search nodes; about a second an instance here.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from drawleaf.derive.layout.search.board_filling import board_filler
from drawleaf.derive.layout.search.bounds import least_boards, least_sheets
from drawleaf.derive.layout.search.cutting_stock import few_boards
from drawleaf.derive.layout.search.guillotine import Cutting, Effort, Kind
from drawleaf.derive.layout.search.packing import ALL_CUTTING, Order, Packer
from drawleaf.derive.layout.search.sheet_filling import sheet_filler

DATA = Path(__file__).resolve().parent.parent / "tests" / "outside" / "data"
EFFORT = 250_000
BOARD_EFFORT = 400_000


def instances(name: str) -> list[dict[str, Any]]:
    return json.loads((DATA / f"{name}.json").read_text(encoding="utf-8"))["instances"]


def tests_of(name: str) -> Iterator[tuple[str, Order, int]]:
    """Every instance in both variants: name, order, published optimum."""
    for instance in instances(name):
        for variant, turns in (("OG", False), ("RG", True)):
            best = instance[f"opt_{variant}"]
            if best is not None:
                kinds = tuple(Kind(*item, turns) for item in instance["items"])
                yield f"{instance['name']} {variant}", Order(kinds, (tuple(instance["stock"]),)), best


def sheets_needed(order: Order, effort: int = EFFORT) -> tuple[int, int]:
    """Sheets in our layout, and the proven bound."""
    least = least_sheets(order.sizes[0], order.kinds)
    spend = Effort(effort)
    return len(Packer(order, sheet_filler(order, spend), spend, ALL_CUTTING).few_sheets(0, least)), least


def boards_needed(instance: dict[str, Any], effort: int = BOARD_EFFORT) -> tuple[int, int]:
    """Boards in our layout of a one-dimensional instance, and the proven bound."""
    kinds = tuple(Kind(size, 1, count, False) for size, count in instance["items"])
    order = Order(kinds, ((instance["stock"], 1),))
    least = least_boards(instance["stock"], [(size, count) for size, count in instance["items"]])
    spend = Effort(effort)
    boards = Packer(order, board_filler(order, spend), spend, (Cutting.FREE,)).few_sheets(0, least)
    if len(boards) > least:
        boards = min(boards, few_boards(order, 0, least), key=len)
    return len(boards), least


def measure() -> dict[str, int]:
    """The figures for ``build/bench.json``."""
    figures = {"layout_bound_tight": 0, "layout_bound_wrong": 0}
    for key, name in (("furniture", "guillotine_csp_furniture_A"), ("class", "guillotine_bpp_class")):
        optimal = sheets = worst = 0
        for test, order, best in tests_of(name):
            found, least = sheets_needed(order)
            figures["layout_bound_tight"] += least == best
            figures["layout_bound_wrong"] += least > best
            optimal += found == best
            sheets += found
            worst = max(worst, found - best)
            if found != best:
                sys.stderr.write(f"{test}: {found} sheets, optimum {best}\n")
        figures |= {f"layout_{key}_optimal": optimal, f"layout_{key}_sheets": sheets, f"layout_{key}_worst": worst}
    figures["boards_optimal"] = figures["boards_worst"] = 0
    for instance in instances("oned_bpp"):
        found, _ = boards_needed(instance)
        figures["boards_optimal"] += found == instance["opt"]
        figures["boards_worst"] = max(figures["boards_worst"], found - instance["opt"])
        if found != instance["opt"]:
            sys.stderr.write(f"{instance['name']}: {found} boards, optimum {instance['opt']}\n")
    return figures


if __name__ == "__main__":
    sys.stdout.write(json.dumps(measure(), indent=1) + "\n")
