"""Values of expressions: exact numbers with a power of length, angles, answers of comparisons; and how they combine.

A bare number is one written without a unit. It has not yet decided what it is: beside a length it takes the plan's unit, beside a
plain number it is a plain number, as factor or divisor it is a plain number. What came out of a count or of a ratio is a plain number for good.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from drawleaf.units import MM_PER_UNIT, Length

Unit = Literal["in", "mm"]


LARGEST_MM = 10**9
_MOST_BITS = 4096


@dataclass(frozen=True, slots=True)
class Angle:
    """An exact angle in degrees."""

    degrees: Fraction

    @property
    def radians(self) -> float:
        """The angle in radians."""
        return math.radians(self.degrees)


# What names stand for, and what an expression gives to the rest of the program.
Value = Length | Angle | Fraction | int


@dataclass(frozen=True, slots=True)
class Measure:
    """An exact number of millimetres to a ``power``: 0 a plain number, 1 a length, 2 an area. ``bare`` (power 0 only): unit not yet decided."""

    amount: Fraction
    power: int = 0
    bare: bool = False


Quantity = Measure | Angle | bool


class KindError(Exception):
    """Two values that do not go together, or one of a kind that cannot stand where it does. Caught where positions are known."""

    def __init__(self, code: str, message: str, cause: str = "", mend: str = "") -> None:
        super().__init__(message)
        self.code, self.message, self.cause, self.mend = code, message, cause, mend


def quantity_of(value: Value) -> Quantity:
    """A value from outside as it takes part in arithmetic."""
    if isinstance(value, Length):
        return Measure(value.exact_mm, 1)
    return value if isinstance(value, Angle) else Measure(Fraction(value))


def kind_of(value: Quantity) -> str:
    """What a value is, in a word with its article."""
    if isinstance(value, bool):
        return "the answer of a comparison"
    if isinstance(value, Angle):
        return "an angle"
    if value.bare:
        return "a number without a unit"
    return {0: "a plain number", 1: "a length", 2: "an area", 3: "a volume"}.get(value.power, "no length")


def in_unit(value: Measure, unit: Unit) -> Measure:
    """A bare number as a length in the plan's unit; anything else as it is."""
    return Measure(value.amount * MM_PER_UNIT[unit], 1) if value.bare else value


def checked(value: Quantity) -> Quantity:
    """The value. Raises KindError where it is too large or too finely divided to be a measure of anything made of wood."""
    amount = value.degrees if isinstance(value, Angle) else Fraction(value) if isinstance(value, bool) else value.amount
    power = max(1, abs(value.power)) if isinstance(value, Measure) else 1
    if abs(amount) > LARGEST_MM**power:
        raise KindError(
            "too-large", "the result is larger than anything made of wood", "It is over 1,000 km.", "Check the figures."
        )
    if max(amount.numerator.bit_length(), amount.denominator.bit_length()) > _MOST_BITS:
        raise KindError(
            "too-fine", "the result has too many digits to be kept exactly", "", "Round it: round(…, 1/64)."
        )
    return value


def alike(a: Quantity, b: Quantity, unit: Unit) -> tuple[Quantity, Quantity]:
    """Two values of one kind, bare numbers having taken the other's unit. Raises KindError where they are of two kinds."""
    if isinstance(a, Measure) and isinstance(b, Measure):
        if a.bare and not b.bare and b.power == 1:
            a = in_unit(a, unit)
        elif b.bare and not a.bare and a.power == 1:
            b = in_unit(b, unit)
        if a.power == b.power:
            bare = a.bare and b.bare
            return Measure(a.amount, a.power, bare), Measure(b.amount, b.power, bare)
    elif isinstance(a, Angle) and isinstance(b, Angle):
        return a, b
    raise KindError("mixed-kinds", "these two are of different kinds")


def add(a: Quantity, b: Quantity, unit: Unit, sign: int = 1) -> Quantity:
    """Sum, or difference with ``sign`` -1."""
    a, b = alike(a, b, unit)
    if isinstance(a, Angle) and isinstance(b, Angle):
        return Angle(a.degrees + sign * b.degrees)
    assert isinstance(a, Measure)
    assert isinstance(b, Measure)
    return Measure(a.amount + sign * b.amount, a.power, a.bare)


def multiply(a: Quantity, b: Quantity) -> Quantity:
    """The product. Raises KindError for an angle with anything but a plain factor."""
    if isinstance(a, Angle) and isinstance(b, Measure) and b.power == 0:
        return Angle(a.degrees * b.amount)
    if isinstance(b, Angle) and isinstance(a, Measure) and a.power == 0:
        return Angle(b.degrees * a.amount)
    if not (isinstance(a, Measure) and isinstance(b, Measure)):
        raise KindError("mixed-kinds", "these two cannot be multiplied")
    return Measure(a.amount * b.amount, a.power + b.power, a.bare and b.bare)


def divide(a: Quantity, b: Quantity) -> Quantity:
    """Quotient. Raises KindError on division by zero."""
    divisor = b.degrees if isinstance(b, Angle) else b.amount if isinstance(b, Measure) else None
    if divisor == 0:
        raise KindError("division-by-zero", "division by zero")
    if isinstance(a, Angle) and isinstance(b, Angle):
        return Measure(a.degrees / b.degrees)
    if isinstance(a, Angle) and isinstance(b, Measure) and b.power == 0:
        return Angle(a.degrees / b.amount)
    if not (isinstance(a, Measure) and isinstance(b, Measure)):
        raise KindError("mixed-kinds", "these two cannot be divided")
    return Measure(a.amount / b.amount, a.power - b.power, a.bare and b.bare)


def negate(value: Quantity) -> Quantity:
    """The value with its sign turned. Raises KindError for what has none."""
    if isinstance(value, bool):
        raise KindError("wrong-kind", "a comparison has no sign", "", "Turn the comparison round: b < a for a < b.")
    return Angle(-value.degrees) if isinstance(value, Angle) else Measure(-value.amount, value.power, value.bare)


def compare(a: Quantity, operator: str, b: Quantity, unit: Unit) -> bool:
    """Whether ``a`` stands to ``b`` as the operator says."""
    a, b = alike(a, b, unit)
    left, right = size_of(a), size_of(b)
    match operator:
        case "<":
            return left < right
        case "<=":
            return left <= right
        case ">":
            return left > right
        case ">=":
            return left >= right
        case "=":
            return left == right
        case _:
            return left != right


def size_of(value: Quantity) -> Fraction:
    """The bare figure, for comparing values of one kind. Raises KindError for what cannot be compared."""
    if isinstance(value, bool):
        raise KindError("wrong-kind", "a comparison cannot be compared again", "", "Compare two values at a time.")
    return value.degrees if isinstance(value, Angle) else value.amount
