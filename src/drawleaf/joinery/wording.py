"""Figures in the diagnostics of joints, in the unit that the source is written in."""

from __future__ import annotations

from fractions import Fraction
from typing import Literal

from drawleaf.units import Length, LengthFormat, Units

# Finer than a booklet prints: a gap of 1/64 must not come out as 0.
_FINE = {
    "in": LengthFormat(Units.INCH, Fraction(1, 64)),
    "mm": LengthFormat(Units.MM, Fraction(1, 64), Fraction(1, 10)),
}


def say(length: Length, unit: Literal["in", "mm"]) -> str:
    """``14-1/4 in`` where that is exact, else decimals with ``about``: ``about 0.203 in``."""
    form = _FINE[unit]
    if form.rounded(length, unit) == length:
        return form.text(length)
    if unit == "in":
        return f"about {float(length.inches):.3f} in"
    return f"about {length.mm:.2f} mm"
