"""Tools, what they can do and hold, and the ways of working with them."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from drawleaf.units import Length


class Clamp(StrEnum):
    """Sorts of clamps: bars lie across panels and along diagonals, plain ones do the rest."""

    PLAIN = "plain"
    BAR = "bar"


class PutOn(StrEnum):
    """How a finish is put on."""

    WIPE = "wipe"
    BRUSH = "brush"
    PAD = "pad"
    SPRAY = "spray"


@dataclass(frozen=True, slots=True)
class Reach:
    """How far a tool cuts in one pass: ``wide`` across a board, None for as far as you like, and ``deep`` into it."""

    wide: Length | None
    deep: Length


@dataclass(frozen=True, slots=True)
class LeastPiece:
    """The smallest finished piece that a machine can hold safely."""

    long: Length
    wide: Length


@dataclass(frozen=True, slots=True)
class Tool:
    """A tool: whether it is powered, the cautions of every use, and what may stand in for it. Every shop has what is ``at_hand``:
    a pencil, a block sawn from scrap.

    ``uses`` adds cautions that belong to one use alone (``rip``, ``dado``, ``edge``); ``wear`` names what to put on first. ``steered`` is a
    machine along which long pieces have to be steered; ``clamp`` is of what sort it holds glued joints; ``puts_on`` is how it puts a finish on; ``leaves_round``
    is a cutter that leaves the inside corners of what it cuts round, and ``squares`` what squares them; ``marks_mate`` carries the place of a hole over to the part
    that comes against it.
    """

    id: str
    name: str
    power: bool
    group: str
    cautions: tuple[str, ...]
    stand_ins: tuple[str, ...]
    note: str
    wear: tuple[str, ...] = ()
    uses: tuple[tuple[str, tuple[str, ...]], ...] = ()
    at_hand: bool = False
    reach: Reach | None = None
    least_piece: LeastPiece | None = None
    steered: bool = False
    clamp: Clamp | None = None
    leaves_round: bool = False
    squares: bool = False
    puts_on: PutOn | None = None
    marks_mate: bool = False
    worded_as: str = ""
    """The id of another tool that is handled like it, whose words its steps take; empty for its own words."""
    lesson: str = ""
    """How its use is taught: a name of ``templates/lessons``."""

    @property
    def handled_as(self) -> str:
        """The id of the tool whose words its steps take."""
        return self.worded_as or self.id

    def cautions_for(self, *uses: str) -> tuple[str, ...]:
        """Ids of the cautions that these uses call for, the general ones first."""
        own = dict(self.uses)
        return tuple(dict.fromkeys([*self.cautions, *(caution for use in uses for caution in own.get(use, ()))]))


@dataclass(frozen=True, slots=True)
class Way:
    """One way to do a kind of work: its name as printed and the tool ids it takes, the one that does the work first.

    ``uses`` names uses of a tool that carry cautions of their own (``rip`` on a table saw). ``pace`` is how much longer it takes than
    the minutes of the work say; ``note`` what to know before one chooses it.
    """

    name: str
    tools: tuple[str, ...]
    uses: tuple[str, ...] = ()
    pace: float = 1.0
    note: str = ""
    known_as: str = ""
    """The name that ``shared/methods`` has, where the booklet's language has another."""
    practiced: bool = False
    """It asks for a hand that has done it before: no work for a first piece."""

    @property
    def id(self) -> str:
        return (self.known_as or self.name).lower().replace(" ", "-")


@dataclass(frozen=True, slots=True)
class KindOfWork:
    """A kind of work with the ways to do it, best first: hands-on minutes to set it up once, and for each piece."""

    id: str
    once: float
    each: float
    ways: tuple[Way, ...]
    lesson: str = ""
    """How it is taught, whatever tool does it: a name of ``templates/lessons``. Empty where the tool decides."""
