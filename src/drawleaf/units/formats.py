"""How lengths are printed: inches with shop fractions, millimetres, or both."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum
from fractions import Fraction
from typing import Literal, Self

from drawleaf.units.lengths import Length, round_to


def trimmed(value: Fraction | float, places: int, *, thousands: bool = False) -> str:
    """A figure rounded to so many decimal places without trailing zeros or a minus zero: ``18.5``, ``18``, ``0``; ``1,250`` in thousands."""
    text = f"{float(value):{',' if thousands else ''}.{places}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


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
    """How this booklet prints lengths. Halves round away from zero.

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
        return trimmed(rounded, 2)

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
