"""Worker processes for a workshop: they make in advance what it will ask for, each on a core of its own.

Each worker keeps workshops of its own, one for each edition that it is asked for. It reads the same plan, does the jobs that it is given and
sends back what its own cache gained. Results made from an older save have other fingerprints and are ignored. A workshop without workers
does all of it alone and gives the very same.
"""

from __future__ import annotations

import contextlib
import os
import signal
import threading
from collections.abc import Callable, Hashable, Mapping
from concurrent.futures import FIRST_COMPLETED, Future, wait
from multiprocessing import get_context, parent_process
from multiprocessing.sharedctypes import Synchronized
from pathlib import Path
from typing import Any, Protocol

from drawleaf.compiler import Choice
from drawleaf.second_process import Pool

Job = tuple[str, ...]
"""Ids of drawings to be made; ``LAYOUTS`` for the tidy layouts."""
LAYOUTS: Job = ("layouts",)
Results = Mapping[Hashable, Any]

MOST_WORKERS = 4
_AT_ONCE = 3
"""Jobs given out for each worker, so that it does not wait for the next."""


class Session(Protocol):
    """What a worker works with: a workshop of one edition."""

    def take_up(self) -> object: ...
    def do(self, job: Job) -> Results: ...


class Sessions(Protocol):
    """The sessions of one plan, by edition."""

    def of(self, choice: Choice) -> Session: ...


Open = Callable[[Path], Sessions]
"""Makes the sessions for a plan's folder. It is pickled by its name."""


def spare_cores() -> int:
    """One core for the workshop itself, the others for workers."""
    return min(MOST_WORKERS, (os.cpu_count() or 1) - 1)


class Workers:
    """Workers for one plan, in one edition at a time. They start when first needed; where one fails, the workshop goes on without."""

    def __init__(self, open_sessions: Open, folder: Path, choice: Choice, workers: int) -> None:
        self._open, self._folder, self._choice, self._count = open_sessions, folder, choice, workers
        self._save = get_context("spawn").Value("i", 0)
        self._pool: Pool | None = None
        self._jobs: dict[Future[Results], Job] = {}

    def begin(self, choice: Choice | None = None) -> None:
        """The source was saved, or another edition is wanted from now on: jobs not yet begun are dropped, and the workers read the plan."""
        self._choice = choice or self._choice
        self._save.value += 1
        for future in self._jobs:
            future.cancel()
        self._jobs = {}
        if self._count and self._pool is None:
            # Spawned: a server with threads must not be forked.
            self._pool = Pool("spawn", self._count, start_worker, (self._open, self._folder, self._save))
        for _ in range(self._count):
            self._submit(None)

    def give(self, next_job: Callable[[], Job | None]) -> None:
        """Hand out jobs as long as there are any and the workers have room for them."""
        while self._pool and len(self._jobs) < _AT_ONCE * self._count and (job := next_job()) is not None:
            future = self._submit(job)
            if future is None:
                future = Future()
                future.set_result({})
            self._jobs[future] = job

    def done(self, seconds: float) -> list[tuple[Job, Results]]:
        """The jobs that are done; waits so many seconds for the first of them if there is none yet. A job that failed has no results."""
        finished, _ = wait(self._jobs, seconds, FIRST_COMPLETED)
        return [(self._jobs.pop(future), _results(future)) for future in list(self._jobs) if future in finished]

    @property
    def busy(self) -> bool:
        """Whether any job is not done yet."""
        return bool(self._jobs)

    def dismiss(self) -> None:
        """End all workers, whatever they are doing."""
        self._count = 0
        if self._pool is not None:
            self._pool.end_at_once()
            self._pool = None

    def _submit(self, job: Job | None) -> Future[Results] | None:
        """A job, or to read the plan; None where the workers are gone."""
        if self._pool is None:
            return None
        try:
            return self._pool.submit(work, self._save.value, self._choice, job)
        except RuntimeError:  # a worker died, and the pool with it
            self.dismiss()
            return None


def _results(future: Future[Results]) -> Results:
    """What a job gave; nothing where it failed. The workshop then does it itself, and meets and reports the same failure."""
    try:
        return future.result(0)
    except Exception:
        return {}


class _Worker:
    """The life of a worker: which plan it works at, and as of which save it has read it."""

    def __init__(self, sessions: Sessions, save: Synchronized[int]) -> None:
        self._sessions, self._save = sessions, save
        self._read = 0
        self._session: Session | None = None

    def do(self, save: int, choice: Choice, job: Job | None) -> Results:
        """Do a job, or only read the plan. A job of an older save is dropped."""
        if save != self._save.value:
            return {}
        if self._session is None or save != self._read:
            self._read, self._session = save, self._sessions.of(choice)
            with contextlib.suppress(Exception):
                self._session.take_up()
        return self._session.do(job) if job is not None else {}


_worker: _Worker | None = None
"""In a worker process: the worker that it is."""


def start_worker(open_sessions: Open, folder: Path, save: Synchronized[int]) -> None:
    """In a worker process, before its first job."""
    global _worker
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # stopping is the workshop's business
    if hasattr(os, "nice"):
        os.nice(5)
    threading.Thread(target=_leave_with_parent, daemon=True).start()
    _worker = _Worker(open_sessions(folder), save)


def _leave_with_parent() -> None:
    """End this process when the workshop's has ended, even if it was killed: a pool does not see to that."""
    parent = parent_process()
    if parent is not None:
        parent.join()
        os._exit(0)


def work(save: int, choice: Choice, job: Job | None) -> Results:
    """In a worker process: one job of a save."""
    assert _worker is not None
    return _worker.do(save, choice, job)
