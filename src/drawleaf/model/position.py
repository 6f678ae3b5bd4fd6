"""Where in a source file a value was written. Carried by every resolved value so later stages can point at it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Position:
    """A place in a source file: lines and columns count from 1; ``length`` is how many characters to underline."""

    file: str
    line: int
    column: int
    length: int = 1

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"
