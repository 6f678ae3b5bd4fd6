"""Settings of joints in loose parts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from drawleaf.model.place import Face
from drawleaf.model.settings.base import Settings, Value
from drawleaf.units import Length


@dataclass(frozen=True, slots=True)
class ChannelSettings(Settings):
    """``offset`` runs from the nearer edge to the near side of the channel; ``stops`` are how far short of an end it stops. ``boards`` are the numbers
    of the full boards that it is run along before the parts are cut off; empty where it is cut in the parts."""

    kind: str
    width: Length
    depth: Length
    offset: Length
    stops: tuple[Length, ...]
    boards: str = ""

    def on_boards(self, boards: str) -> ChannelSettings:
        """The same, run along full boards."""
        return replace(self, boards=boards)

    def named(self) -> Iterator[tuple[str, Value]]:
        yield from (("kind", self.kind), ("width", self.width), ("depth", self.depth), ("offset", self.offset))
        yield from (("stop", room) for room in self.stops)
        if self.boards:
            yield "boards", self.boards


@dataclass(frozen=True, slots=True)
class StandingRabbetSettings(Settings):
    """A rabbet in what stands: ``insert`` is the part that lies in it, ``edge`` the side it is open to."""

    width: Length
    depth: Length
    insert: str
    edge: Face

    def named(self) -> Iterator[tuple[str, Value]]:
        yield from (("width", self.width), ("depth", self.depth), ("insert", self.insert), ("edge", self.edge.value))


@dataclass(frozen=True, slots=True)
class HousingSettings(Settings):
    width: Length
    depth: Length
    angle: Fraction


@dataclass(frozen=True, slots=True)
class MortiseSettings(Settings):
    """``width`` of the chisel or bit; the walls stand ``apart``, ``offset`` from the nearer face; no ``depth``: right through."""

    width: Length
    apart: Length
    offset: Length
    depth: Length | None


@dataclass(frozen=True, slots=True)
class TenonSettings(Settings):
    """A tenon or tongue: the depths of its two ``cheeks``, the nearer face first; what is sawn off at its low and high ``edges``; where its
    tenons stand (``places``), from the low edge of the part; whether it stands on an end, across the grain (``on_end``)."""

    thickness: Length
    length: Length
    haunch: Length
    cheeks: tuple[Length, Length]
    edges: tuple[Length, Length]
    places: tuple[tuple[Length, Length], ...]
    on_end: bool

    def named(self) -> Iterator[tuple[str, Value]]:
        yield from (("thickness", self.thickness), ("length", self.length), ("cheek", self.cheeks[0]))
        yield "haunch", self.haunch


@dataclass(frozen=True, slots=True)
class LapSettings(Settings):
    depth: Length


@dataclass(frozen=True, slots=True)
class ForkSettings(Settings):
    """How wide a bridle's fork is."""

    thickness: Length


@dataclass(frozen=True, slots=True)
class FingerSettings(Settings):
    """How far the fingers reach: as thick as the part that comes against them."""

    depth: Length


@dataclass(frozen=True, slots=True)
class TailSettings(Settings):
    """How far the tails reach beyond their shoulder line; their sides lean one in ``slope``, given as a fraction of the length."""

    depth: Length
    slope: Fraction


@dataclass(frozen=True, slots=True)
class SocketSettings(TailSettings):
    """``blind``: the sockets stop before the far face."""

    blind: bool


@dataclass(frozen=True, slots=True)
class SplineSlotSettings(Settings):
    """``level``: the slot lies level with the faces of its part."""

    thickness: Length
    depth: Length
    level: bool


@dataclass(frozen=True, slots=True)
class StripSettings(Settings):
    """Strips, ``strips`` of them, that ``count`` loose tenons are cut off. ``strip`` is the length of each as milled; ``board`` the number of the board whose offcut gives it,
    0 where a piece is bought; ``stock`` what it is of."""

    thickness: Length
    width: Length
    length: Length
    strip: Length
    count: int
    strips: int
    board: int
    stock: str


@dataclass(frozen=True, slots=True)
class PinHoleSettings(Settings):
    """Holes for dowels or pegs. ``drawn``: how much nearer to the shoulder the holes of the tenons stand, None where they do not;
    ``slots``: how long the slots in the outer tenons are, the longest first."""

    bit: Length
    drawn: Length | None = None
    slots: tuple[Length, ...] = ()
    from_mate: bool = False
    """Whether the author has the second part marked from the holes of the first."""

    def named(self) -> Iterator[tuple[str, Value]]:
        yield "bit", self.bit
        if self.drawn is not None:
            yield "drawn", self.drawn
        yield from (("slot", slot) for slot in self.slots)
