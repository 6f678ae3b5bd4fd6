"""What is asked of fasteners at one meeting of two parts, and what is planned for it. Shared by screws, pockets, pins and what leans."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Literal

from drawleaf.joinery.family import Meeting, Terms
from drawleaf.joinery.friendly import INCHES, Ruler
from drawleaf.joinery.heads import Heads
from drawleaf.model.catalogue import HardwareItem
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.place import Axis, Face, Point, Span
from drawleaf.model.plan import Bore, Fastener, Feature
from drawleaf.model.position import Position
from drawleaf.units import ZERO, Length

Kind = Literal["screws", "brads", "pocket_screws", "dowels", "pegs", "tenons"]


@dataclass(frozen=True, slots=True)
class FasteningTerms:
    """What one entry of ``with:`` says. ``through`` are the ids that the author's name stands for, None where none was given."""

    kind: Kind
    position: Position
    item: HardwareItem | None = None
    count: int | None = None
    every: Length | None = None
    ends: Length | None = None
    through: frozenset[str] | None = None
    on: Face | None = None
    slotted: bool = False
    rows: tuple[tuple[Face, Length], ...] = ()
    drawbore: Length = ZERO
    heads: Heads = Heads()


@dataclass(frozen=True, slots=True)
class Planned:
    """A fastener that may still be moved along ``slide`` within ``limits``, with the pocket that it sits in, if it does, or the holes
    ``made`` for it.

    An ``optional`` one, on a meeting too short for a row, is left out where there is no room for it.
    """

    fastener: Fastener
    slide: Axis
    limits: Span
    pocket: tuple[str, Bore] | None = None
    optional: bool = False
    made: tuple[tuple[str, Feature], ...] = ()

    def moved(self, by: Length) -> Planned:
        step = Point(ZERO, ZERO, ZERO).moved(self.slide, by)
        fastener = replace(self.fastener, at=self.fastener.at.shifted(step))
        pocket = (self.pocket[0], self.pocket[1].moved(step)) if self.pocket else None
        made = tuple((part, feature.moved(step)) for part, feature in self.made)
        return replace(self, fastener=fastener, pocket=pocket, made=made)


Result = tuple[tuple[Planned, ...], tuple[Diagnostic, ...]]
"""The fasteners of one entry at one meeting, and what speaks against them."""


@dataclass(frozen=True, slots=True)
class Asked:
    """One entry of ``with:`` at one meeting of a ``joint``, the hardware to choose from, and the ``ruler`` with which one marks out."""

    meeting: Meeting
    terms: Terms
    fastening: FasteningTerms
    hardware: Mapping[str, HardwareItem]
    joint: str
    ruler: Ruler = INCHES


def point_of(fastener: Fastener) -> tuple[float, float, float]:
    """Where a fastener's point ends, in millimetres."""
    length = fastener.item.length.mm if fastener.item.length else 0.0
    x, y, z = (at + length * step for at, step in zip(fastener.at.mm, fastener.direction, strict=True))
    return (x, y, z)
