"""Words for titles and alternative texts, computed from the plan."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from drawleaf.units import Length, LengthFormat


def listed(words: Sequence[str], most: int = 8) -> str:
    """``a, b and c``; beyond ``most`` the rest is counted."""
    if len(words) > most:
        return f"{', '.join(words[:most])} and {len(words) - most} more"
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


def size_words(form: LengthFormat, overall: tuple[float, float, float]) -> str:
    """``42 in wide, 17 in deep and 19 in high`` from millimetres."""
    wide, deep, high = (form.text(Length(Fraction(round(value * 1000), 1000))) for value in overall)
    return f"{wide} wide, {deep} deep and {high} high"


def count_words(count: int, one: str, many: str | None = None) -> str:
    """``1 sheet``, ``3 sheets``."""
    return f"{count} {one if count == 1 else many or one + 's'}"


def lower_first(text: str) -> str:
    """A name within a sentence: first letter small, unless it is a sign or an abbreviation."""
    return text[:1].lower() + text[1:] if text[1:2].islower() else text
