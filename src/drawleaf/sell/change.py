"""One change between two revisions, and what it means for someone who is in the middle of building."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum

from drawleaf.sell.piece import Piece, StepFact
from drawleaf.sell.remaking import Verdict


class Subject(Enum):
    """What a change is of, in the order in which it is told."""

    CAUTION = "caution"
    PART = "part"
    JOINT = "joint"
    HARDWARE = "hardware"
    STOCK = "stock"
    LAYOUT = "layout"
    STEP = "step"


class Kind(Enum):
    """What happened to it."""

    ADDED = "added"
    DROPPED = "dropped"
    CHANGED = "changed"
    RENAMED = "renamed"


@dataclass(frozen=True, slots=True)
class Change:
    """``what`` changed with old and new figures, ``todo`` if the old one is already made, both as sentences in the plan's language. ``old_step``
    is the step of the old booklet from which it matters, ``new_step`` that of the new one. ``old`` and ``new`` are the parts, where it is one.
    Things that changed alike are told in one: ``names`` are theirs, each once, ``count`` is how many they are."""

    subject: Subject
    kind: Kind
    names: tuple[str, ...]
    what: str
    todo: str
    old_step: StepFact | None = None
    new_step: StepFact | None = None
    safety: bool = False
    old: Piece | None = None
    new: Piece | None = None
    verdict: Verdict | None = None
    count: int = 1

    @property
    def name(self) -> str:
        """``Front; Back``."""
        return "; ".join(self.names)

    def and_also(self, other: Change) -> Change:
        """With another that changed alike."""
        return replace(self, count=self.count + other.count, names=tuple(dict.fromkeys((*self.names, *other.names))))
