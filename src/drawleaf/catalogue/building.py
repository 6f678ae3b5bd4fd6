"""Building a catalogue: what has to be made and why, making it, and putting it where it belongs.

Nothing is remembered but what is whole: the files of a booklet go into the store first, then the trace that they hang on, and then into their
folder in one step. A run that is killed at any moment leaves nothing that the next one would take for more than it is.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import Enum
from pathlib import Path

from drawleaf.catalogue import traces
from drawleaf.catalogue.booklets import Booklet
from drawleaf.catalogue.crew import Crew
from drawleaf.catalogue.making import Job, Libraries, Made
from drawleaf.catalogue.states import PlanStates
from drawleaf.catalogue.store import Store
from drawleaf.catalogue.traces import Trace, in_words
from drawleaf.model.diagnostic import has_errors
from drawleaf.outputs import OutputRefusedError, refusal, try_place, write_set, written_there
from drawleaf.source.report import render_all

_MOST_REASONS = 3


class What(Enum):
    """What is done about a booklet."""

    STANDS = "as it was"
    PUT = "from the store"
    MAKE = "made"
    FAILED = "failed"


@dataclass(frozen=True, slots=True)
class Task:
    """A booklet, what is to be done about it, and why; ``seconds`` is how long making it took the last time, where that is known."""

    booklet: Booklet
    what: What
    why: str = ""
    trace: Trace | None = None
    seconds: float | None = None


@dataclass(frozen=True, slots=True)
class Done:
    """What was done about a booklet. ``why`` is the reason, or what failed; ``unchanged`` where the very same files stood there already."""

    booklet: Booklet
    what: What
    why: str = ""
    seconds: float = 0.0
    unchanged: bool = False


@dataclass
class Builder:
    """Builds with a store; ``anew`` makes everything, whatever the store knows."""

    store: Store
    anew: bool = False
    libraries: Libraries = field(default_factory=Libraries)
    _states: dict[tuple[Path, Path | None], tuple[str, PlanStates]] = field(default_factory=dict)

    def tasks(self, booklets: Sequence[Booklet]) -> list[Task]:
        """What is to be done about each, in their order."""
        return [self._task(one) for one in booklets]

    def do(self, tasks: Sequence[Task], crew: Crew) -> Iterator[Done]:
        """Do it, what stands in the store first; each is told when it is done and whole."""
        to_make: list[Task] = []
        for task in tasks:
            if task.what is What.MAKE:
                to_make.append(task)
            elif task.what is What.PUT:
                done = self._put_back(task)
                if done is None:
                    to_make.append(task)
                else:
                    yield done
            else:
                yield Done(task.booklet, task.what, task.why)
        jobs = [Job(task.booklet.folder, task.booklet.choice) for task in to_make]
        for place, made in crew.make(jobs):
            yield self._placed(to_make[place], made)

    def _task(self, booklet: Booklet) -> Task:
        try:
            return self._decided(booklet)
        except OSError as error:
            return Task(
                booklet, What.FAILED, f"{error.filename or booklet.folder}: cannot be read: {error.strerror or error}."
            )

    def _decided(self, booklet: Booklet) -> Task:
        mistakes, now = self._standing(booklet.folder, booklet.choice.kit_file)
        if mistakes:
            return Task(booklet, What.FAILED, mistakes)
        known = traces.read(self.store.get(_trace_key(booklet)))
        seconds = known[0].seconds if known else None
        trace = next((one for one in known if next(one.changed(now), None) is None), None)
        if trace is not None and not self.anew and stands(booklet.target, trace):
            return Task(booklet, What.STANDS, trace=trace, seconds=trace.seconds)
        if failure := _cannot_be_placed(booklet.target):
            return Task(booklet, What.FAILED, failure)
        if self.anew:
            return Task(booklet, What.MAKE, "everything is made anew", seconds=seconds)
        if trace is not None and self.store.holds_files(trace.files):
            return Task(booklet, What.PUT, "its files are in the store", trace, trace.seconds)
        if trace is not None:
            return Task(booklet, What.MAKE, "its files are no longer in the store", trace, trace.seconds)
        why = _listed(sorted(in_words(note) for note in known[0].changed(now))) if known else "it is new"
        return Task(booklet, What.MAKE, why, seconds=seconds)

    def _standing(self, folder: Path, kit_file: Path | None) -> tuple[str, PlanStates]:
        """What is wrong with all that a plan draws on, and how it stands; looked at once for all of its booklets."""
        key = (folder, kit_file)
        if key not in self._states:
            (library, found), entries = self.libraries.of(*key)
            mistakes = render_all(found, library.texts) if has_errors(found) else ""
            self._states[key] = (mistakes, PlanStates(*key, entries))
        return self._states[key]

    def _put_back(self, task: Task) -> Done | None:
        """Put a booklet from the store into its folder; None where the store has not all of it any more."""
        assert task.trace is not None
        files = self.store.files(task.trace.files)
        if files is None:
            return None
        failure = _written(task.booklet.target, files)
        return Done(task.booklet, What.FAILED if failure else What.PUT, failure or task.why)

    def _placed(self, task: Task, made: Made) -> Done:
        """Keep what was made, and put it into its folder."""
        booklet = task.booklet
        if not made.files:
            return Done(booklet, What.FAILED, made.told, made.seconds)
        if made.states is not None:
            trace = Trace(made.states, self.store.put_files(made.files), made.seconds)
            others = (one for one in traces.read(self.store.get(_trace_key(booklet))) if one.states != trace.states)
            self.store.put(_trace_key(booklet), traces.written((trace, *others)))
            if stands(booklet.target, trace):
                return Done(booklet, What.MAKE, task.why, made.seconds, unchanged=True)
        failure = _written(booklet.target, made.files)
        return Done(booklet, What.FAILED if failure else What.MAKE, failure or task.why, made.seconds)


def stands(target: Path, trace: Trace) -> bool:
    """Whether the very files of a trace stand in a folder, byte for byte; what cannot be read is not known to."""
    try:
        return _stands(target, trace)
    except OSError:
        return False


def _stands(target: Path, trace: Trace) -> bool:
    if written_there(target) != dict(trace.files):
        return False
    for name, digest in trace.files.items():
        file = target / name
        if file.is_symlink() or not file.is_file():
            return False
        with file.open("rb") as stream:
            if hashlib.file_digest(stream, "sha256").hexdigest() != digest:
                return False
    return True


def seconds_to_go(left: Iterable[Task], typical: float | None) -> float | None:
    """How many seconds making these takes one process: by what each took the last time, else by what is ``typical``; None where nothing is known."""
    known = [task.seconds if task.seconds is not None else typical for task in left if task.what is What.MAKE]
    return None if None in known else sum(one for one in known if one is not None)


def _cannot_be_placed(target: Path) -> str:
    """Why a booklet could not be put there, found out before the work and not after it; empty where it can."""
    try:
        why = refusal(target)
        if not why:
            try_place(target)
    except OSError as error:
        return _unwritable(target, error)
    return _not_written(target, why) if why else ""


def _written(target: Path, files: Mapping[str, bytes]) -> str:
    """Put files into a booklet's folder; why that could not be, or nothing."""
    try:
        write_set(target, files)
    except OutputRefusedError as error:
        return _not_written(target, str(error))
    except OSError as error:
        return _unwritable(target, error)
    return ""


def _not_written(target: Path, why: str) -> str:
    return f"{target}: nothing is written there, as {why}. Or name another folder with --out."


def _unwritable(target: Path, error: OSError) -> str:
    return f"{target}: cannot be written: {error.strerror}. The last good booklet is as it was."


def _listed(reasons: Sequence[str]) -> str:
    more = len(reasons) - _MOST_REASONS
    told = ", ".join(reasons[:_MOST_REASONS])
    return f"{told} and {more} more changed" if more > 0 else f"{told} changed"


def _trace_key(booklet: Booklet) -> str:
    return f"traces {booklet.key}"
