"""The words that ``kind`` of an item in ``shared/hardware`` may be: what joins wood, what holds hardware, and every family of hardware."""

from __future__ import annotations

from drawleaf.model.catalogue import PLUG, WASHER, FastenerKind
from drawleaf.model.hardware_family import HARDWARE_FAMILIES

OTHER_KIND = "other"
"""What no family knows: it is screwed on, or set in, as its packet says."""
FASTENER_KINDS: tuple[str, ...] = (*FastenerKind, WASHER, PLUG, "hinge screw", "hinge-plate screw")
"""What joins wood to wood, or holds hardware, and is never on a line of hardware by itself."""
MOUNTED_KINDS: tuple[str, ...] = (*(family.key for family in HARDWARE_FAMILIES), "glide", OTHER_KIND)
"""What stands on a line of hardware."""
HARDWARE_KINDS = (*FASTENER_KINDS, *MOUNTED_KINDS)
