"""A mistake as a value: what, where, why, and how to mend it. Printing is elsewhere."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import Enum

from drawleaf.english import capitalized
from drawleaf.model.position import Position

LONGEST = 1000
"""Characters of a message or a cause; of a longer one the middle is left out."""


class Severity(Enum):
    """An error stops the compile; advice is printed and the compile goes on."""

    ERROR = "error"
    ADVICE = "advice"


class About(Enum):
    """What of a plan a mistake can be about."""

    PART = "part"
    JOINT = "joint"
    STEP = "step"
    KIT = "kit"


@dataclass(frozen=True, slots=True)
class Subject:
    """What a mistake is about: a part, a joint or a step by its id, or the plan's kit."""

    about: About
    id: str = ""


@dataclass(frozen=True, slots=True)
class Diagnostic:
    """``code`` is short and stable (``unknown-name``); ``message`` one line; ``cause`` and ``mend`` a sentence each, may be empty.

    ``related`` are further places with a word on each. ``position`` None where the room that found it knows none: it is then placed by
    its ``subject``, or at the plan's heading.
    The message starts with a capital, whichever room words it.
    """

    code: str
    message: str
    position: Position | None
    cause: str = ""
    mend: str = ""
    severity: Severity = Severity.ERROR
    related: tuple[tuple[Position, str], ...] = field(default=())
    subject: Subject | None = None

    def __post_init__(self) -> None:
        for key in ("message", "cause"):
            if len(text := getattr(self, key)) > LONGEST:
                object.__setattr__(self, key, f"{text[: LONGEST - 101]}…{text[-100:]}")
        if self.message[:1].islower():
            object.__setattr__(self, "message", capitalized(self.message))

    @property
    def is_error(self) -> bool:
        return self.severity is Severity.ERROR


def has_errors(diagnostics: list[Diagnostic] | tuple[Diagnostic, ...]) -> bool:
    """Whether any of them stops the compile."""
    return any(diagnostic.is_error for diagnostic in diagnostics)
