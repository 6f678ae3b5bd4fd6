"""Lengths as exact rationals, and the one place where they are rounded for print.

A length is held in millimetres as a fraction, so 23/32 in plus 18 mm has one exact value
(1 in = 25.4 mm exactly, NIST Special Publication 811, appendix B). Geometry takes floats from ``.mm``.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction
from functools import total_ordering
from typing import Literal, Self

MM_PER_INCH = Fraction(127, 5)

Number = int | Fraction


@total_ordering
@dataclass(frozen=True, slots=True)
class Length:
    """An exact length; ``exact_mm`` is its value in millimetres."""

    exact_mm: Fraction

    @staticmethod
    def of_mm(value: Number) -> Length:
        """A length of so many millimetres."""
        return Length(Fraction(value))

    @staticmethod
    def of_inches(value: Number) -> Length:
        """A length of so many inches."""
        return Length(Fraction(value) * MM_PER_INCH)

    @property
    def mm(self) -> float:
        """Millimetres, as a float for geometry."""
        return float(self.exact_mm)

    @property
    def inches(self) -> Fraction:
        """Exact inches."""
        return self.exact_mm / MM_PER_INCH

    def __add__(self, other: Length) -> Length:
        return Length(self.exact_mm + other.exact_mm)

    def __sub__(self, other: Length) -> Length:
        return Length(self.exact_mm - other.exact_mm)

    def __neg__(self) -> Length:
        return Length(-self.exact_mm)

    def __abs__(self) -> Length:
        return Length(abs(self.exact_mm))

    def __mul__(self, factor: Number) -> Length:
        return Length(self.exact_mm * Fraction(factor))

    __rmul__ = __mul__

    def __truediv__(self, divisor: Number) -> Length:
        return Length(self.exact_mm / Fraction(divisor))

    def ratio(self, other: Length) -> Fraction:
        """This length over another, a bare number."""
        return self.exact_mm / other.exact_mm

    def __hash__(self) -> int:
        # A fraction's own hash agrees with that of equal floats, which takes long and which a length has no use for.
        return hash(self.exact_mm.as_integer_ratio())

    def __lt__(self, other: Length) -> bool:
        return self.exact_mm < other.exact_mm

    def __bool__(self) -> bool:
        return self.exact_mm != 0


ZERO = Length(Fraction(0))


class Units(Enum):
    """What a booklet prints lengths in."""

    INCH = "in"
    MM = "mm"
    BOTH = "both"


@dataclass(frozen=True, slots=True)
class Mixed:
    """A rounded inch figure as the trade writes it: sign, whole inches and a proper fraction in lowest terms."""

    negative: bool
    whole: int
    numerator: int
    denominator: int

    def __str__(self) -> str:
        sign = "-" if self.negative else ""
        if not self.numerator:
            return f"{sign}{self.whole}"
        fraction = f"{self.numerator}/{self.denominator}"
        return f"{sign}{self.whole}-{fraction}" if self.whole else f"{sign}{fraction}"


@dataclass(frozen=True, slots=True)
class LengthFormat:
    """How this booklet prints lengths. Rounding happens here and nowhere else; halves round away from zero.

    ``inch_step`` is the finest inch fraction printed (1/32 for most shops); ``mm_step`` the finest millimetre step.
    """

    units: Units = Units.INCH
    inch_step: Fraction = Fraction(1, 32)
    mm_step: Fraction = Fraction(1, 2)

    def mixed(self, length: Length) -> Mixed:
        """The inch figure as whole and fraction."""
        rounded = round_to(length.inches, self.inch_step)
        whole, rest = divmod(abs(rounded), 1)
        return Mixed(rounded < 0, int(whole), rest.numerator if rest else 0, rest.denominator if rest else 1)

    def millimetres(self, length: Length) -> str:
        """The millimetre figure without its unit: ``18``, ``18.5``."""
        rounded = round_to(length.exact_mm, self.mm_step)
        text = f"{float(rounded):.2f}".rstrip("0").rstrip(".")
        return "0" if text == "-0" else text

    def rounded(self, length: Length, unit: Literal["in", "mm"]) -> Length:
        """The length as printed, for checks that printed sizes still add up."""
        if unit == "in":
            return Length.of_inches(round_to(length.inches, self.inch_step))
        return Length(round_to(length.exact_mm, self.mm_step))

    def sold(self) -> Self:
        """The same for sizes that a store sells: in whole millimetres, as its labels have them (an 8 ft sheet is 2438 long)."""
        return replace(self, mm_step=Fraction(max(1, -(-self.mm_step // 1))))

    def text(self, length: Length, *, unit: bool = True) -> str:
        """Plain text: ``16-1/2 in``, ``419 mm`` or ``16-1/2 in (419 mm)``; without units where ``unit`` is false."""
        inch = f"{self.mixed(length)}{' in' if unit else ''}"
        mm = f"{self.millimetres(length)}{' mm' if unit else ''}"
        match self.units:
            case Units.INCH:
                return inch
            case Units.MM:
                return mm
            case Units.BOTH:
                return f"{inch} ({mm})"


def round_to(value: Fraction, step: Fraction) -> Fraction:
    """The multiple of ``step`` nearest to ``value``; halves away from zero."""
    scaled = abs(value) / step
    nearest = (scaled + Fraction(1, 2)).__floor__()
    return (nearest if value >= 0 else -nearest) * step
