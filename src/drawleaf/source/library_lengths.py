"""Lengths, sections and prices as the data files of ``shared/`` write them: plain figures with a unit, no arithmetic."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import lru_cache

from drawleaf.units import MM_PER_UNIT, Length

_FIGURE = r"(?:(?P<whole>\d+)[- ])?(?P<numerator>\d+)/(?P<denominator>[1-9]\d*)|(?P<decimal>\d+(?:\.\d+)?)"
_LENGTH = re.compile(rf"(?:{_FIGURE})\s*(?P<unit>in|ft|mm|cm|m)")
_PRICE = re.compile(r"(\d+(?:\.\d{1,2})?)(?:\s*/\s*(ft|m))?")


class DataProblem(ValueError):  # noqa: N818 - no fault of the program: it becomes a diagnostic
    """A value that cannot be read: the path of it within its entry, what is wrong, how to mend it."""

    def __init__(self, path: tuple[str | int, ...], message: str, mend: str) -> None:
        super().__init__(message)
        self.path, self.message, self.mend = path, message, mend


@lru_cache(maxsize=2048)
def literal_length(text: str) -> Length | None:
    """The exact length that ``18 mm``, ``3/4 in`` or ``1-1/2 in`` says, or None where it says none."""
    match = _LENGTH.fullmatch(text.strip())
    if match is None:
        return None
    if match["decimal"] is not None:
        figure = Fraction(match["decimal"])
    else:
        figure = int(match["whole"] or 0) + Fraction(int(match["numerator"]), int(match["denominator"]))
    return Length(figure * MM_PER_UNIT[match["unit"]])


def length_at(text: str, *path: str | int) -> Length:
    """The length that ``text`` says. Raises DataProblem."""
    length = literal_length(text)
    if length is None:
        raise DataProblem(path, f"“{text}” is no length", "Write a figure with its unit: 23/32 in, 1-1/2 in, 18 mm.")
    return length


def section_at(text: str, count: int, *path: str | int) -> tuple[Length, ...]:
    """So many lengths joined by `` x ``; a unit that is given once, at the end, applies to all. Raises DataProblem."""
    pieces = text.split(" x ")
    unit = re.search(r"[a-z]+$", text.strip())
    if len(pieces) != count or unit is None:
        example = " x ".join(["3/4", "1-1/2", "2"][:count])
        raise DataProblem(path, f"“{text}” is not {count} lengths", f"Write them like this: {example} in.")
    whole = (piece if re.search(r"[a-z]\s*$", piece) else f"{piece} {unit[0]}" for piece in pieces)
    return tuple(length_at(piece, *path) for piece in whole)


def price_at(text: str, length: Length | None, *path: str | int) -> Fraction:
    """The price that ``text`` says: of the piece, or by the foot or metre of ``length``, to the cent. Raises DataProblem."""
    match = _PRICE.fullmatch(text.strip())
    if match is None or (match[2] and length is None):
        by_length = ", or by length: 0.85 / ft, 3.40 / m" if length is not None else ""
        raise DataProblem(path, f"“{text}” is no price", f"Write a plain figure: 12.50{by_length}.")
    price = Fraction(match[1])
    if match[2] and length is not None:
        price = price * length.exact_mm / MM_PER_UNIT[match[2]]
    cents = (price * 100 + Fraction(1, 2)).__floor__()
    return Fraction(cents, 100)
