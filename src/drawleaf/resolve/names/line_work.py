"""What a line of the source does, and so where its joints, cuts and hardware say that they come from."""

from __future__ import annotations

from drawleaf.joinery import FAMILIES
from drawleaf.source.machining_models import EDGE_KINDS
from drawleaf.source.models import FittingEntry, JointEntry, MachiningEntry

STANDING_WORK = ("cutout", "bore", "finger_hole", "notch", "recess", "shelf_pins", *EDGE_KINDS)
"""What can be cut into a part that stands already. An outline is sawn, and an end cut at an angle, while the part is loose."""
LOOSE_WORK = ("shape", "taper", "angle_cut")
_KEYS = {
    JointEntry: tuple(one.facts.key for one in FAMILIES),
    MachiningEntry: (*STANDING_WORK, *LOOSE_WORK),
    FittingEntry: ("item",),
}


def work_key(line: JointEntry | MachiningEntry | FittingEntry) -> str:
    """The key that says what a sound line does: the family of a joint, the kind of machining, the item. What it makes has its position."""
    return next(key for key in _KEYS[type(line)] if getattr(line, key) is not None)
