"""Minutes of hands-on work by operation: our own estimate for one careful person who is new to it, not a measurement."""

from __future__ import annotations

BASIS = (
    "Our own estimate for one careful person: so many minutes to set up each operation and so many for each piece, "
    "plus the waits that glue and finish ask for."
)
HOURS_A_DAY = 5.0

# kind: (minutes to set up once, minutes for each piece)
MINUTES: dict[str, tuple[float, float]] = {
    "break-down": (20, 4),
    "crosscut": (4, 2),
    "rip": (8, 4),
    "rip-narrow": (8, 8),
    "rip-short": (8, 8),
    "glue-up": (20, 5),
    "trim-panel": (10, 10),
    "notch": (5, 8),
    "clip-corner": (5, 3),
    "dado": (15, 8),
    "groove": (15, 4),
    "rabbet": (12, 5),
    "shelf-pins": (8, 8),
    "bore": (5, 3),
    "pocket-holes": (6, 2),
    "round-over": (8, 4),
    "chamfer": (8, 4),
    "sand": (5, 5),
    "dry-fit": (10, 2),
    "assemble": (8, 8),
    "square": (5, 0),
    "fill": (10, 3),
    "coat": (10, 3),
    "fit-hardware": (8, 4),
    "slides": (10, 15),
    "hang-drawer": (10, 5),
    "set-shelves": (5, 2),
    "wall": (15, 5),
}

WAIT_PANEL = 24.0
WAIT_CLAMPED = 1.0
WAIT_OVERNIGHT = 12.0
"""Glue: an hour in clamps, a night before it is loaded, a day before a glued panel is machined. Common practice, no source."""


def minutes_for(kind: str, pieces: int) -> float:
    """Hands-on minutes for an operation on so many pieces. Raises KeyError for a kind that has no estimate."""
    once, each = MINUTES[kind]
    return once + each * pieces
