"""Making one booklet, with a note of all that it hangs on."""

from __future__ import annotations

import gc
import os
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from drawleaf.catalogue.notes import Note, noting
from drawleaf.catalogue.sharing import Bench
from drawleaf.catalogue.states import FILE, FIXED, LibraryStates, PlanStates
from drawleaf.compiler import Choice, Loaded, compile_plan
from drawleaf.folder_files import files_noted
from drawleaf.resources import shared_folders, template_folders
from drawleaf.source.library import load_library
from drawleaf.source.report import render_all
from drawleaf.source.stamps import Stamp, stamp_of


@dataclass(frozen=True, slots=True)
class Job:
    """A plan's folder and what to make of it."""

    folder: Path
    choice: Choice


@dataclass(frozen=True, slots=True)
class Made:
    """What making a booklet gave. ``files`` is empty where it failed, and ``told`` then says why; ``states`` is what it hung on, None where
    something of it was changed meanwhile; ``seconds`` is how long it took."""

    files: Mapping[str, bytes] = field(default_factory=dict)
    told: str = ""
    states: Mapping[Note, str] | None = None
    seconds: float = 0.0


class Notes:
    """The notes of one booklet, in a set."""

    def __init__(self) -> None:
        self.seen: set[Note] = set(FIXED)
        self._parts: list[set[Note]] = []

    def tell(self, note: Note) -> None:
        """One thing that was asked for."""
        self.seen.add(note)
        for part in self._parts:
            part.add(note)

    @contextmanager
    def part(self) -> Iterator[set[Note]]:
        """Meanwhile what is asked for is put into this set besides."""
        self._parts.append(set())
        try:
            yield self._parts[-1]
        finally:
            self._parts.pop()

    def tell_file(self, folder: Path, file: Path) -> None:
        """A file that was asked for; what lies outside the plan's folder is a font of ours, which is not the plan's to change."""
        root = folder.resolve()
        if file.is_relative_to(root):
            self.tell((FILE, file.relative_to(root).as_posix()))


class Libraries:
    """The libraries of a process that makes many booklets: each is read once, and again when one of its files has changed."""

    def __init__(self) -> None:
        self._known: dict[tuple[tuple[Path, ...], Path | None], tuple[Stamp, Loaded, LibraryStates]] = {}

    def of(self, folder: Path, kit_file: Path | None) -> tuple[Loaded, LibraryStates]:
        """What a plan's folder draws on, and how it stands."""
        folders = shared_folders(folder)
        stamp = stamp_of([*folders, *([kit_file] if kit_file else [])])
        known = self._known.get((folders, kit_file))
        if known is None or known[0] != stamp:
            loaded = load_library(folders, kit_file)
            known = self._known[folders, kit_file] = (stamp, loaded, LibraryStates(loaded[0]))
        return known[1], known[2]


def make(job: Job, libraries: Libraries, bench: Bench | None = None) -> Made:
    """The booklet of a job. What fails is told, never raised, so that the next can be made."""
    began = time.monotonic()
    gc.collect()
    try:
        made = _made(job, libraries, bench or Bench())
    except Exception as error:
        if os.environ.get("DRAWLEAF_DEBUG"):
            raise
        made = Made(told=_failure(error, job.folder))
    return Made(made.files, made.told, made.states, time.monotonic() - began)


def _made(job: Job, libraries: Libraries, bench: Bench) -> Made:
    before = _stamp(job)
    (library, found), states = libraries.of(job.folder, job.choice.kit_file)
    notes = Notes()
    now = PlanStates(job.folder, job.choice.kit_file, states)
    kept = bench.begin(job.folder, notes, now)
    loaded = noting(library, notes.tell), found
    with files_noted(lambda file: notes.tell_file(job.folder, file)):
        outcome = compile_plan(job.folder, job.choice, library=loaded, kept=kept, solids_of=bench.solids)
    if not outcome.files:
        return Made(told=render_all(outcome.diagnostics, outcome.texts))
    stood = {note: now.of(note) for note in notes.seen}
    return Made(outcome.files, "", stood if _stamp(job) == before else None)


def _stamp(job: Job) -> Stamp:
    """Whether anything that the booklet may be made from was saved meanwhile."""
    kit = [job.choice.kit_file] if job.choice.kit_file else []
    beside = [one for one in job.folder.iterdir() if one.is_file()]
    return stamp_of([*beside, *shared_folders(job.folder), *template_folders(job.folder), *kit])


def _failure(error: Exception, folder: Path) -> str:
    """Why a booklet could not be made: the disk, or our own fault."""
    if isinstance(error, OSError):
        return f"{error.filename or folder}: cannot be read: {error.strerror or error}."
    return (
        f"{folder.name}: drawleaf itself failed ({type(error).__name__}: {error}). Your plan may be fine. "
        "Please report it; with DRAWLEAF_DEBUG=1 set it prints where."
    )
