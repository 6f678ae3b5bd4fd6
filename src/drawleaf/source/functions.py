"""What the functions of the expression language do. Each takes the plan's unit and its arguments."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from drawleaf.source.values import (
    Angle,
    KindError,
    Measure,
    Quantity,
    Unit,
    alike,
    kind_of,
    size_of,
)
from drawleaf.units import MM_PER_UNIT, round_to

Arguments = Sequence[Quantity]


@dataclass(frozen=True, slots=True)
class Function:
    """A function and how many arguments it takes (``most`` None: any number). ``form`` shows how it is written."""

    form: str
    least: int
    most: int | None
    work: Callable[[Arguments, Unit], Quantity]


def _all_alike(values: Arguments, unit: Unit) -> list[Quantity]:
    """All of one kind, bare numbers having taken the unit of the others."""
    model = next((v for v in values if not (isinstance(v, Measure) and v.bare)), values[0])
    return [model if value is model else alike(model, value, unit)[1] for value in values]


def _minimum(values: Arguments, unit: Unit) -> Quantity:
    return min(_all_alike(values, unit), key=size_of)


def _maximum(values: Arguments, unit: Unit) -> Quantity:
    return max(_all_alike(values, unit), key=size_of)


def _stepped(step_of: Callable[[Fraction, Fraction], Fraction]) -> Callable[[Arguments, Unit], Quantity]:
    """A rounding function: to the step given, or to the whole unit, number or degree."""

    def work(values: Arguments, unit: Unit) -> Quantity:
        value, step = alike(values[0], values[1], unit) if len(values) == 2 else (values[0], None)
        if isinstance(value, Measure) and value.power > 1:
            raise KindError(
                "wrong-kind", f"{kind_of(value)} cannot be rounded", "", "Round the lengths that it is made of."
            )
        whole = MM_PER_UNIT[unit] if isinstance(value, Measure) and value.power == 1 else Fraction(1)
        by = size_of(step) if step is not None else whole
        if by <= 0:
            raise KindError("wrong-kind", "the step to round to must be more than zero", "", "Write round(x, 1/16).")
        return _with_size(value, step_of(size_of(value), by))

    return work


def _with_size(value: Quantity, size: Fraction) -> Quantity:
    if isinstance(value, Measure):
        return Measure(size, value.power, value.bare)
    return Angle(size)


def _absolute(values: Arguments, unit: Unit) -> Quantity:
    return _with_size(values[0], abs(size_of(values[0])))


def _square_root(values: Arguments, unit: Unit) -> Quantity:
    """Exact where the root is rational, else the nearest double."""
    value = values[0]
    if not isinstance(value, Measure):
        raise KindError("wrong-kind", f"{kind_of(value)} has no square root", "", "Take the root of an area or number.")
    if value.amount < 0:
        raise KindError("no-root", "a negative figure has no square root", "", "Check the order of the subtraction.")
    if value.power % 2:
        cause = "The square root of a length is no length; of a length times a length it is one."
        raise KindError("wrong-kind", f"{kind_of(value)} has no square root here", cause, "Write sqrt(a * a + b * b).")
    return Measure(root(value.amount), value.power // 2, value.bare)


def root(amount: Fraction) -> Fraction:
    """The square root of a fraction: exact where it is rational, else as the nearest double."""
    top, below = math.isqrt(amount.numerator), math.isqrt(amount.denominator)
    if top * top == amount.numerator and below * below == amount.denominator:
        return Fraction(top, below)
    return Fraction(math.sqrt(amount))


# Where sine and tangent are rational (Niven's theorem: these are all between 0 and 90 degrees).
_SINES = {0: Fraction(0), 30: Fraction(1, 2), 90: Fraction(1), 150: Fraction(1, 2), 180: Fraction(0), 210: Fraction(-1, 2), 270: Fraction(-1), 330: Fraction(-1, 2)}  # fmt: skip
_TANGENTS = {0: Fraction(0), 45: Fraction(1), 135: Fraction(-1)}


def _sine(values: Arguments, unit: Unit) -> Quantity:
    return Measure(sine(_angle(values[0], "sin")))


def _cosine(values: Arguments, unit: Unit) -> Quantity:
    return Measure(sine(_angle(values[0], "cos") + 90))


def sine(degrees: Fraction) -> Fraction:
    """Exact where it is rational, else as the nearest double."""
    turned = degrees % 360
    return _SINES[int(turned)] if turned in _SINES else Fraction(math.sin(math.radians(turned)))


def _tangent(values: Arguments, unit: Unit) -> Quantity:
    degrees = _angle(values[0], "tan") % 180
    if degrees == 90:
        raise KindError("no-tangent", "the tangent of 90 degrees has no end", "", "Check the angle.")
    exact = _TANGENTS.get(int(degrees)) if degrees.denominator == 1 else None
    return Measure(exact if exact is not None else Fraction(math.tan(math.radians(degrees))))


def _angle(value: Quantity, function: str) -> Fraction:
    if isinstance(value, Angle):
        return value.degrees
    if isinstance(value, Measure) and value.bare:
        written = f"{function}({value.amount} deg)"
        raise KindError(
            "wrong-kind",
            f"{function} needs a unit with its angle",
            "Degrees or radians are not told apart by a bare number.",
            f"Write {written}.",
        )
    raise KindError(
        "wrong-kind", f"{function} needs an angle and has {kind_of(value)}", "", f"Write {function}(15 deg)."
    )


def _arc(function: str, work: Callable[[float], float], most: int | None) -> Callable[[Arguments, Unit], Quantity]:
    def arc(values: Arguments, unit: Unit) -> Quantity:
        value = values[0]
        if not isinstance(value, Measure) or value.power:
            cause = "It takes a ratio: one length over another."
            raise KindError(
                "wrong-kind",
                f"{function} needs a plain number and has {kind_of(value)}",
                cause,
                f"Write {function}(rise / run).",
            )
        if most is not None and abs(value.amount) > most:
            raise KindError(
                "out-of-range", f"{function} takes numbers from -1 to 1", "", "Check which length is over which."
            )
        return Angle(_exact_arc(function, value.amount) or Fraction(math.degrees(work(float(value.amount)))))

    return arc


def _exact_arc(function: str, ratio: Fraction) -> Fraction | None:
    """The angles of rational sines, cosines and tangents that are whole degrees."""
    degrees = {
        "asin": {-1: -90, Fraction(-1, 2): -30, 0: 0, Fraction(1, 2): 30, 1: 90},
        "acos": {-1: 180, Fraction(-1, 2): 120, 0: 90, Fraction(1, 2): 60, 1: 0},
        "atan": {-1: -45, 0: 0, 1: 45},
    }[function].get(ratio)
    return None if degrees is None else Fraction(degrees)


def _either(values: Arguments, unit: Unit) -> Quantity:
    if not isinstance(values[0], bool):
        raise KindError("wrong-kind", "if needs a comparison first", "", "Write if(width > 36, 3, 2).")
    yes, no = alike(values[1], values[2], unit)
    return yes if values[0] else no


def _floor(value: Fraction, step: Fraction) -> Fraction:
    return math.floor(value / step) * step


def _ceiling(value: Fraction, step: Fraction) -> Fraction:
    return math.ceil(value / step) * step


FUNCTIONS: dict[str, Function] = {
    "min": Function("min(a, b, …)", 1, None, _minimum),
    "max": Function("max(a, b, …)", 1, None, _maximum),
    "round": Function("round(a) or round(a, step)", 1, 2, _stepped(round_to)),
    "ceil": Function("ceil(a) or ceil(a, step)", 1, 2, _stepped(_ceiling)),
    "floor": Function("floor(a) or floor(a, step)", 1, 2, _stepped(_floor)),
    "abs": Function("abs(a)", 1, 1, _absolute),
    "sqrt": Function("sqrt(a)", 1, 1, _square_root),
    "sin": Function("sin(angle)", 1, 1, _sine),
    "cos": Function("cos(angle)", 1, 1, _cosine),
    "tan": Function("tan(angle)", 1, 1, _tangent),
    "asin": Function("asin(ratio)", 1, 1, _arc("asin", math.asin, 1)),
    "acos": Function("acos(ratio)", 1, 1, _arc("acos", math.acos, 1)),
    "atan": Function("atan(ratio)", 1, 1, _arc("atan", math.atan, None)),
    "if": Function("if(comparison, a, b)", 3, 3, _either),
}
NAMES = frozenset(FUNCTIONS)
OTHER_WORDS = {
    **dict.fromkeys(("choose", "when", "either", "iif", "pick"), "if"),
    **dict.fromkeys(("ceiling", "roundup", "round_up", "up"), "ceil"),
    **dict.fromkeys(("rounddown", "round_down", "int", "trunc", "down"), "floor"),
    **dict.fromkeys(("least", "smallest", "lowest"), "min"),
    **dict.fromkeys(("most", "largest", "greatest"), "max"),
    **dict.fromkeys(("root", "sqr"), "sqrt"),
    **dict.fromkeys(("arcsin", "arcsine"), "asin"),
    **dict.fromkeys(("arccos", "arccosine"), "acos"),
    **dict.fromkeys(("arctan", "arctangent"), "atan"),
}
"""Words that people write for a function's name; ``choose`` was once the name of ``if``."""
