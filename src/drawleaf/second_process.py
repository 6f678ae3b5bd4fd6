"""Independent jobs of one compile done by two processes, where the computer has a second core to spare.

The second process is a fork: it has all that was made so far, and sends back what it makes. The first takes jobs from the front of the list
and the second from the back, so that neighbours, which have most in common, are done by one. Each job gives the same whoever does it. Where no
process can be forked, or it fails or does not answer, the first does all of it alone.
"""

from __future__ import annotations

import contextlib
import os
import signal
import sys
import time
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from multiprocessing.connection import Connection
    from multiprocessing.context import BaseContext

Job = Callable[[], Any]
Share = Callable[[Sequence[Job]], list[Any]]
"""Does all jobs and gives what they gave, in order."""

_PATIENCE_SECONDS = 5.0
"""So much longer than the first process has worked may it wait for the second."""


def one_by_one(jobs: Sequence[Job]) -> list[Any]:
    """All jobs in this process."""
    return [job() for job in jobs]


def both_hands(jobs: Sequence[Job]) -> list[Any]:
    """All jobs, some of them in a second process. Results that come from there have been pickled. Raises what a job raises."""
    if len(jobs) < 2 or not _has_second_hand():
        return one_by_one(jobs)

    import multiprocessing  # a check needs none

    began = time.monotonic()
    context = multiprocessing.get_context("fork")
    queue = _Queue(len(jobs), context)
    ours, theirs = context.Pipe(duplex=False)
    hand = context.Process(target=_help, args=(jobs, queue, theirs), name="drawleaf second hand", daemon=True)
    try:
        hand.start()
    except OSError:
        return one_by_one(jobs)
    theirs.close()
    done: dict[int, Any] = {}
    try:
        while (number := queue.first()) is not None:
            done[number] = jobs[number]()
        done |= _sent(ours, time.monotonic() - began + _PATIENCE_SECONDS)
    finally:
        ours.close()
        hand.kill()
        hand.join()
    return [done[number] if number in done else job() for number, job in enumerate(jobs)]


def _has_second_hand() -> bool:
    """Whether a fork is safe here, and would have a core of its own. On macOS forks of a process that has used system libraries may fail."""
    return sys.platform == "linux" and len(os.sched_getaffinity(0)) > 1


class _Queue:
    """The jobs not yet begun, by number: from ``_ends[0]`` up to but not with ``_ends[1]``."""

    def __init__(self, count: int, context: BaseContext) -> None:
        self._lock, self._ends = context.Lock(), context.RawArray("i", [0, count])

    def first(self) -> int | None:
        return self._taken(0, 1)

    def last(self) -> int | None:
        return self._taken(1, -1)

    def _taken(self, end: int, step: int) -> int | None:
        if not self._lock.acquire(timeout=_PATIENCE_SECONDS):
            return None  # whoever held it is gone
        try:
            if self._ends[0] >= self._ends[1]:
                return None
            number = self._ends[end] + min(step, 0)
            self._ends[end] += step
            return number
        finally:
            self._lock.release()


def _sent(pipe: Connection, seconds: float) -> dict[int, Any]:
    """What the second process made; nothing where it failed."""
    try:
        return pipe.recv() if pipe.poll(seconds) else {}
    except (EOFError, OSError):
        return {}


def _help(jobs: Sequence[Job], queue: _Queue, pipe: Connection) -> None:
    """The life of the second process. It says nothing of a job that fails: the first does it then, and meets the same failure."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # stopping is the first's business
    done: dict[int, Any] = {}
    with contextlib.suppress(Exception):
        while (number := queue.last()) is not None:
            done[number] = jobs[number]()
    pipe.send(done)
