"""One booklet of a catalogue: a plan in one choice of edition, units, paper and tools, and the folder that it stands in."""

from __future__ import annotations

from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from drawleaf.compiler import Choice


@dataclass(frozen=True, slots=True)
class Booklet:
    """``folder`` is the plan's, ``target`` the one that the booklet's files stand in; ``buyers`` is a list of those who get copies of it."""

    folder: Path
    choice: Choice
    target: Path
    buyers: Path | None = None

    @property
    def name(self) -> str:
        """What it is called in what is told of it: the name of its folder."""
        return self.target.name

    @property
    def key(self) -> str:
        """By what the store knows it: the plan's name and what was chosen. What it is made of is told apart by content."""
        choice = self.choice
        words = (
            choice.edition,
            choice.units and choice.units.value,
            choice.paper,
            choice.kit,
            choice.kit_file is not None,
        )
        return sha256(repr((self.folder.name, *words)).encode()).hexdigest()[:32]
