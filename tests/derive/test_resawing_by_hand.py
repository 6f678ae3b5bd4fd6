"""When a board is sawn thinner, how many it gives and what is left of it, worked out by hand in inches."""

from __future__ import annotations

from fractions import Fraction
from types import SimpleNamespace
from typing import cast

import pytest

from drawleaf.derive.layout.resawing import is_resawn, leaves_of, rest_of
from drawleaf.derive.shop.limits import HIGHEST_RESAW, ShopLimits
from drawleaf.model.catalogue import BoardSize, Stock
from drawleaf.units import Length

BANDSAW, NO_BANDSAW = (ShopLimits(table_saw=False, bandsaw=one) for one in (True, False))


def inch(text: str) -> Length:
    return Length.of_inches(sum(map(Fraction, text.split()), Fraction(0)))


def stock(thickness: str, *, at_yard: bool = False) -> Stock:
    return cast("Stock", SimpleNamespace(thickness=inch(thickness), at_yard=at_yard, as_bought=False))


def board(thickness: str, planing: str = "0", width: Length | None = None) -> BoardSize:
    size = SimpleNamespace(thickness=inch(thickness), planing=inch(planing), width=width or inch("5"))
    return cast("BoardSize", size)


@pytest.mark.parametrize(("thickness", "sawn"), [("1/2", True), ("17/32", False), ("1/4", True)])
def test_half_an_inch_to_come_off_is_worth_a_cut(thickness: str, sawn: bool) -> None:
    """Of a board 1 in thick: 3/8 that are no chips, and 1/8 to plane off what is kept."""
    assert is_resawn(stock(thickness), [board("1")], BANDSAW) is sawn


def test_it_takes_a_bandsaw_a_board_that_goes_under_its_guide_and_one_that_comes_rough() -> None:
    thin, wide = stock("1/2"), HIGHEST_RESAW
    assert is_resawn(thin, [board("1", width=wide)], BANDSAW)
    assert not is_resawn(thin, [board("1"), board("1", width=wide + Length.of_mm(1))], BANDSAW)
    assert not is_resawn(thin, [board("1")], NO_BANDSAW)
    assert not is_resawn(stock("1/2", at_yard=True), [board("1")], BANDSAW)


@pytest.mark.parametrize(
    ("thick", "leaves"), [("2 1/16", 3), ("2 1/32", 2), ("1 3/8", 2), ("1 11/32", 1), ("1", 1)]
)  # fmt: skip
def test_how_many_a_board_gives(thick: str, leaves: int) -> None:
    """Each of 1/2 in takes 1/2 and 1/8 to plane and 1/16 of blade: 11/16, the last without its blade. Half of the 1/8 that planing takes off
    the rough board is gone before: of 2-1/16 in there are 2 left, three times 11/16 less a blade."""
    assert leaves_of(stock("1/2"), [board(thick, "1/8")], BANDSAW) == leaves


def test_the_thinnest_of_the_boards_says_how_many() -> None:
    assert leaves_of(stock("1/2"), [board("2 1/16", "1/8"), board("1 3/8", "1/8")], BANDSAW) == 2


def test_what_is_not_resawn_gives_one() -> None:
    assert leaves_of(stock("1/2"), [board("2 1/16", "1/8")], NO_BANDSAW) == 1


@pytest.mark.parametrize(
    ("thick", "leaves", "rest"),
    [
        ("2", 2, "11"),  # 31/16 less 22/16 and 2/16 to plane: 7/16 in, 11.11 mm
        ("1 1/8", 1, "6"),  # 17/16 less 11/16 and 2/16: 1/4 in, 6.35 mm
        ("1 7/64", 1, None),
        ("2", 1, "28.5"),  # 18/16: 28.575 mm
    ],
)
def test_what_is_left_is_told_in_half_millimeters_never_too_thick(thick: str, leaves: int, rest: str | None) -> None:
    found = rest_of(stock("1/2"), board(thick, "1/8"), leaves)
    assert found == (None if rest is None else Length.of_mm(Fraction(rest)))
