"""What may be asked of a picture, in words that the command line takes as they are. Imports nothing heavy, so that its help is quick."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Side(StrEnum):
    """From where the piece is seen."""

    FRONT_LEFT = "front-left"
    FRONT_RIGHT = "front-right"
    FRONT = "front"
    BACK_LEFT = "back-left"
    BACK_RIGHT = "back-right"


class Surroundings(StrEnum):
    """Where the picture is taken."""

    ROOM = "room"
    SWEEP = "sweep"


@dataclass(frozen=True, slots=True)
class Wish:
    """What is asked for: the ``size`` in pixels, and so on; None leaves the choice to the program."""

    size: tuple[int, int]
    side: Side | None = None
    where: Surroundings | None = None
    open: bool = False
    exploded: bool = False
    cue: bool = False
