"""Reads ``shared/``: materials, hardware, tools, cautions, finishes, consumables, prices and components, as one library.

Each kind is a file (``tools.yaml``) or a folder of files (``materials/*.yaml``). Several ``shared`` folders are laid over one another:
an entry of a later folder replaces one of the same name. Data files are read without positions first, as they are nearly always
sound; a file with anything wrong in it is read again with positions, to tell where.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Any

from drawleaf.language import Words
from drawleaf.model.catalogue import Catalogue
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.resources import product_folder
from drawleaf.source import library_looks, library_values, library_work
from drawleaf.source.library_files import DataFiles
from drawleaf.source.library_lengths import DataProblem
from drawleaf.source.library_models import MODELS, KitEntry, MaterialEntry, PriceBookEntry, ToolEntry
from drawleaf.source.library_prices import Prices
from drawleaf.source.models import ComponentSource, SourceNode
from drawleaf.source.names import did_you_mean
from drawleaf.source.positions import Positions
from drawleaf.source.renames import FOLDERS
from drawleaf.source.stamps import Stamp, stamp_of


@dataclass(frozen=True, slots=True)
class Library:
    """All that plans draw on. ``positions`` and ``texts`` are those of the files, by their name as diagnostics print it."""

    catalogue: Catalogue
    components: dict[str, ComponentSource]
    positions: Positions
    texts: dict[str, str]
    kit: str | None = None
    """The kit of the buyer's own file, where one was given."""
    authors: frozenset[tuple[str, str]] = frozenset()
    """Kind and id of each entry that is not of our own ``shared``."""
    in_languages: dict[Words, Catalogue] = field(default_factory=dict, init=False, compare=False, repr=False)
    """The catalogue by the tag of a language that it was asked for in, kept for the next plan that is read with it."""
    noted: Callable[[Catalogue], Catalogue] | None = field(default=None, compare=False, repr=False)
    """What a plan is given in place of a catalogue: one that notes what is looked up in it. None gives the catalogue itself."""


@dataclass(frozen=True, slots=True)
class _Entry:
    """An entry as written, with the file that it is in."""

    file: str
    node: Any
    ours: bool = False
    """Whether it is in our own ``shared``."""


_BUILDERS: dict[str, Callable[[str, Any, Prices], Any]] = {
    "looks": library_looks.look,
    "materials": library_values.material,
    "consumables": library_values.consumable,
    "cautions": library_values.caution,
    "tools": library_values.tool,
    "finishes": library_values.finish,
    "methods": library_work.method,
}

_PRICED = {"sheets": "materials", "boards": "materials"}
"""Sections of the price book that are no kind of entry, with the kind that they price."""


def load_library(folders: Sequence[Path], kit_file: Path | None = None) -> tuple[Library, tuple[Diagnostic, ...]]:
    """The library of these ``shared`` folders, the later ones overriding by name, and what is wrong in them.

    ``kit_file`` is a buyer's own kit, one entry as in ``shared/tool_sets``. What cannot be used is left out, so that a mistake in one entry does not hide the others.
    Where nothing but our own ``shared`` is asked for, a process reads it once, and again only when one of its files has changed.
    """
    if kit_file is None and tuple(folders) == (product_folder("shared"),):
        return _our_own(folders[0], os.getcwd(), stamp_of(folders))
    return _loaded(folders, kit_file)


@lru_cache(maxsize=2)
def _our_own(folder: Path, here: str, stamp: Stamp) -> tuple[Library, tuple[Diagnostic, ...]]:
    """The library of our own folder alone; ``here``, from which its files are named, and ``stamp`` tell whether it is still as it was."""
    return _loaded((folder,), None)


def _loaded(folders: Sequence[Path], kit_file: Path | None) -> tuple[Library, tuple[Diagnostic, ...]]:
    loader = _Loader()
    for folder in folders:
        loader.read_folder(folder)
    kit = loader.read_kit(kit_file) if kit_file is not None else None
    catalogue = loader.build()
    files = loader.files
    library = Library(catalogue, loader.components, files.positions, files.texts, kit, frozenset(loader.authors))
    return library, tuple(files.found)


