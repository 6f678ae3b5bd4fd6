"""Helps: scraps that hold or guide the work while it is done and are no part of the piece."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from drawleaf.model.place import Box, Face
from drawleaf.model.position import Position
from drawleaf.units import Length


class HelpKind(Enum):
    """What a help does: a fence lies along a part, a stop against its end, spacers between parts, a batten across them."""

    FENCE = "fence"
    STOP = "stop"
    SPACER = "spacer"
    BATTEN = "batten"
    JIG = "jig"

    @property
    def clamped(self) -> bool:
        """Whether it is held by clamps."""
        return self in (HelpKind.FENCE, HelpKind.STOP, HelpKind.BATTEN)


@dataclass(frozen=True, slots=True)
class HelpPlace:
    """Where one such scrap is set: the room that it takes, the part that it is set on (empty for a jig in the air), and the joint that it
    helps to close, where it is set for one alone. ``from_end``: how far its working edge is from that end or edge of the part."""

    box: Box
    part: str
    joint: str | None = None
    from_end: tuple[Face, Length] | None = None


@dataclass(frozen=True, slots=True)
class Help:
    """A help of one line of the source, as it is set for one part that comes, or between two parts.

    ``name`` is what it is called. ``serves`` are the ids of the joints and hardware, ``line`` the place of the line of machining, with whose
    work it is set. ``parts`` must all be there for it. ``face`` is the side of the ``subject`` (the part that comes, or the hardware) that a fence or stop lies
    against, or the side of the parts that a batten lies on; ``flush`` a stop that lies across both. ``size`` is length, width and thickness, None
    for a jig whose author gives none; ``exact`` is what must be exact of it, for spacers.
    """

    kind: HelpKind
    name: str
    position: Position
    serves: frozenset[str]
    line: Position | None
    parts: tuple[str, ...]
    places: tuple[HelpPlace, ...]
    size: tuple[Length, Length, Length] | None
    subject: str = ""
    face: Face | None = None
    flush: bool = False
    exact: Length | None = None
    note: str = ""
    late: bool = False
    """Whether it is set only when what comes is in its place, since it lies in the way that this comes."""


@dataclass(frozen=True, slots=True)
class HelpRow:
    """A help on the list of what to make: how many of that size, in which steps they serve. ``off`` is the layout whose offcut gives
    it (``sheet`` or ``board``, and its number), None where none is large enough."""

    kind: HelpKind
    name: str
    count: int
    size: tuple[Length, Length, Length] | None
    exact: Length | None
    note: str
    steps: tuple[int, ...]
    off: tuple[str, int] | None = None
