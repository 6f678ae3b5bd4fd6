"""Bought hardware, one file a family: where it goes, what it needs cut, the room it asks for. A new family is one file and a line here.

Slides on a drawer's sides (``resolve/fittings/slides.py``) and shelf pins (``resolve/fittings/fitting.py``) are older than this list and stand beside it.
"""

from __future__ import annotations

from collections.abc import Callable

from drawleaf.resolve.fittings.families import (
    brackets,
    castors,
    catches,
    cup_hinges,
    leaf_hinges,
    levellers,
    magnets,
    pulls,
    stays,
    table_tops,
    under_mount,
)
from drawleaf.resolve.fittings.families.task import Task, Tools, with_cuts

FAMILIES: dict[str, Callable[[Task], None]] = {
    "butt hinge": leaf_hinges.fit,
    "piano hinge": leaf_hinges.fit,
    "concealed hinge": cup_hinges.fit,
    "undermount slides": under_mount.fit,
    "lid stay": stays.fit,
    "inset magnet": magnets.fit,
    "catch": catches.fit,
    "corner bracket": brackets.fit,
    "bolted pull": pulls.fit,
    "leveller": levellers.fit,
    "castor": castors.fit,
    "top fastener": table_tops.fit,
}
"""How each kind of item is fitted."""

__all__ = ["FAMILIES", "Task", "Tools", "with_cuts"]
