"""Which keys of a hardware line each kind of item reads: one that would be swallowed is refused with the ones that there are."""

from __future__ import annotations

from drawleaf.english import listed
from drawleaf.model.catalogue import HardwareItem
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
    SHELF_PIN,
    SLIDES,
    TOP_FASTENER,
    UNDERMOUNT_SLIDES,
    WALL_SCREW,
    HardwareFamily,
)
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.sources import Sources
from drawleaf.source.models import FittingEntry

ALL = ("item", "on", "note", "after", "before", "mark", "helps", "name", "another_way")
_ROW = ("at", "repeat")
_SPREAD = (*_ROW, "count", "end_distance")
USED: dict[HardwareFamily, tuple[str, ...]] = {
    SLIDES: ("carries", "at", "opens"),
    UNDERMOUNT_SLIDES: ("carries", "opens"),
    SHELF_PIN: ("count",),
    BUTT_HINGE: ("carries", "face", "let_in", *_SPREAD),
    PIANO_HINGE: ("carries", "face", "let_in"),
    CONCEALED_HINGE: ("carries", "overlay", "boring", "setback", *_SPREAD),
    LID_STAY: ("other_half_on", "face", *_ROW),
    INSET_MAGNET: ("other_half_on", "face", "set_below", "held_by", "other_half_held_by", *_ROW),
    CLEAT_SCREW: ("other_half_on", "face", *_ROW),
    CATCH: ("other_half_on", "face", *_ROW),
    CORNER_BRACKET: ("other_half_on", "face", *_ROW),
    BOLTED_PULL: ("face", "along", "center_to_center", *_ROW),
    LEVELLER: _ROW,
    CASTOR: _ROW,
    BARREL_BOLT: ("carries", "face", *_SPREAD),
    LAG_SCREW: ("carries", *_SPREAD),
    RAIL_BRACKET: ("carries", *_SPREAD),
    WALL_SCREW: ("face", "count", *_ROW),
    TOP_FASTENER: ("carries", "face", *_SPREAD),
}
"""Beside those of ``ALL``, by family; one that is not here sits at a place on a face."""
ON_A_FACE = ("face", "backing", "count", *_ROW)


def refuse_unused(item: HardwareItem, entry: FittingEntry, sources: Sources, findings: Findings) -> bool:
    """Whether a line has a key that its kind of item does not read; reported."""
    used = USED.get(item.family, ON_A_FACE)
    unused = [key for key in sorted(entry.model_fields_set) if key not in (*ALL, *used)]
    for key in unused:
        findings.error(
            "unused-key",
            f"{item.name}: “{key}” does nothing here",
            sources.at(entry, key),
            f"This hardware is placed by {listed(sorted(f'“{one}”' for one in used))}.",
            f"Leave “{key}” out.",
        )
    return bool(unused)
