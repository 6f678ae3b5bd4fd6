"""Scales of ISO 5455 (list from memory): the largest reduction of the list at which a view fits."""

from __future__ import annotations

REDUCTIONS = (1, 2, 5, 10, 20, 50, 100)


def scale_for(width: float, height: float, room_width: float, room_height: float) -> int:
    """The denominator of the scale for something so large (mm) in so much room on paper (mm)."""
    for reduction in REDUCTIONS:
        if width / reduction <= room_width + 1e-6 and height / reduction <= room_height + 1e-6:
            return reduction
    return REDUCTIONS[-1]


def next_smaller(reduction: int) -> int:
    """The next reduction of the list."""
    index = REDUCTIONS.index(reduction)
    return REDUCTIONS[min(index + 1, len(REDUCTIONS) - 1)]


def scale_text(reduction: int) -> str:
    """As printed: ``1 : 10``."""
    return f"1 : {reduction}"
