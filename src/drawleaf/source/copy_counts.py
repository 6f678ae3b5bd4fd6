"""How many copies a repeat asks for, where a sum says it: worked out from the plan's own dimensions and counts, before anything is placed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from drawleaf.model.diagnostic import Diagnostic
from drawleaf.source.expressions import parse_expression
from drawleaf.source.names import did_you_mean
from drawleaf.source.positions import Path, Positions
from drawleaf.source.values import Unit, Value

_SECTIONS = ("dimensions", "counts")


class _OpenError(Exception):
    """What a sum needs is not known yet; ``found`` says why, and is None where it is told with the plan's other names."""

    def __init__(self, found: Diagnostic | None) -> None:
        super().__init__()
        self.found = found


@dataclass(frozen=True, slots=True)
class Counting:
    """The names of a tree that are known before its parts are. ``changed`` are those that an edition writes."""

    tree: Mapping[str, Any]
    positions: Positions
    file: str
    changed: Mapping[str, Path] = field(default_factory=dict)

    def count(self, text: str, at: Path, hidden: frozenset[str]) -> int | Diagnostic | None:
        """The count that stands at ``at``. None where what it counts with is itself wrong, which is told there.

        ``hidden`` are the names that assemblies around it define: those may differ from copy to copy.
        """
        try:
            return self._worked_out(text, at, "count", hidden, ())
        except _OpenError as error:
            return error.found

    def in_editions(self) -> Iterator[tuple[str, Counting, Path]]:
        """Each edition that writes dimensions or counts of its own: its name, the names with them, and where it stands."""
        editions = self.tree.get("editions")
        for name, edition in editions.items() if isinstance(editions, dict) else ():
            sections = {key: edition.get(key) for key in _SECTIONS} if isinstance(edition, dict) else {}
            own = {one: ("editions", name, key, one) for key, held in sections.items() for one in _names(held)}
            if own:
                yield name, Counting(self.tree, self.positions, self.file, own), next(iter(own.values()))

    def _worked_out(self, text: str, at: Path, want: str, hidden: frozenset[str], above: tuple[str, ...]) -> Any:
        position = self.positions.of(self.file, at)
        read = parse_expression(text, position, self._unit)
        if isinstance(read, Diagnostic):
            raise _OpenError(read)
        env: dict[str, Value] = {}
        for name in read.ordered_names:
            where = self._where(name)
            if where is None or name in hidden:
                message = f"“{name}” is not known before the copies are made"
                cause = "Only dimensions and counts of the plan are: parts are placed later, and an assembly's own may differ from copy to copy."
                known = [one for key in _SECTIONS for one in _names(self.tree.get(key))]
                mend = did_you_mean(name, known, otherwise="Write a number, or name it under “counts” of the plan.")
                raise _OpenError(Diagnostic("repeat-what", message, read.position_of(name), cause, mend))
            if name in above:
                raise _OpenError(None)
            inner = self._text(where)
            if not isinstance(inner, str):
                raise _OpenError(None)
            kind = "count" if where[-2] == "counts" else "value"
            env[name] = self._worked_out(inner, where, kind, frozenset(), (*above, name))
        value = read.count(env) if want == "count" else read.value(env)
        if isinstance(value, Diagnostic):
            raise _OpenError(value)
        return value

    @property
    def _unit(self) -> Unit:
        head = self.tree.get("plan")
        unit = (
            head.get("lengths") if isinstance(head, dict) else self.tree.get("lengths")
        )  # a component says it at its own head
        return "mm" if unit == "mm" else "in"

    def _where(self, name: str) -> Path | None:
        if name in self.changed:
            return self.changed[name]
        return next(((key, name) for key in _SECTIONS if name in _names(self.tree.get(key))), None)

    def _text(self, where: Path) -> Any:
        value: Any = self.tree
        for step in where:
            value = value[step]
        return value


def names_of(entry: Mapping[str, Any]) -> frozenset[str]:
    """The dimensions and counts that an assembly defines for itself."""
    return frozenset(str(name) for key in _SECTIONS for name in _names(entry.get(key)))


def _names(held: Any) -> tuple[str, ...]:
    return tuple(held) if isinstance(held, dict) else ()
