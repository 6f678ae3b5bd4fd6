"""Lengths are exact; rounding happens only where a number is printed."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drawleaf.units import Length, LengthFormat, Units, round_to, trimmed

fractions = st.fractions(min_value=-5000, max_value=5000, max_denominator=512)
INCH = LengthFormat()


def test_an_inch_is_25_4_mm_exactly() -> None:
    """NIST Special Publication 811 (2008), appendix B.8: 1 in = 25.4 mm exactly (from memory)."""
    assert Length.of_inches(1).exact_mm == Fraction(254, 10)


def test_mixed_units_add_exactly() -> None:
    """23/32 in + 18 mm = 18.25625 mm + 18 mm, by hand."""
    assert (Length.of_inches(Fraction(23, 32)) + Length.of_mm(18)).exact_mm == Fraction(3625625, 100000)


@pytest.mark.parametrize(
    ("inches", "printed"),
    [
        (Fraction(33, 2), "16-1/2"),
        (Fraction(23, 32), "23/32"),
        (Fraction(0), "0"),
        (Fraction(-3, 8), "-3/8"),
        (Fraction(12), "12"),
        (Fraction(1, 64), "1/32"),  # halves round away from zero
        (Fraction(1, 65), "0"),
        (Fraction(63, 64), "1"),
        (Fraction(-33, 32), "-1-1/32"),
    ],
)
def test_inches_print_as_the_trade_writes_them(inches: Fraction, printed: str) -> None:
    assert INCH.text(Length.of_inches(inches), unit=False) == printed


@pytest.mark.parametrize(
    ("mm", "printed"),
    [(Fraction(18), "18"), (Fraction(182563, 10000), "18.5"), (Fraction(1, 5), "0"), (Fraction(-1, 5), "0")],
)
def test_millimetres_print_to_the_half(mm: Fraction, printed: str) -> None:
    assert LengthFormat(Units.MM).text(Length.of_mm(mm), unit=False) == printed


def test_both_units_stand_side_by_side() -> None:
    assert LengthFormat(Units.BOTH).text(Length.of_inches(Fraction(33, 2))) == "16-1/2 in (419 mm)"


@given(fractions, fractions)
def test_arithmetic_is_that_of_fractions(a: Fraction, b: Fraction) -> None:
    assert (Length.of_inches(a) + Length.of_inches(b)).inches == a + b
    assert (Length.of_inches(a) - Length.of_inches(b)).inches == a - b
    assert (Length.of_inches(a) < Length.of_inches(b)) == (a < b)


@given(fractions, st.sampled_from([Fraction(1, 16), Fraction(1, 32), Fraction(1, 64), Fraction(1, 2)]))
def test_rounding_is_to_the_nearest_step(value: Fraction, step: Fraction) -> None:
    rounded = round_to(value, step)
    assert (rounded / step).denominator == 1
    assert abs(rounded - value) <= step / 2
    assert round_to(-value, step) == -rounded


@given(fractions)
def test_what_is_printed_reads_back_within_half_a_step(value: Fraction) -> None:
    mixed = INCH.mixed(Length.of_inches(value))
    back = mixed.whole + Fraction(mixed.numerator, mixed.denominator)
    assert abs(abs(value) - back) <= Fraction(1, 64)


@pytest.mark.parametrize(
    ("value", "places", "text"),
    [(18.0, 2, "18"), (18.504, 2, "18.5"), (-0.001, 2, "0"), (100, 0, "100"), (Fraction(1, 3), 3, "0.333"), (10.0, 1, "10")],
)  # fmt: skip
def test_figures_lose_trailing_zeros_alone(value, places, text):
    assert trimmed(value, places) == text
    assert trimmed(1250.5, 1, thousands=True) == "1,250.5"
