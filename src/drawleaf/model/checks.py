"""Workshop checks: what the author sets for them, and what each one found. Figures stay lengths and quantities; words are templates."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from typing import Literal

from drawleaf.model.position import Position
from drawleaf.units import Length


class Verdict(Enum):
    """Advice is printed and the compile goes on; a stop ends it, unless the source waives it with a reason."""

    PASS = "pass"
    ADVICE = "advice"
    STOP = "stop"


@dataclass(frozen=True, slots=True)
class Fine:
    """A length too small for shop fractions: a sag, a seasonal movement. Printed as a decimal."""

    length: Length


QuantityKind = Literal["mass", "force", "area load", "line load", "percent", "factor", "degrees"]


@dataclass(frozen=True, slots=True)
class Quantity:
    """A figure with its kind: mass in kg, force in N, area load in N/m2, line load in N/m, percent, factor (a bare ratio), degrees."""

    value: float
    kind: QuantityKind


Value = Length | Fine | Quantity | int | str


@dataclass(frozen=True, slots=True)
class Sentence:
    """Plain words with named places: ``The {part} sags {sag}.``; lengths stay lengths until they are printed."""

    template: str
    values: tuple[tuple[str, Value], ...] = ()

    def __bool__(self) -> bool:
        return bool(self.template)


NOTHING = Sentence("")


@dataclass(frozen=True, slots=True)
class Figure:
    """A named value of a check: ``sag on the first day``, ``limit``."""

    name: str
    value: Value


@dataclass(frozen=True, slots=True)
class CheckResult:
    """What one check found about some parts.

    ``check`` is the name that a waiver uses (``shelf-sag``); ``title`` what was checked; ``what`` the parts in words and ``parts`` their
    ids; ``limit`` what the figures are held against, ``source`` where limit and method come from and how that is known; ``words`` the
    finding, ``remedy`` what to do. ``waived`` is the author's reason. ``steps`` are ids of the steps where it matters;
    ``caution`` the id of a caution that those steps must carry. ``at_step`` is what the first of those steps tells the buyer, even where
    the check passes; ``fit`` are ids of parts that are to be fitted to their opening, not cut to their printed size.
    """

    check: str
    title: str
    verdict: Verdict
    what: str
    parts: tuple[str, ...]
    figures: tuple[Figure, ...]
    limit: Sentence
    source: str
    words: Sentence
    remedy: Sentence
    position: Position | None
    waived: str | None = None
    steps: tuple[str, ...] = ()
    caution: str = ""
    at_step: Sentence = NOTHING
    fit: tuple[str, ...] = ()

    @property
    def advice(self) -> Sentence:
        """What a buyer can do about it. A remedy changes the plan, so it is for the author alone."""
        return self.at_step

    @property
    def open(self) -> bool:
        """Whether it is still to be dealt with."""
        return self.verdict is not Verdict.PASS and self.waived is None


LoadKind = Literal["area", "line", "total", "sitting", "lying"]


@dataclass(frozen=True, slots=True)
class Load:
    """What the author puts on some parts. ``value`` in N/m2 (area), N per metre of length (line) or N (total, sitting, lying).

    ``word`` is how it was written, ``source`` where a named load has its figure from.
    """

    parts: tuple[str, ...]
    kind: LoadKind
    value: float
    word: str
    source: str
    position: Position | None = None

    @property
    def person(self) -> bool:
        """Whether it is somebody, and no thing."""
        return self.kind in ("sitting", "lying")


@dataclass(frozen=True, slots=True)
class Waiver:
    """A finding that the author accepts, with the reason, for whoever works on the plan. No ``parts``: all of the check's findings."""

    check: str
    parts: tuple[str, ...]
    reason: str
    position: Position


@dataclass(frozen=True, slots=True)
class CheckSettings:
    """``checks:`` of the source. ``humidity`` is the driest and dampest relative humidity in percent where the piece will stand."""

    climate: str = "heated"
    humidity: tuple[float, float] = (30.0, 60.0)
    loads: tuple[Load, ...] = ()
    waivers: tuple[Waiver, ...] = ()
