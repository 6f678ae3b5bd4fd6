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
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from copy import copy
from typing import TYPE_CHECKING, Any, Literal

if TYPE_CHECKING:
    from concurrent.futures import Future
    from multiprocessing.process import BaseProcess

Job = Callable[[], Any]
Share = Callable[[Sequence[Job]], list[Any]]
"""Does all jobs and gives their results in order."""

_PATIENCE_SECONDS = 5.0
"""How long to wait for the second process beyond the time that the first one has worked."""
_jobs: Sequence[Job] = ()
"""In the second process: all jobs."""


def one_by_one(jobs: Sequence[Job]) -> list[Any]:
    """All jobs in this process."""
    return [job() for job in jobs]


def in_two_processes(jobs: Sequence[Job]) -> list[Any]:
    """All jobs, some of them in a second process. Results that come from there have been pickled. Raises what a job raises."""
    if len(jobs) < 2 or not _has_second_core():
        return one_by_one(jobs)

    began = time.monotonic()
    left = deque(range(len(jobs)))
    sent: dict[int, Future] = {}
    pool = Pool("fork", 1, _begin, (jobs,))

    def send_last(_: object = None) -> None:
        """One at a time, so that the first process never waits for more than one job."""
        with contextlib.suppress(IndexError, RuntimeError):  # none left, or the pool is broken
            number = left.pop()
            sent[number] = pool.submit(_do, number)
            sent[number].add_done_callback(send_last)

    done: dict[int, Any] = {}
    try:
        send_last()
    except OSError:  # no process can be started
        return one_by_one(jobs)
    try:
        for number in _from_front(left):
            done[number] = jobs[number]()
        now = time.monotonic()
        deadline = now + (now - began) + _PATIENCE_SECONDS
        for number, future in list(sent.items()):
            with contextlib.suppress(Exception):  # the first process does it then, and meets the same failure
                done[number] = future.result(max(0.0, deadline - time.monotonic()))
    finally:
        pool.end_at_once()
    return [done[number] if number in done else job() for number, job in enumerate(jobs)]


def _from_front(left: deque[int]) -> Iterator[int]:
    """Numbers until none is left; the second process takes some of them meanwhile."""
    with contextlib.suppress(IndexError):
        while True:
            yield left.popleft()


class Pool:
    """A pool of processes that can be ended at once, whatever they are doing: a pool's own ``kill_workers`` comes with Python 3.14."""

    def __init__(
        self, method: Literal["fork", "spawn"], count: int, begin: Callable[..., None], given: tuple[Any, ...]
    ) -> None:
        """``count`` processes, each of which calls ``begin`` with what it is ``given`` before its first job."""
        from concurrent.futures import ProcessPoolExecutor  # a check needs none
        from multiprocessing import get_context

        context = copy(get_context(method))
        start = context.Process  # type: ignore[attr-defined]
        self.processes: list[BaseProcess] = []
        """All that were started, also those that have ended since."""

        def started(*args: Any, **named: Any) -> BaseProcess:
            process = start(*args, **named)
            self.processes.append(process)
            return process

        context.Process = started  # type: ignore[method-assign,assignment]
        self._pool = ProcessPoolExecutor(count, context, begin, given)

    def submit(self, job: Callable[..., Any], *given: Any) -> Future:
        """A job for the next process that is free. Raises RuntimeError where a process has died, OSError where none can be started."""
        return self._pool.submit(job, *given)

    def end_at_once(self) -> None:
        """Kill all processes and drop all jobs."""
        for process in self.processes:
            if process.pid is not None:
                process.kill()
        self._pool.shutdown(cancel_futures=True)


def _has_second_core() -> bool:
    """Whether a fork is safe here, and would have a core of its own. On macOS forks of a process that has used system libraries may fail."""
    return sys.platform == "linux" and len(os.sched_getaffinity(0)) > 1


def _begin(jobs: Sequence[Job]) -> None:
    """In the second process, before its first job."""
    global _jobs
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # stopping is the first's business
    _jobs = jobs


def _do(number: int) -> Any:
    return _jobs[number]()
