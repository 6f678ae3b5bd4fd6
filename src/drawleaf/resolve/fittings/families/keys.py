"""Which keys of a hardware line each kind of item reads: one that would be swallowed is refused with the ones that there are."""

from __future__ import annotations

from drawleaf.english import listed
from drawleaf.model.catalogue import HardwareItem
from drawleaf.resolve.names.findings import Findings
from drawleaf.resolve.names.sources import Sources
from drawleaf.source.models import FittingEntry

ALL = ("item", "on", "note", "after", "before", "name", "another_way")
_ROW = ("at", "repeat")
_SPREAD = (*_ROW, "count", "end_distance")
USED: dict[str, tuple[str, ...]] = {
    "slides": ("carries", "at", "opens"),
    "undermount slides": ("carries", "opens"),
    "shelf pin": ("count",),
    "butt hinge": ("carries", "face", "let_in", *_SPREAD),
    "piano hinge": ("carries", "face", "let_in"),
    "concealed hinge": ("carries", "overlay", "boring", "setback", *_SPREAD),
    "lid stay": ("other_half_on", "face", *_ROW),
    "inset magnet": ("other_half_on", "face", "set_below", *_ROW),
    "catch": ("other_half_on", "face", *_ROW),
    "corner bracket": ("other_half_on", "face", *_ROW),
    "bolted pull": ("face", "along", "center_to_center", *_ROW),
    "leveller": _ROW,
    "castor": _ROW,
    "barrel bolt": ("carries", "face", *_SPREAD),
    "lag screw": ("carries", *_SPREAD),
    "rail bracket": ("carries", *_SPREAD),
    "top fastener": ("carries", "face", *_SPREAD),
}
"""Beside those of ``ALL``, by kind; a kind that is not here sits at a place on a face."""
ON_A_FACE = ("face", "backing", "count", *_ROW)


def refuse_unused(item: HardwareItem, entry: FittingEntry, sources: Sources, findings: Findings) -> bool:
    """Whether a line has a key that its kind of item does not read; reported."""
    used = USED.get(item.kind, ON_A_FACE)
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
