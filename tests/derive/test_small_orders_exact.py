"""Tiny orders against full enumeration: every assignment to sheets, every way to part a sheet by through cuts."""

from __future__ import annotations

from functools import cache
from itertools import product
from random import Random

import pytest

from drawleaf.derive.layout.search.bounds import least_sheets
from drawleaf.derive.layout.search.guillotine import Cutting, Effort, Kind, Tidy
from drawleaf.derive.layout.search.packing import ALL_CUTTING, Order, Packer
from drawleaf.derive.layout.search.sheet_filling import sheet_filler


@cache
def fits(length: int, width: int, pieces: tuple[tuple[int, int, bool], ...]) -> bool:
    """Whether the pieces can be cut from the rectangle: try each through cut at a sum of sides, with each split of the pieces."""
    if not pieces:
        return True
    if sum(a * b for a, b, _ in pieces) > length * width:
        return False
    if len(pieces) == 1:
        a, b, turns = pieces[0]
        return (a <= length and b <= width) or (turns and b <= length and a <= width)
    rest = range(1, len(pieces))
    for choice in product((False, True), repeat=len(rest)):
        one = (pieces[0], *(pieces[at] for at, here in zip(rest, choice, strict=True) if here))
        two = tuple(pieces[at] for at, here in zip(rest, choice, strict=True) if not here)
        if not two:
            continue
        if any(fits(at, width, one) and fits(length - at, width, two) for at in range(1, length)):
            return True
        if any(fits(length, at, one) and fits(length, width - at, two) for at in range(1, width)):
            return True
    return False


def fewest(sheet: tuple[int, int], pieces: list[tuple[int, int, bool]]) -> int:
    """The true least number of sheets, up to three."""
    for count in (1, 2):
        for homes in product(range(count), repeat=len(pieces) - 1):
            groups = [[pieces[0]] if home == 0 else [] for home in range(count)]
            for piece, home in zip(pieces[1:], homes, strict=True):
                groups[home].append(piece)
            if all(fits(*sheet, tuple(sorted(group))) for group in groups):
                return count
    return 3


@pytest.mark.parametrize("seed", range(40))
def test_no_sheet_more_than_full_enumeration(seed: int) -> None:
    random = Random(seed)
    sheet = (random.randint(5, 8), random.randint(4, 7))
    pieces: list[tuple[int, int, bool]] = []
    while len(pieces) < random.randint(4, 6):
        pieces.append((random.randint(1, sheet[0] - 1), random.randint(1, sheet[1] - 1), random.random() < 0.4))
    best = fewest(sheet, pieces)
    order = Order(tuple(Kind(a, b, 1, turns) for a, b, turns in pieces), (sheet,))
    least = least_sheets(sheet, order.kinds)
    effort = Effort(20_000)
    found = len(Packer(order, sheet_filler(order, effort), effort, ALL_CUTTING).few_sheets(0, least))
    assert least <= best or best == 3
    if best < 3:
        assert found == best
    else:
        assert found >= 3


@pytest.mark.parametrize("tidy", [None, Tidy(0.01, 0.002, 0.3)])
@pytest.mark.parametrize("cutting", ALL_CUTTING)
def test_what_earlier_fillings_worked_out_changes_no_later_one(cutting: Cutting, tidy: Tidy | None) -> None:
    """Thirty fillings with other values and other pieces on hand: the same from one filler as each from a fresh one, and as dear in tries."""
    kinds = (Kind(7, 5, 2, True), Kind(9, 3, 2, False), Kind(4, 4, 3, False), Kind(6, 2, 2, True))
    order = Order(kinds, ((20, 13),))
    random, shared = Random(5), Effort(100_000)
    filler = sheet_filler(order, shared, tidy)
    for _ in range(30):
        counts = tuple(random.randint(0, kind.count) for kind in kinds)
        values = [kind.area * random.uniform(0.8, 1.2) for kind in kinds]
        alone = Effort(100_000)
        before = shared.left
        assert filler(0, counts, values, cutting) == sheet_filler(order, alone, tidy)(0, counts, values, cutting)
        assert before - shared.left == 100_000 - alone.left
