"""What a booklet for a learner says of a step: what is new in it, who leads, and what a second pair of hands holds."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from drawleaf.model.steps import Operation


class Turn(Enum):
    """How often this kind of work has come before: it is ``SHOWN`` first, then ``TRIED`` under eyes, then the learner's ``OWN``."""

    SHOWN = 1
    TRIED = 2
    OWN = 3


class Hold(Enum):
    """What asks for a second pair of hands: a whole ``SHEET`` at the saw, a ``LONG`` part at a machine, what is ``HEAVY``, or ``CLAMPS``
    that must close on parts which would shift."""

    SHEET = "sheet"
    LONG = "long"
    HEAVY = "heavy"
    CLAMPS = "clamps"


@dataclass(frozen=True, slots=True)
class Lesson:
    """One kind of work in a step. ``operation`` stands for it; ``shown_in`` is the number of the step that taught it first. It has a
    ``new_setting`` where tools are set otherwise than there."""

    operation: Operation
    turn: Turn
    shown_in: int
    new_setting: bool


@dataclass(frozen=True, slots=True)
class Taught:
    """What is taught in a step; ``held`` are the part ids that the second pair of hands holds. ``together``: both stand at this step."""

    lessons: tuple[Lesson, ...]
    hold: Hold | None
    held: tuple[str, ...]
    together: bool
