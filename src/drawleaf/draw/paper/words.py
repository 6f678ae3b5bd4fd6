"""Words for titles and alternative texts, computed from the plan."""

from __future__ import annotations

from fractions import Fraction

from drawleaf.units import Length, LengthFormat


def size_words(form: LengthFormat, overall: tuple[float, float, float]) -> str:
    """``42 in wide, 17 in deep and 19 in high`` from millimetres."""
    wide, deep, high = (form.text(Length(Fraction(round(value * 1000), 1000))) for value in overall)
    return f"{wide} wide, {deep} deep and {high} high"
