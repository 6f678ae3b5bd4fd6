"""How woods and finishes look: what a photo-like picture needs to know of a material, as its data files give it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum


class Build(Enum):
    """How a material is made up: sawn from the tree, veneers glued crosswise, or fibres pressed to a board."""

    SOLID = "solid"
    ROTARY = "rotary plywood"
    SLICED = "sliced plywood"
    PRESSED = "pressed"


@dataclass(frozen=True, slots=True)
class Rays:
    """Rays that are large enough to be seen. ``dark`` is how much darker than the wood they are (negative: lighter); ``long`` along the grain
    and ``wide`` across it in mm; ``share`` of the places where one could be that have one."""

    dark: float
    long: float
    wide: float
    share: float


@dataclass(frozen=True, slots=True)
class Pores:
    """Pores that are large enough to be seen: how ``dark``, how ``long`` and ``wide`` in mm; ``early``: only where each ring begins."""

    dark: float
    long: float
    wide: float
    early: bool


@dataclass(frozen=True, slots=True)
class WoodLook:
    """How a wood looks under a clear finish.

    ``light`` and ``dark`` are the colours (sRGB, 0 to 255) between which all of it lies. ``rings`` is the usual width of a year's ring in mm;
    ``late`` how dark the ring gets to its end, ``sharp`` how late in the year that begins. ``streaks`` and ``clouds`` are how much fine streaks
    and broad tones matter. ``trunk`` is the usual distance in mm from a board to the middle of its tree. ``knots`` there are so many in
    a metre of a board. ``strips`` is the width in mm of the strips that a panel is glued up from at the factory, ``plies`` the thickness in mm of the
    veneers of plywood; 0 for neither.
    """

    id: str
    light: tuple[int, int, int]
    dark: tuple[int, int, int]
    rings: float = 2.5
    late: float = 0.3
    sharp: float = 2.0
    streaks: float = 0.2
    clouds: float = 0.25
    rays: Rays | None = None
    pores: Pores | None = None
    knots: float = 0.0
    trunk: float = 85.0
    strips: float = 0.0
    plies: float = 0.0
    build: Build = Build.SOLID
    source: str = ""


@dataclass(frozen=True, slots=True)
class FinishLook:
    """What a finish does to the look of wood.

    ``color`` (sRGB, 0 to 255) is that of a stain or paint, None for what is clear; ``hides`` how much of the wood's own colour and grain it takes
    away, from 0 to 1. ``deepens`` is how much it wets the wood: darker and warmer. ``gloss`` is from 0, dull as bare wood, to 1, like glass.
    """

    color: tuple[int, int, int] | None = None
    hides: float = 0.0
    deepens: float = 0.0
    gloss: float | None = None
