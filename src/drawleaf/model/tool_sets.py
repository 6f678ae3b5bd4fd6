"""What a buyer owns: tools, clamps by size, how long a straightedge."""

from __future__ import annotations

from dataclasses import dataclass

from drawleaf.units import Length


@dataclass(frozen=True, slots=True)
class KitClamps:
    """So many clamps of one size."""

    count: int
    opening: Length


@dataclass(frozen=True, slots=True)
class Kit:
    """What a buyer owns: tool ids, and clamps by size. ``straightedge`` is how long the straightedge or guide rail is; None: long enough."""

    id: str
    name: str
    summary: str
    tools: frozenset[str]
    clamps: tuple[KitClamps, ...] = ()
    straightedge: Length | None = None
