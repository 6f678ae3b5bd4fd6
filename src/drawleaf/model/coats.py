"""Lines of the finish schedule, as resolved."""

from __future__ import annotations

from dataclasses import dataclass

from drawleaf.model.catalogue import FinishProduct
from drawleaf.model.position import Position
from drawleaf.model.tools import PutOn


@dataclass(frozen=True, slots=True)
class FinishCoat:
    """One line of the finish schedule: sand through grits, or so many coats of a product, on some parts.

    ``parts`` are part ids. Exactly one of ``product`` and ``grits`` is given.
    """

    product: FinishProduct | None
    grits: tuple[int, ...]
    coats: int
    parts: tuple[str, ...]
    scope: str
    before_assembly: bool
    note: str
    position: Position
    by: PutOn | None = None
    """How the author wants it put on; None leaves it to the maker and the tools."""
    timed: bool = False
    """Whether the author says when it is done: before assembly or not, or after which part."""


@dataclass(frozen=True, slots=True)
class Filling:
    """A line of the schedule by which gaps at joints are filled, when the glue is dry and before the last sanding. ``parts`` are part ids;
    ``place`` is how many lines that sand or coat come before it."""

    parts: tuple[str, ...]
    note: str
    position: Position
    place: int
