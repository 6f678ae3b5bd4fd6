"""Settings of putting together, finishing and fitting."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from drawleaf.model.place import Axis
from drawleaf.model.settings.base import Settings, Value
from drawleaf.model.tools import PutOn


@dataclass(frozen=True, slots=True)
class JoinSettings(Settings):
    glue: bool


@dataclass(frozen=True, slots=True)
class SquareSettings(Settings):
    """``plane``: the axis one looks along. ``closing``: the next part holds the corners. ``glued``: there is glue that has to set."""

    plane: Axis
    closing: bool
    glued: bool = True

    def named(self) -> Iterator[tuple[str, Value]]:
        yield from (("plane", self.plane.value), ("closing", self.closing), ("glued", self.glued))


@dataclass(frozen=True, slots=True)
class PlugSettings(Settings):
    """``late``: after the finish, glued and pared in one step."""

    count: int
    late: bool


@dataclass(frozen=True, slots=True)
class SandSettings(Settings):
    grits: str
    scope: str


@dataclass(frozen=True, slots=True)
class FillSettings(Settings):
    """``fill``: there are holes, heads or gaps to fill; ``gaps``: the author wants open joints filled."""

    grit: int
    fill: bool
    holes: Literal["brads", "heads", "both", "none"]
    gaps: bool = False


@dataclass(frozen=True, slots=True)
class CoatSettings(Settings):
    """How many coats; waits in words; ``masked``: bare parts beside them are covered first."""

    coats: int
    recoat: str
    cure: str
    scope: str
    method: PutOn
    masked: bool


@dataclass(frozen=True, slots=True)
class HangSettings(Settings):
    """``lid``: what is hung opens upwards."""

    lid: bool


@dataclass(frozen=True, slots=True)
class ShelfSettings(Settings):
    """``tilted``: a shelf comes in on edge. So many ``copies``."""

    tilted: bool
    copies: int
