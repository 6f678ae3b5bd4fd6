"""Pieces, sheets and edge-to-edge cuts in whole numbers: what is laid, and which cut may follow which.

A kerf is folded in by adding it once to the sheet and to every piece, both ways; then pieces may touch. ``x`` runs along
the sheet's length, so a line of constant ``y`` is a rip.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import IntEnum
from random import Random


class Cutting(IntEnum):
    """Which cuts may follow which. ``RIP_FIRST``: first a full-length rip, then anything; ``RIPS_CROSSCUTS``: rips, then
    crosscuts, then one trim; the other two the same with crosscuts first; ``FREE``: anything."""

    FREE = 0
    RIPS_CROSSCUTS = 1
    CROSSCUTS_RIPS = 2
    RIP_FIRST = 3
    CROSSCUT_FIRST = 4


@dataclass(frozen=True, slots=True)
class Kind:
    """A size of piece that is wanted ``count`` times, kerf folded in. ``turns`` when its grain may run either way."""

    length: int
    width: int
    count: int
    turns: bool

    @property
    def area(self) -> int:
        return self.length * self.width

    @property
    def ways(self) -> tuple[tuple[int, int, bool], ...]:
        """The ways it may lie: (along, across, turned)."""
        straight = ((self.length, self.width, False),)
        return (*straight, (self.width, self.length, True)) if self.turns and self.length != self.width else straight


@dataclass(frozen=True, slots=True)
class Piece:
    """A piece of a kind at its place on a sheet, kerf folded in."""

    kind: int
    x: int
    y: int
    length: int
    width: int
    turned: bool


@dataclass(frozen=True, slots=True)
class Filled:
    """A sheet with pieces on it. ``size`` counts into the sizes on offer; ``used`` how many of each kind lie on it."""

    size: int
    sheet: tuple[int, int]
    pieces: tuple[Piece, ...]
    used: tuple[int, ...]
    area: int

    @property
    def fill(self) -> float:
        """The share of the sheet that the pieces cover."""
        return self.area / (self.sheet[0] * self.sheet[1])


@dataclass(frozen=True, slots=True)
class Tidy:
    """What makes a filling easy to cut, as shares of the sheet's area: what each setting and each cut costs, and how much of the largest piece
    of waste is forgiven because it stays whole."""

    setting: float
    cut: float
    offcut: float


@dataclass
class Effort:
    """What may still be spent, in tree nodes looked at: a budget that is the same on every machine."""

    left: int
    random: Random = field(default_factory=lambda: Random(1))

    @property
    def spent(self) -> bool:
        return self.left <= 0


# Stages of a rectangle: 0 the sheet and what is left of it; 1 a strip; 2 what lies over a piece in a strip; 3 free.
# For each: the splits allowed, as (rip, stage of what stays beside the piece, stage of what stays over it, the piece must fill it across).
Rule = tuple[bool, int, int, bool]
FREE_RULES: tuple[Rule, ...] = ((True, 3, 3, False), (False, 3, 3, False))
RULES: dict[Cutting, dict[int, tuple[Rule, ...]]] = {
    Cutting.FREE: {0: FREE_RULES, 3: FREE_RULES},
    Cutting.RIP_FIRST: {0: ((True, 3, 3, False),), 3: FREE_RULES},
    Cutting.CROSSCUT_FIRST: {0: ((False, 3, 3, False),), 3: FREE_RULES},
    Cutting.RIPS_CROSSCUTS: {
        0: ((True, 1, 0, False),),
        1: ((False, 1, 2, False),),
        2: ((True, 2, 2, True),),
    },
    Cutting.CROSSCUTS_RIPS: {
        0: ((False, 0, 1, False),),
        1: ((True, 2, 1, False),),
        2: ((False, 2, 2, True),),
    },
}

Counts = tuple[int, ...]
Level = bool | None
"""None: any piece that fits; else it must fill the rectangle along (True) or across (False)."""

LEVELS: dict[Cutting, dict[int, Level]] = {
    cutting: {stage: ruled[0][0] if ruled[0][3] else None for stage, ruled in rules.items()}
    for cutting, rules in RULES.items()
}
