"""How a part is set on another, before it is put into words: level with its sides, or so far from one of its edges."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from drawleaf.book.words.format import Formatter
from drawleaf.units import Length


@dataclass(frozen=True, slots=True)
class Flush:
    """Level at these sides, each as a sentence names it: ``the left``, ``both ends``."""

    sides: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Measured:
    """One side of the part (or of ``several``) stands ``room`` from a side of what takes it; over it where ``room`` is less than zero."""

    mine: str
    several: bool
    room: Length
    theirs: str
    receiver: Markup


@dataclass(frozen=True, slots=True)
class Row:
    """One side of each of several parts in a row, from one side of what takes them: ``places`` in words."""

    mine: str
    places: Markup
    theirs: str
    receiver: Markup


Spot = Flush | Measured | Row


def spot_words(spot: Spot, fmt: Formatter) -> Markup:
    """``flush at the left``; ``Its top edge is 20 mm from the top edge of the Side``, a sentence of its own."""
    match spot:
        case Flush(sides):
            return Markup("flush at {}").format(fmt.join(list(sides)))
        case Row(mine, places, theirs, receiver):
            return Markup("Their {}s are {} from the {} of {}").format(mine, places, theirs, receiver)
        case Measured(mine, several, room, theirs, receiver) if not room:
            return Markup("{} {} the {} of {}").format(
                "Their" if several else "Its", f"{mine}s touch" if several else f"{mine} touches", theirs, receiver
            )
        case Measured(mine, several, room, theirs, receiver):
            return Markup("{} {} {} {} {} the {} of {}").format(
                "Their" if several else "Its",
                f"{mine}s" if several else mine,
                "are" if several else "is",
                fmt.length(abs(room)),
                "over" if room.exact_mm < 0 else "from",
                theirs,
                receiver,
            )
