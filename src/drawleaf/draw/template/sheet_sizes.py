"""How a full-size template is shared out over sheets of paper."""

from __future__ import annotations

from math import ceil

SHEET = (150.0, 140.0)
"""How much of a template a sheet holds at most, in millimetres; the rest of the sheet is for the words and the ruler."""
OVERLAP = 12.0
"""Millimetres that neighbouring sheets share."""


def shares(low: float, high: float, room: float) -> list[tuple[float, float]]:
    """A stretch in millimetres cut into equal ones of at most ``room`` that overlap."""
    if high - low <= room:
        return [(low, high)]
    count = ceil((high - low - OVERLAP) / (room - OVERLAP))
    each = (high - low + (count - 1) * OVERLAP) / count
    return [(low + k * (each - OVERLAP), low + k * (each - OVERLAP) + each) for k in range(count)]


def sheet_count(wide: float, high: float) -> int:
    """On how many sheets a template of that size in millimetres is printed."""
    return len(shares(0.0, wide, SHEET[0])) * len(shares(0.0, high, SHEET[1]))
