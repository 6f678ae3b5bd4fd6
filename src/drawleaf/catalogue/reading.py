"""Reads a catalogue's file: which booklets there are, and what is wrong with it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import product
from pathlib import Path

from drawleaf.catalogue.booklets import Booklet
from drawleaf.catalogue.making import Libraries
from drawleaf.catalogue.models import ALL, AS_WRITTEN, CatalogueSource, ListedPlans
from drawleaf.compiler import Choice
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.position import Position
from drawleaf.source.library import Library, shown
from drawleaf.source.names import did_you_mean
from drawleaf.source.positions import Positions
from drawleaf.source.reader import PLAN_FILE, read_plan
from drawleaf.source.text_files import read_text
from drawleaf.source.validate import validate_model
from drawleaf.source.yaml_tree import read_yaml
from drawleaf.units import Units


@dataclass(frozen=True, slots=True)
class Catalogue:
    """The booklets of a file, or what is wrong with it; ``texts`` are the files that diagnostics point into."""

    booklets: tuple[Booklet, ...] = ()
    diagnostics: tuple[Diagnostic, ...] = ()
    texts: dict[str, str] = field(default_factory=dict)


def read_catalogue(path: Path, libraries: Libraries, out: Path | None = None) -> Catalogue:
    """The catalogue in a file; its booklets stand in ``out``, or where it says itself. Raises OSError where a plan's folder cannot be read."""
    file = shown(path)
    text, found = read_text(path, file)
    if text is None:
        return Catalogue(diagnostics=found)
    tree, positions, found = read_yaml(file, text)
    if tree is None and found:
        return Catalogue((), found, {file: text})
    source, misfits = validate_model(CatalogueSource, tree, positions, file)
    if source is None or found:
        return Catalogue((), (*found, *misfits), {file: text})
    reader = _Reader(source, path.parent, positions, libraries, out or path.parent / source.out)
    booklets = tuple(reader.booklets())
    return Catalogue(() if reader.found else booklets, tuple(reader.found), {file: text})


