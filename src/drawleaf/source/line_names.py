"""Names of lines: joints, machining, hardware, finish and notes that an edition changes, leaves out or takes in another way."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Any, Protocol, TypeVar

from drawleaf.source.models import (
    AssemblyChange,
    AssemblyEntry,
    EditionEntry,
    FinishEntry,
    FittingEntry,
    JointEntry,
    MachiningEntry,
    NoteEntry,
    PlanSource,
)


class NamedLine(Protocol):
    """A line of a list that may have a name."""

    name: str | None


Line = JointEntry | MachiningEntry | FittingEntry | FinishEntry | NoteEntry


One = TypeVar("One", bound=NamedLine)


def ways_of(line: One) -> list[One]:
    """The other ways that a line offers, the first first."""
    found: list[One] = []
    way: Any = getattr(line, "another_way", None)
    while way is not None:
        found.append(way)
        way = way.another_way
    return found


def lines_in(assembly: AssemblyEntry | AssemblyChange) -> Iterator[JointEntry | MachiningEntry | FittingEntry]:
    """The lines of one assembly, not of those inside it."""
    yield from (*assembly.joints, *assembly.machining, *assembly.hardware)


def all_lines(plan: PlanSource) -> Iterator[Line]:
    """Every line of a plan that may have a name, other ways left out."""
    yield from _inside(plan.assemblies.values())
    yield from (*plan.finish, *plan.notes)


def lines_of_edition(edition: EditionEntry) -> Iterator[Line]:
    """Every line that an edition writes itself, other ways left out."""
    for change in edition.assemblies.values():
        yield from lines_in(change)
    yield from (*edition.finish, *edition.notes)


def names_of(lines: Iterable[Line]) -> Sequence[str]:
    """The names of lines, in order; a name that stands twice comes twice."""
    return [line.name for line in lines if line.name is not None]


def _inside(assemblies: Iterable[AssemblyEntry]) -> Iterator[Line]:
    for assembly in assemblies:
        yield from lines_in(assembly)
        yield from _inside(assembly.assemblies.values())
