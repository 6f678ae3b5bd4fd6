"""How the things that booklets hang on stand now: shared entries, files, templates, fonts, and drawleaf itself."""

from __future__ import annotations

import os
import platform
import re
from collections.abc import Iterable, Iterator, Mapping
from functools import cache, lru_cache
from hashlib import sha256
from importlib.metadata import PackageNotFoundError, requires, version
from pathlib import Path
from typing import Any

import drawleaf
from drawleaf.cache import Fingerprints
from drawleaf.catalogue.notes import ALL, ANSWER, COMPONENTS, ENTRY, IDS, Note
from drawleaf.folder_files import file_inside
from drawleaf.model.looking_through import answer
from drawleaf.resources import MissingDataError, font_files, product_folder, template_folders
from drawleaf.source.library import Library
from drawleaf.source.stamps import Stamp, stamp_of

FILE = "file"
OWN: Note = ("drawleaf",)
TEMPLATES: Note = ("templates",)
TOOL_SET: Note = ("tool set file",)
PRICES: Note = ("prices",)
FIXED = (OWN, TEMPLATES, TOOL_SET, PRICES, (FILE, "plan.yaml"))
"""What every booklet hangs on."""


class LibraryStates:
    """The states of a library's entries; each is worked out once."""

    def __init__(self, library: Library) -> None:
        self._library = library
        self._fingerprints = Fingerprints()
        self._known: dict[Note, str] = {}

    def of(self, note: Note) -> str:
        """The state of what a note names. Raises KeyError for a question that this version does not ask."""
        if note not in self._known:
            self._known[note] = self._worked_out(note)
        return self._known[note]

    def _worked_out(self, note: Note) -> str:
        if note == PRICES:
            return self._short(self._library.catalogue.prices)
        what, kind, *given = note
        entries = self._entries(kind)
        if what == ENTRY:
            return self._entry(kind, given[0]) if given[0] in entries else ""
        if what == IDS:
            return self._short(tuple(entries))
        if what == ALL:
            return self._short(tuple((name, self.of((ENTRY, kind, name))) for name in entries))
        if what == ANSWER:
            return self._short(answer(entries, given[0], tuple(given[1:])))
        raise KeyError(what)

    def _entries(self, kind: str) -> Mapping[str, Any]:
        return self._library.components if kind == COMPONENTS else getattr(self._library.catalogue, kind)

    def _entry(self, kind: str, name: str) -> str:
        if kind == COMPONENTS:
            return _hex(self._library.components[name].model_dump_json().encode())
        return self._short((self._entries(kind)[name], (kind, name) in self._library.authors))

    def _short(self, value: Any) -> str:
        return _hex(self._fingerprints.of(value))


class PlanStates:
    """The states of all that one plan's booklets hang on: its own files and templates, a tool set in a file, the library."""

    def __init__(self, folder: Path, kit_file: Path | None, library: LibraryStates) -> None:
        self._folder, self._kit_file, self._library = folder, kit_file, library
        self._known: dict[Note, str] = {}

    def of(self, note: Note) -> str:
        """The state of what a note names. Raises KeyError for a note that this version does not make, OSError where a file cannot be read."""
        if note not in self._known:
            self._known[note] = self._worked_out(note)
        return self._known[note]

    def _worked_out(self, note: Note) -> str:
        if note == OWN:
            return own_state()
        if note == TEMPLATES:
            folders = template_folders(self._folder)
            return _hex("".join(folder_state(one, stamp_of([one])) for one in folders).encode())
        if note == TOOL_SET:
            return "" if self._kit_file is None else _hex(self._kit_file.read_bytes())
        if note[0] == FILE:
            file = file_inside(self._folder, note[1])
            return "" if file is None else _hex(file.read_bytes())
        return self._library.of(note)


@cache
def own_state() -> str:
    """drawleaf itself: its code and words, its fonts, the libraries that it works with, and the moment that its PDFs bear where one is stated."""
    package = Path(drawleaf.__file__).resolve().parent
    parts = [f"{sha256(one.read_bytes()).hexdigest()} {one.relative_to(package)}" for one in _own_files(package)]
    parts += [sha256(one.read_bytes()).hexdigest() for one in font_files()]
    try:
        browser = product_folder("browser")
        parts.append(folder_state(browser, stamp_of([browser])))
    except MissingDataError:
        parts.append("no browser library")
    parts += [f"{name} {_version(name)}" for name in _libraries()]
    parts += [platform.python_version(), platform.machine(), os.environ.get("SOURCE_DATE_EPOCH", "")]
    return _hex("\n".join(parts).encode())


def _own_files(package: Path) -> Iterator[Path]:
    """The files of the package; its templates and its ``shared`` are asked for by themselves."""
    for file in sorted(package.rglob("*")):
        inside = file.relative_to(package).parts
        if file.is_file() and "__pycache__" not in inside and inside[0] != "data":
            yield file


def _libraries() -> Iterable[str]:
    """The libraries that drawleaf needs, and those that WeasyPrint lays pages out with."""
    try:
        wanted = requires("drawleaf") or []
    except PackageNotFoundError:
        wanted = []
    plain = {re.split(r"[^\w.-]", one)[0] for one in wanted if "extra ==" not in one}
    return sorted(plain | {"weasyprint", "pydyf", "tinycss2", "tinyhtml5", "cssselect2", "pyphen"})


def _version(name: str) -> str:
    try:
        return version(name)
    except PackageNotFoundError:
        return "none"


@lru_cache(maxsize=32)
def folder_state(folder: Path, stamp: Stamp) -> str:
    """The names and contents of all files in a folder; ``stamp`` tells whether it is still as it was."""
    files = [one for one in sorted(folder.rglob("*")) if one.is_file()]
    return _hex("\n".join(f"{_hex(one.read_bytes())} {one.relative_to(folder).as_posix()}" for one in files).encode())


def _hex(content: bytes) -> str:
    return sha256(content).hexdigest()[:32]