class _Reader:
    """Works out the booklets of a sound file, and collects what its names lead to in vain."""

    def __init__(
        self, source: CatalogueSource, folder: Path, positions: Positions, libraries: Libraries, out: Path
    ) -> None:
        self.source, self.folder, self.positions, self.libraries, self.out = source, folder, positions, libraries, out
        self.found: list[Diagnostic] = []

    def booklets(self) -> Iterator[Booklet]:
        """Each once, in the order of the file."""
        places: dict[Path, Booklet] = {}
        lines = self._lines()
        for folder, line in lines.items():
            buyers = self._buyers(line)
            for choice in self._choices(folder, line):
                booklet = Booklet(folder, choice, self.out / choice.folder_name(folder.name), buyers)
                other = places.setdefault(booklet.target, booklet)
                if other is booklet:
                    yield booklet
                elif other != booklet:
                    self._tell(
                        "same-folder",
                        f"two booklets would stand in “{booklet.target.name}”",
                        self.positions.of(self.source.source_file, (*line.path, "plan")),
                        f"One is of {other.folder}, the other of {folder}.",
                        "Rename the folder of one of the plans, its edition or its tool set.",
                    )

    def _lines(self) -> dict[Path, ListedPlans]:
        """The line that counts for each plan: one that names it alone comes before one that means several."""
        lines: dict[Path, ListedPlans] = {}
        plain = [line for line in self.source.plans if not _is_pattern(line.plan)]
        named = {(self.folder / line.plan).resolve(): line for line in plain}
        for line in self.source.plans:
            for folder in self._folders(line):
                lines.setdefault(folder, named.get(folder, line))
        return lines

    def _folders(self, line: ListedPlans) -> list[Path]:
        where = self.positions.of(self.source.source_file, (*line.path, "plan"))
        if not _is_pattern(line.plan):
            folder = (self.folder / line.plan).resolve()
            if (folder / PLAN_FILE).is_file():
                return [folder]
            near = [one.parent.name for one in folder.parent.glob(f"*/{PLAN_FILE}")]
            mend = did_you_mean(folder.name, near, otherwise=f"Name a folder that has a {PLAN_FILE}.")
            self._tell("no-such-plan", f"“{line.plan}” is no plan's folder", where, f"It has no {PLAN_FILE}.", mend)
            return []
        try:
            found = sorted(one.parent.resolve() for one in self.folder.glob(f"{line.plan}/{PLAN_FILE}"))
        except (ValueError, NotImplementedError):
            found = []
        if not found:
            mend = f"Write the folder that holds the plans, and `/*`: `plans/*` means every folder in plans that has a {PLAN_FILE}."
            self._tell(
                "no-such-plan", f"“{line.plan}” means no plan", where, "No folder of that pattern has one.", mend
            )
        return found

    def _choices(self, folder: Path, line: ListedPlans) -> Iterator[Choice]:
        (library, _), _ = self.libraries.of(folder, None)
        editions = self._editions(folder, line, library)
        units = line.units if line.units is not None else self.source.units
        papers = line.papers if line.papers is not None else self.source.papers
        tools = self._tools(line, library)
        for edition, (kit, kit_file), unit, paper in product(editions, tools, units, papers):
            yield Choice(edition, Units(given) if (given := _given(unit)) else None, _given(paper), kit, kit_file)

    def _editions(self, folder: Path, line: ListedPlans, library: Library) -> Sequence[str | None]:
        own = line.editions is not None
        wanted = line.editions if line.editions is not None else self.source.editions
        if all(name == AS_WRITTEN for name in wanted):  # that every plan has: none has to be read for it
            return [None] * len(wanted)
        reading = read_plan(folder, library)
        known = list(reading.plan.editions) if reading.plan else None
        if wanted == ALL:
            return (None, *(known or ()))
        for name in wanted:
            # A plan that cannot be read fails when it is made, with its mistakes.
            if own and known is not None and name != AS_WRITTEN and name not in known:
                place = (*line.path, "editions", list(wanted).index(name))
                mend = did_you_mean(name, known, otherwise=f"It has {', '.join(known)}." if known else "It has none.")
                where = self.positions.of(self.source.source_file, place)
                self._tell("unknown-edition", f"the plan “{folder.name}” has no edition “{name}”", where, "", mend)
        # What is written for all plans is made of those that have it.
        return [_given(name) for name in wanted if name == AS_WRITTEN or known is None or name in known]

    def _tools(self, line: ListedPlans, library: Library) -> list[tuple[str | None, Path | None]]:
        wanted = line.tools if line.tools is not None else self.source.tools
        path = (*line.path, "tools") if line.tools is not None else ("tools",)
        made: list[tuple[str | None, Path | None]] = []
        for index, name in enumerate(wanted):
            where = self.positions.of(self.source.source_file, (*path, index))
            if name.endswith((".yaml", ".yml")):
                file = (self.folder / name).resolve()
                if file.is_file():
                    made.append((None, file))
                else:
                    self._tell(
                        "no-such-file", f"there is no file “{name}”", where, "", "Check the name and the folder."
                    )
            elif name == AS_WRITTEN or name in library.catalogue.kits:
                made.append((_given(name), None))
            else:
                mend = did_you_mean(name, library.catalogue.kits, otherwise="A file of your own ends in .yaml.")
                self._tell("unknown-tool-set", f"no tool set is named “{name}”", where, "", mend)
        return made

    def _buyers(self, line: ListedPlans) -> Path | None:
        wanted, path = (
            (line.copies, (*line.path, "copies")) if line.copies is not None else (self.source.copies, ("copies",))
        )
        if wanted is None:
            return None
        file = (self.folder / wanted).resolve()
        if not file.is_file():
            where = self.positions.of(self.source.source_file, path)
            self._tell("no-such-file", f"there is no file “{wanted}”", where, "", "Check the name and the folder.")
        return file

    def _tell(self, code: str, message: str, where: Position | None, cause: str, mend: str) -> None:
        told = Diagnostic(code, message, where, cause, mend)
        if told not in self.found:
            self.found.append(told)


def _is_pattern(plan: str) -> bool:
    return any(sign in plan for sign in "*?[")


def _given(word: str) -> str | None:
    return None if word == AS_WRITTEN else word