class _Loader:
    """Collects the entries of all folders, then makes the catalogue of them."""

    def __init__(self) -> None:
        self.files = DataFiles()
        self.entries: dict[str, dict[str, _Entry]] = {kind: {} for kind in MODELS}
        self.prices = Prices()
        self.components: dict[str, ComponentSource] = {}
        self.incomplete: set[str] = set()
        self.authors: set[tuple[str, str]] = set()

    def read_folder(self, folder: Path) -> None:
        """Lays one ``shared`` folder over what was read before."""
        self.files.folder = folder
        ours = folder == product_folder("shared")
        for kind, model in MODELS.items():
            fresh: dict[str, _Entry] = {}
            for path in files_of(folder, kind):
                file = shown(path)
                before = len(self.files.found)
                entries = self.files.entries(path, file, model)
                if len(self.files.found) > before:
                    self.incomplete.add(kind)
                for name, node in entries.items():
                    if name in fresh:
                        self._told_twice(kind, name, file, (name,), fresh[name].file)
                    else:
                        fresh[name] = _Entry(file, node, ours)
            self.entries[kind].update(fresh)
        for old, new in FOLDERS.items():
            for path in files_of(folder, old):
                self.files.tell_old_place(path, shown(path), f"{folder.name}/{old}", f"{folder.name}/{new}")
        for path in files_of(folder, "prices"):
            book = self.files.whole(path, shown(path), PriceBookEntry, marked=False)
            if book is not None:
                self.prices.lay_over(book, shown(path))
        self._read_components(folder)

    def _read_components(self, folder: Path) -> None:
        fresh: dict[str, ComponentSource] = {}
        for path in files_of(folder, "components"):
            component = self.files.whole(path, shown(path), ComponentSource, marked=True)
            if component is None:
                continue
            name = component.component
            if name in fresh:
                self._told_twice("components", name, shown(path), ("component",), fresh[name].source_file)
            else:
                fresh[name] = component
        self.components.update(fresh)

    def read_kit(self, path: Path) -> str | None:
        """Lays a buyer's own kit over the others; None where the file holds none that can be used."""
        self.files.folder = None  # named on the command line, it may lie anywhere
        file = shown(path)
        entries = self.files.entries(path, file, KitEntry)
        if len(entries) > 1:
            second = list(entries)[1]
            self.files.tell(
                "wrong-shape",
                "this file holds more than one tool set",
                file,
                (second,),
                "",
                "Leave one of them.",
                key=True,
            )
        for name, node in entries.items():
            self.entries["tool_sets"][name] = _Entry(file, node)
            return name
        return None

    def _told_twice(self, kind: str, name: str, file: str, path: tuple[str, ...], other: str) -> None:
        self.files.tell(
            "written-twice",
            f"“{name}” is written twice in {_spoken(kind)}",
            file,
            path,
            f"{other} has it too.",
            "Delete one of them, or give it another name.",
        )

    def build(self) -> Catalogue:
        """The catalogue of all entries that can be used."""
        values: dict[str, dict[str, Any]] = {kind: self._built(kind) for kind in _BUILDERS}
        values["hardware"] = self._hardware()
        values["kits"] = self._kits()
        self._tell_price_problems()
        self._tell_dangling(values)
        return Catalogue(prices=self.prices.book, **values)

    def _built(self, kind: str) -> dict[str, Any]:
        make = _BUILDERS[kind]
        built: dict[str, Any] = {}
        for name, entry in self.entries[kind].items():
            try:
                built[name] = make(name, entry.node, self.prices)
                self._note_maker(kind, entry, name)
            except DataProblem as problem:
                self._left_out(kind, name, entry, problem)
        return built

    def _hardware(self) -> dict[str, Any]:
        """All items, families spread out. What is written plainly wins over a family's member of that name."""
        built: dict[str, Any] = {}
        for name, entry in sorted(self.entries["hardware"].items(), key=lambda one: "{" not in one[0]):
            try:
                items = {item.id: item for item in library_values.hardware(name, entry.node, self.prices)}
                built.update(items)
                self._note_maker("hardware", entry, *items)
            except DataProblem as problem:
                self._left_out("hardware", name, entry, problem)
        return built

    def _kits(self) -> dict[str, Any]:
        entries = self.entries["tool_sets"]
        built: dict[str, Any] = {}
        for kit in library_work.kits({name: entry.node for name, entry in entries.items()}):
            if isinstance(kit, tuple):
                self._left_out("tool_sets", kit[0], entries[kit[0]], kit[1])
            else:
                built[kit.id] = kit
                self._note_maker("kits", entries[kit.id], kit.id)
        return built

    def _note_maker(self, kind: str, entry: _Entry, *ids: str) -> None:
        """Who wrote what is under these ids; a later entry takes precedence."""
        made = {(kind, id_) for id_ in ids}
        self.authors = self.authors - made if entry.ours else self.authors | made

    def _left_out(self, kind: str, name: str, entry: _Entry, problem: DataProblem) -> None:
        self.incomplete.add(kind)
        self._tell_problem(entry.file, (name, *problem.path), problem)

    def _tell_problem(self, file: str, path: tuple[str | int, ...], problem: DataProblem) -> None:
        self.files.tell("wrong-value", problem.message, file, path, "", problem.mend)

    def _tell_price_problems(self) -> None:
        told: set[tuple[str, tuple[str | int, ...]]] = set()
        for file, problem in self.prices.problems:
            if (file, problem.path) not in told:
                told.add((file, problem.path))
                self._tell_problem(file, problem.path, problem)
        for keys, file in self.prices.unasked():
            if _PRICED.get(keys[0], keys[0]) in self.incomplete:
                continue
            known = [asked[-1] for asked in self.prices.asked if asked[:-1] == keys[:-1]]
            mend = did_you_mean(keys[-1], known, otherwise="Delete the line, or add the item to your shared folder.")
            message = f"a price is noted for “{' / '.join(keys[1:])}”, which is not among the {keys[0]}"
            self.files.tell("unknown-item", message, file, keys, "", mend, key=True)

    def _tell_dangling(self, values: dict[str, dict[str, Any]]) -> None:
        """Names in entries that lead nowhere. A kind that lost entries to a mistake is passed over: mending that comes first."""
        for kind, entries in self.entries.items():
            for name, entry in entries.items():
                for path, wanted, of_kind in _references(entry.node):
                    if wanted not in values[of_kind] and of_kind not in self.incomplete:
                        mend = did_you_mean(wanted, values[of_kind], otherwise=f"Add it to {_spoken(of_kind)}.")
                        message = f"“{name}” names “{wanted}”, which is not among the {_spoken(of_kind)}"
                        self.files.tell(
                            "unknown-item", message, entry.file, (name, *path), f"It is one of {_spoken(kind)}.", mend
                        )


