"""Plain processes that make booklets side by side.

Each takes one job after the other. One that dies over a job is replaced, and the job tried once more in a new one; a second death is the job's failure
and stops nothing else. All of them end when this process does, however it ends.
"""

from __future__ import annotations

import contextlib
import os
import signal
import threading
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from multiprocessing import get_context, parent_process
from multiprocessing.connection import Connection, wait
from multiprocessing.process import BaseProcess
from typing import Protocol, cast

from drawleaf.catalogue.making import Job, Libraries, Made, make
from drawleaf.catalogue.sharing import Bench
from drawleaf.catalogue.store import Store

TRIES = 2
"""How often a job is tried whose process dies."""
MOST_JOBS = 40
"""After so many jobs a process is replaced by a new one, as what it keeps in mind grows."""


def cores() -> int:
    """How many cores this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


Work = Callable[[Job, Libraries, Bench], Made]
"""Does one job."""


class Crew(Protocol):
    """Whoever makes booklets."""

    def make(self, jobs: Sequence[Job]) -> Iterator[tuple[int, Made]]:
        """All jobs, in whatever order they are done: the place of each among them, and what it gave."""
        ...


class Alone:
    """This process, one job after the other."""

    def __init__(self, store: Store | None = None) -> None:
        """``store`` is where editions find what others have made."""
        self._store = store

    def make(self, jobs: Sequence[Job]) -> Iterator[tuple[int, Made]]:
        """All jobs in their order."""
        libraries, bench = Libraries(), Bench(self._store)
        for place, job in enumerate(jobs):
            yield place, make(job, libraries, bench)


class Processes:
    """So many processes of this machine."""

    def __init__(self, count: int, store: Store | None = None, work: Work = make) -> None:
        """``store`` is where editions find what others have made; ``work`` does a job, found by its name in each process."""
        self._count, self._store, self._work = count, store, work

    def make(self, jobs: Sequence[Job]) -> Iterator[tuple[int, Made]]:
        """All jobs, each by the first process that is free. Raises OSError where no process can be started."""
        waiting = deque((place, job) for place, job in enumerate(jobs))
        tries = [0] * len(jobs)
        hands: list[_Hand] = []
        try:
            while waiting or any(hand.busy for hand in hands):
                hands = [hand for hand in hands if hand.busy or not hand.tired or hand.end()]
                while waiting and len(hands) < self._count:
                    hands.append(_started(self._work, self._store))
                for hand in hands:
                    if waiting and not hand.busy and not hand.tired:
                        place, job = waiting.popleft()
                        tries[place] += 1
                        hand.give(place, job)
                for hand in _ready(hands):
                    place, made = hand.take()
                    if made is None:
                        hands.remove(hand)
                        if tries[place] < TRIES:
                            waiting.appendleft((place, jobs[place]))
                            continue
                        made = Made(told=f"{jobs[place].folder.name}: {_died(hand.process)}")
                    yield place, made
        finally:
            for hand in hands:
                hand.process.kill()


@dataclass
class _Hand:
    """One of the processes, with the job that it is at."""

    process: BaseProcess
    line: Connection
    place: int | None = None
    done: int = 0

    @property
    def busy(self) -> bool:
        return self.place is not None

    @property
    def tired(self) -> bool:
        return self.done >= MOST_JOBS

    def give(self, place: int, job: Job) -> None:
        self.place = place
        with contextlib.suppress(OSError):  # it has died: that shows when its answer is taken
            self.line.send(job)

    def take(self) -> tuple[int, Made | None]:
        """The place of its job, and what that gave; None where the process has died over it."""
        assert self.place is not None
        place, self.place = self.place, None
        self.done += 1
        try:
            return place, self.line.recv()
        except (EOFError, OSError):
            self.process.kill()
            self.process.join()
            return place, None

    def end(self) -> bool:
        """Let it go; False, so that it is struck off the list."""
        self.line.close()
        return False


def _started(work: Work, store: Store | None) -> _Hand:
    # Spawned and not forked: the progress display is a thread of this process.
    context = get_context("spawn")
    ours, theirs = context.Pipe()
    process = context.Process(target=_serve, args=(theirs, work, store), daemon=True)
    process.start()
    theirs.close()
    return _Hand(process, ours)


def _ready(hands: Sequence[_Hand]) -> list[_Hand]:
    """Those that have an answer, or have died; waits for the first."""
    busy = {hand.line: hand for hand in hands if hand.busy}
    return [busy[cast(Connection, line)] for line in wait(list(busy))]


def _died(process: BaseProcess) -> str:
    code = process.exitcode
    how = f"was ended by signal {-code}" if code is not None and code < 0 else f"ended with status {code}"
    memory = ", which the system does where memory runs out" if code == -getattr(signal, "SIGKILL", 9) else ""
    return f"the process that made it {how}{memory}, {TRIES} times. Nothing else was stopped by it."


def _serve(line: Connection, work: Work, store: Store | None) -> None:
    """In a process of the crew: jobs until the line is closed."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # stopping is the first process's business
    gc_off()
    threading.Thread(target=_leave_with_parent, daemon=True).start()
    libraries, bench = Libraries(), Bench(store)
    with contextlib.suppress(EOFError, OSError):
        while True:
            line.send(work(line.recv(), libraries, bench))


def gc_off() -> None:
    """As in ``drawleaf compile``: the cyclic collector costs much within a booklet; ``make`` runs it between them."""
    import gc

    gc.disable()


def _leave_with_parent() -> None:
    """End this process when the first has ended, even if it was killed."""
    parent = parent_process()
    if parent is not None:
        parent.join()
        os._exit(0)
