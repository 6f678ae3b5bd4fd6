"""Tenons: the chisel that is nearest, whole steps of length, and the room at a mortise's floor, worked out by hand."""

from __future__ import annotations

from fractions import Fraction
from types import SimpleNamespace
from typing import Literal, cast

import pytest

from drawleaf.joinery.family import Terms
from drawleaf.joinery.tenons import floor_of, floored, nearest_chisel
from drawleaf.units import Length


def terms(unit: Literal["in", "mm"], play: Length | None = None) -> Terms:
    return cast("Terms", SimpleNamespace(unit=unit, play=play))


@pytest.mark.parametrize(
    ("thick", "chisel"),
    [
        ("0", 3), ("3.5", 3), ("3.6", 4), ("4.5", 4), ("5.5", 5), ("7", 6), ("9", 8), ("11", 10), ("13.5", 12), ("16.5", 15), ("19", 18),
        ("22.5", 20), ("27.5", 25), ("33", 30), ("33.1", 36), ("90", 36),
    ],
)  # fmt: skip
def test_the_nearest_metric_chisel_and_the_narrower_of_two(thick: str, chisel: int) -> None:
    """Chisels are sold in 3, 4, 5, 6, 8, 10, 12, 15, 18, 20, 25, 30 and 36 mm (common practice, no source); half way between two it is
    the narrower."""
    assert nearest_chisel(Length.of_mm(Fraction(thick)), terms("mm")) == Length.of_mm(chisel)


@pytest.mark.parametrize(
    ("thirtyseconds", "sixteenths"),
    [(0, 2), (5, 2), (6, 3), (7, 3), (9, 4), (11, 5), (14, 6), (18, 8), (22, 10), (28, 12), (36, 16), (44, 20), (45, 24), (99, 24)],
)  # fmt: skip
def test_the_nearest_chisel_in_inches(thirtyseconds: int, sixteenths: int) -> None:
    """1/8, 3/16, 1/4, 5/16, 3/8, 1/2, 5/8, 3/4, 1, 1-1/4 and 1-1/2 in (common practice, no source)."""
    thick = Length.of_inches(Fraction(thirtyseconds, 32))
    assert nearest_chisel(thick, terms("in")) == Length.of_inches(Fraction(sixteenths, 16))


@pytest.mark.parametrize(("length", "whole"), [(29, 20), (30, 30), (31, 30), (10, 10), (7, 7)])
def test_whole_steps_of_ten_and_what_is_shorter_stays(length: int, whole: int) -> None:
    assert floored(Length.of_mm(length), Length.of_mm(10)) == Length.of_mm(whole)


def test_a_mortise_is_a_sixteenth_or_two_millimeters_deeper_unless_the_author_says_how_much() -> None:
    assert floor_of(terms("in")) == Length.of_inches(Fraction(1, 16))
    assert floor_of(terms("mm")) == Length.of_mm(2)
    assert floor_of(terms("mm", Length.of_mm(5))) == Length.of_mm(5)