def _references(node: SourceNode) -> Iterator[tuple[tuple[str | int, ...], str, str]]:
    """The names of other entries in an entry: path, name, and the kind that it should be of."""
    lists = (
        ("cautions", "cautions"),
        ("wear", "tools"),
        ("stand_ins", "tools"),
        ("tools", "tools"),
        ("without", "tools"),
    )
    for key, kind in lists:
        for index, name in enumerate(getattr(node, key, ())):
            yield (key, index), name, kind
    for place, way in enumerate(getattr(node, "ways", ())):
        for index, name in enumerate(way.tools):
            yield ("ways", place, "tools", index), name, "tools"
    for use, cautions in getattr(node, "uses", {}).items():
        for index, name in enumerate(cautions):
            yield ("uses", use, index), name, "cautions"
    if isinstance(node, ToolEntry) and node.worded_as is not None:
        yield ("worded_as",), node.worded_as, "tools"
    if isinstance(node, MaterialEntry) and node.look is not None:
        yield ("look",), node.look, "looks"
    for index, screw in enumerate(getattr(node, "screws", ())):
        yield ("screws", index, "item"), screw.item, "hardware"


def _spoken(kind: str) -> str:
    return kind.replace("_", " ")


def files_of(folder: Path, kind: str) -> tuple[Path, ...]:
    """The files of one kind, in a fixed order."""
    single = folder / f"{kind}.yaml"
    return (*([single] if single.is_file() else []), *sorted((folder / kind).glob("*.yaml")))


def shown(path: Path) -> str:
    """A file's name as diagnostics print it: from the current folder down, else in full. A link goes by its own name."""
    full = path.parent.resolve() / path.name
    here = Path(os.getcwd()).resolve()
    return (full.relative_to(here) if full.is_relative_to(here) else full).as_posix()
