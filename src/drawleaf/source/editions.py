"""Editions: a named set of changes laid over the plan. What an edition writes is pointed at where the edition writes it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.position import Position
from drawleaf.source.edition_checks import assembly_ids, assembly_meant
from drawleaf.source.line_names import One, ways_of
from drawleaf.source.models import (
    AssemblyChange,
    AssemblyEntry,
    EditionEntry,
    PlanSource,
    StockChange,
    StockEntry,
)
from drawleaf.source.names import did_you_mean
from drawleaf.source.positions import Path, Positions
from drawleaf.source.reader import Reading

_HEAD_KEYS = (
    "title",
    "subtitle",
    "units",
    "paper",
    "round_to",
    "language",
    "summary",
    "skill",
    "learner",
    "hard_parts",
    "care",
)
_SAME_TO_THE_EYE = {*_HEAD_KEYS, "tools", "notes"}
"""What an edition may change without the piece looking otherwise: the picture on the cover stays true."""
_STOCK_KEYS = ("material", "nominal", "size", "actual", "width", "name")
_OTHER_LABEL = {"nominal": "size", "size": "nominal"}


def apply_edition(reading: Reading, name: str | None) -> Reading:
    """The reading with the edition's changes made; as it is for None. An unknown edition is a diagnostic and changes nothing.

    Names that the plan does not have were reported when it was read, and are passed over here.
    """
    if name is None or reading.plan is None:
        return reading
    edition = reading.plan.editions.get(name)
    if edition is None:
        return replace(reading, diagnostics=(*reading.diagnostics, _no_such_edition(reading, name)))
    changes = _Changes(reading.plan, edition)
    return replace(
        reading,
        plan=changes.plan(),
        positions=reading.positions.shift(changes.moves),
        edition=name,
        without=_without(reading.plan, edition, reading.positions),
    )


def with_way(reading: Reading, name: str) -> Reading:
    """The reading with one other way in place of its line."""
    if reading.plan is None:
        return reading
    return replace(reading, plan=_Changes(reading.plan, EditionEntry(another_way=[name])).plan())


def _no_such_edition(reading: Reading, name: str) -> Diagnostic:
    plan = reading.plan
    known = list(plan.editions) if plan else []
    otherwise = f"There are {', '.join(known)}." if known else "The plan has none: leave the edition out, or write one."
    mend = did_you_mean(name, known, otherwise=otherwise)
    where = reading.positions.of_key(reading.file, ("editions",))
    return Diagnostic("unknown-edition", f"the plan has no edition “{name}”", where, "", mend)


def _without(plan: PlanSource, edition: EditionEntry, positions: Positions) -> dict[str, Position]:
    ids = assembly_ids(plan.assemblies)
    left_out: dict[str, Position] = {}
    for index, name in enumerate(edition.without):
        meant = assembly_meant(name, ids)
        if meant is not None:
            left_out[meant] = positions.of(edition.source_file, (*edition.path, "without", index))
    return left_out


class _Changes:
    """Makes the changed plan, noting where each changed value is written."""

    def __init__(self, plan: PlanSource, edition: EditionEntry) -> None:
        self.base, self.edition = plan, edition
        ids = assembly_ids(plan.assemblies)
        self.changed = {assembly_meant(name, ids): name for name in edition.assemblies}
        self.moves: dict[tuple[str, Path], tuple[str, Path]] = {}

    def plan(self) -> PlanSource:
        base, edition = self.base, self.edition
        changed: dict[str, Any] = {
            "plan": base.plan.model_copy(update=self._given(("plan",), _HEAD_KEYS)),
            "dimensions": self._named("dimensions", base.dimensions, edition.dimensions),
            "counts": self._named("counts", base.counts, edition.counts),
            "stock": {name: self._stock(name, entry) for name, entry in base.stock.items()},
        }
        changed["assemblies"] = {name: self._assembly(name, entry, ()) for name, entry in base.assemblies.items()}
        changed["finish"] = self._lines(base.finish, edition.finish)
        changed["notes"] = self._lines(base.notes, edition.notes)
        if edition.cover is not None or not edition.model_fields_set <= _SAME_TO_THE_EYE:
            changed["cover"] = edition.cover
        if edition.tools is not None:
            changed["shop"] = base.shop.model_copy(update=self._given(("shop",), ("tools",)))
        return base.model_copy(update=changed)

    def _move(self, old: Path, new: Path) -> None:
        self.moves[self.base.source_file, (*self.base.path, *old)] = (
            self.edition.source_file,
            (*self.edition.path, *new),
        )

    def _given(self, place: Path, keys: tuple[str, ...]) -> dict[str, Any]:
        """The edition's own values of these keys, which stand in for those at ``place``."""
        given = {key: value for key in keys if (value := getattr(self.edition, key)) is not None}
        for key in given:
            self._move((*place, key), (key,))
        return given

    def _named(self, section: str, old: dict[str, str], new: dict[str, str]) -> dict[str, str]:
        for name in new:
            self._move((section, name), (section, name))
        return {**old, **new}

    def _assembly(self, name: str, entry: AssemblyEntry, above: Path) -> AssemblyEntry:
        """The assembly with the edition's own lines, and so all inside it."""
        place = (*above, "assemblies", name)
        given = self.changed.get(".".join(str(step) for step in place[1::2]))
        change = self.edition.assemblies[given] if given is not None else AssemblyChange()
        for section in ("dimensions", "counts"):
            for key in getattr(change, section):
                self._move((*place, section, key), ("assemblies", str(given), section, key))
        return entry.model_copy(
            update={
                "dimensions": {**entry.dimensions, **change.dimensions},
                "counts": {**entry.counts, **change.counts},
                "joints": self._lines(entry.joints, change.joints),
                "machining": self._lines(entry.machining, change.machining),
                "hardware": self._lines(entry.hardware, change.hardware),
                "assemblies": {key: self._assembly(key, child, place) for key, child in entry.assemblies.items()},
            }
        )

    def _lines(self, old: Sequence[One], new: Sequence[One]) -> list[One]:
        """The plan's lines with those of the edition: a name that is there already is changed, others are added."""
        by_name = {line.name: line for line in new if line.name is not None}
        kept = [by_name.get(line.name or "", self._way(line)) for line in old if line.name not in self.edition.without]
        names = {line.name for line in old}
        return [*kept, *(line for line in new if line.name is None or line.name not in names)]

    def _way(self, line: One) -> One:
        """The line, or the one of its other ways that the edition takes."""
        return next((way for way in ways_of(line) if way.name in self.edition.another_way), line)

    def _stock(self, name: str, entry: StockEntry) -> StockEntry:
        change = self.edition.stock.get(name)
        return entry if change is None else entry.model_copy(update=self._stock_changes(name, change))

    def _stock_changes(self, name: str, change: StockChange) -> dict[str, Any]:
        given: dict[str, Any] = {key: value for key in _STOCK_KEYS if (value := getattr(change, key)) is not None}
        for key in given:
            self._move(("stock", name, key), ("stock", name, key))
        # A stock is labelled by its nominal thickness or by its nominal size: the new label takes the old one's place.
        replaced = {_OTHER_LABEL[key]: None for key in given if key in _OTHER_LABEL and _OTHER_LABEL[key] not in given}
        return {**given, **replaced}
