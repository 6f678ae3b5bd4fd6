"""Lengths as exact rationals.

A length is held in millimetres as a fraction, so 23/32 in plus 18 mm has one exact value
(1 in = 25.4 mm exactly, NIST Special Publication 811, appendix B). Geometry takes floats from ``.mm``.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

MM_PER_INCH = Fraction(127, 5)
MM_PER_UNIT = {
    "in": MM_PER_INCH,
    "ft": MM_PER_INCH * 12,
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
}
"""Millimetres in each unit that a length may be written in."""

Number = int | Fraction


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
        over, under = self.exact_mm.as_integer_ratio()
        return over / under

    @property
    def inches(self) -> Fraction:
        """Exact inches."""
        return self.exact_mm / MM_PER_INCH

    # Sums too are made of whole numbers: a fraction's own operators first ask what they are given, which takes more than twice as long.
    def __add__(self, other: Length) -> Length:
        (over, under), (other_over, other_under) = self.exact_mm.as_integer_ratio(), other.exact_mm.as_integer_ratio()
        return Length(Fraction(over * other_under + other_over * under, under * other_under))

    def __sub__(self, other: Length) -> Length:
        (over, under), (other_over, other_under) = self.exact_mm.as_integer_ratio(), other.exact_mm.as_integer_ratio()
        return Length(Fraction(over * other_under - other_over * under, under * other_under))

    def __neg__(self) -> Length:
        return Length(-self.exact_mm)

    def __abs__(self) -> Length:
        return Length(abs(self.exact_mm))

    def __mul__(self, factor: Number) -> Length:
        (over, under), (more, less) = self.exact_mm.as_integer_ratio(), factor.as_integer_ratio()
        return Length(Fraction(over * more, under * less))

    __rmul__ = __mul__

    def __truediv__(self, divisor: Number) -> Length:
        (over, under), (more, less) = self.exact_mm.as_integer_ratio(), divisor.as_integer_ratio()
        return Length(Fraction(over * less, under * more))

    def ratio(self, other: Length) -> Fraction:
        """This length over another, a bare number."""
        return self.exact_mm / other.exact_mm

    def __hash__(self) -> int:
        # A fraction's own hash agrees with that of equal floats, which takes long and which a length does not need.
        return hash(self.exact_mm.as_integer_ratio())

    # Each written out, and as whole numbers: a check compares a hundred thousand lengths, and fractions first ask what they are compared with.
    def __lt__(self, other: Length) -> bool:
        (over, under), (other_over, other_under) = self.exact_mm.as_integer_ratio(), other.exact_mm.as_integer_ratio()
        return over * other_under < other_over * under

    def __le__(self, other: Length) -> bool:
        (over, under), (other_over, other_under) = self.exact_mm.as_integer_ratio(), other.exact_mm.as_integer_ratio()
        return over * other_under <= other_over * under

    def __gt__(self, other: Length) -> bool:
        return other < self

    def __ge__(self, other: Length) -> bool:
        return other <= self

    def __bool__(self) -> bool:
        return bool(self.exact_mm)


ZERO = Length(Fraction(0))


def round_to(value: Fraction, step: Fraction) -> Fraction:
    """The multiple of ``step`` nearest to ``value``; halves away from zero."""
    scaled = abs(value) / step
    nearest = (scaled + Fraction(1, 2)).__floor__()
    return (nearest if value >= 0 else -nearest) * step
