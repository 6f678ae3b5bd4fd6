"""Bought hardware, one file a family: where it goes, what it needs cut, the room it asks for. A new family is its
answers in ``model/hardware_family.py``, one file, a line here, and one in ``keys.py`` for the keys that it reads.

Slides on a drawer's sides (``resolve/fittings/slides.py``) and shelf pins (``resolve/fittings/fitting.py``) are older than this list and not in it.
"""

from __future__ import annotations

from collections.abc import Callable

from drawleaf.model.hardware_family import (
    BARREL_BOLT,
    BOLTED_PULL,
    BUTT_HINGE,
    CASTOR,
    CATCH,
    CLEAT_SCREW,
    CONCEALED_HINGE,
    CORNER_BRACKET,
    INSET_MAGNET,
    LAG_SCREW,
    LEVELLER,
    LID_STAY,
    PIANO_HINGE,
    RAIL_BRACKET,
    TOP_FASTENER,
    UNDERMOUNT_SLIDES,
    WALL_SCREW,
    HardwareFamily,
)
from drawleaf.resolve.fittings.families import (
    brackets,
    castors,
    catches,
    cleats,
    cup_hinges,
    knock_down,
    leaf_hinges,
    levellers,
    magnets,
    pulls,
    stays,
    table_tops,
    under_mount,
    wall_screws,
)
from drawleaf.resolve.fittings.families.task import Task, Tools, with_cuts

FAMILIES: dict[HardwareFamily, Callable[[Task], None]] = {
    BUTT_HINGE: leaf_hinges.fit,
    PIANO_HINGE: leaf_hinges.fit,
    CONCEALED_HINGE: cup_hinges.fit,
    UNDERMOUNT_SLIDES: under_mount.fit,
    LID_STAY: stays.fit,
    INSET_MAGNET: magnets.fit,
    CATCH: catches.fit,
    CORNER_BRACKET: brackets.fit,
    BOLTED_PULL: pulls.fit,
    LEVELLER: levellers.fit,
    CASTOR: castors.fit,
    CLEAT_SCREW: cleats.fit,
    TOP_FASTENER: table_tops.fit,
    WALL_SCREW: wall_screws.fit,
    BARREL_BOLT: knock_down.fit,
    LAG_SCREW: knock_down.fit,
    RAIL_BRACKET: knock_down.fit_brackets,
}
"""How the items of each family are fitted."""

__all__ = ["FAMILIES", "Task", "Tools", "with_cuts"]
