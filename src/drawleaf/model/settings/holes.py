"""Settings of holes, recesses and edges in loose parts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from drawleaf.model.settings.base import Settings, Value
from drawleaf.units import ZERO, Length


@dataclass(frozen=True, slots=True)
class ShelfPinSettings(Settings):
    bit: Length
    depth: Length | None


@dataclass(frozen=True, slots=True)
class BoreSettings(Settings):
    """``kind`` is ``hole`` or ``finger hole``; no ``depth``: right through. ``slant``: degrees off square to the face; None where it is square."""

    bit: Length
    kind: str
    depth: Length | None
    slant: Fraction | None = None


@dataclass(frozen=True, slots=True)
class PocketSettings(Settings):
    thickness: Length
    count: int


@dataclass(frozen=True, slots=True)
class ScrewHoleSettings(Settings):
    """Clearance holes for a gauge of screw; their heads lie ``sunk`` below the face, under a plug where there is a ``counterbore``."""

    gauge: int
    slots: bool
    sunk: Length = ZERO
    counterbore: Length | None = None


@dataclass(frozen=True, slots=True)
class RecessSettings(Settings):
    """``item`` is the kind of hardware that lies in the recess; empty where none does."""

    depth: Length
    item: str


@dataclass(frozen=True, slots=True)
class RoundRecessSettings(RecessSettings):
    bit: Length
    kind: str


@dataclass(frozen=True, slots=True)
class CutoutSettings(Settings):
    """The bit that bores the corners of an opening; None where its corners are sharp. ``edge``: it runs out through an edge of the part,
    so that the saw comes in from there. ``round_ends``: it is as wide as the bit, so that one hole rounds each end."""

    bit: Length | None
    edge: bool = False
    round_ends: bool = False


@dataclass(frozen=True, slots=True)
class EdgeSettings(Settings):
    """The radius, or how far from the corner a profile reaches. ``boards``: as of a channel."""

    size: Length
    boards: str = ""

    def on_boards(self, boards: str) -> EdgeSettings:
        """The same, run along full boards."""
        return replace(self, boards=boards)

    def named(self) -> Iterator[tuple[str, Value]]:
        yield "size", self.size
        if self.boards:
            yield "boards", self.boards
