"""More hands for a workshop: processes that make in advance what it will ask for, each on a core of its own.

A hand is a workshop too, one for each edition that it is asked for. It reads the same plan, does the jobs that it is given and sends what
its own ``Kept`` holds of them. Results go under fingerprints of what they were made from, so that what a hand made of another state of the source can never be taken for that of this
one: it only is of no use. A workshop without hands does all of it alone and gives the very same.
"""

from __future__ import annotations

import contextlib
import os
import signal
from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import dataclass, field
from multiprocessing import get_context
from multiprocessing.connection import Connection, wait
from multiprocessing.process import BaseProcess
from pathlib import Path
from typing import Any, Protocol

from drawleaf.compiler import Choice

Job = tuple[str, ...]
"""Ids of drawings to be made; ``LAYOUTS`` for the tidy layouts."""
LAYOUTS: Job = ("layouts",)
Results = Mapping[Hashable, Any]

MOST_HANDS = 4
_AT_ONCE = 5
"""Jobs that a hand has before it, so that it need not wait for the next."""


Order = tuple[int, Job | Choice]
"""With the number of the save: a job, or to read the plan as that choice has it."""

EDITIONS = 3
"""So many editions are kept warm beside one another."""


class Bench(Protocol):
    """What a hand works at."""

    def take_up(self) -> object: ...
    def do(self, job: Job) -> Results: ...


@dataclass(slots=True)
class _Hand:
    process: BaseProcess
    pipe: Connection
    jobs: list[Job] = field(default_factory=list)


def hands_to_spare() -> int:
    """One core for the workshop itself, the others for hands."""
    return min(MOST_HANDS, (os.cpu_count() or 1) - 1)


class Crew:
    """Hands at work for one plan, in one edition at a time. They start when first needed; one that fails is sent home."""

    def __init__(self, folder: Path, choice: Choice, hands: int) -> None:
        self._folder, self._choice, self._wanted = folder, choice, hands
        self._hands: list[_Hand] = []
        self._round = 0

    def begin(self, choice: Choice | None = None) -> None:
        """The source was saved, or another edition is wanted from now on: jobs not yet begun are dropped, and every hand reads the plan."""
        self._choice = choice or self._choice
        self._round += 1
        if self._wanted and not self._hands:
            self._hands = [_hire(self._folder) for _ in range(self._wanted)]
            self._wanted = 0  # those that leave are not replaced
        for hand in list(self._hands):
            hand.jobs = []
            self._send(hand, (self._round, self._choice))

    def give(self, next_job: Callable[[], Job | None]) -> None:
        """Jobs for all hands that have room for one, as long as there are any."""
        for hand in list(self._hands):
            while len(hand.jobs) < _AT_ONCE and (job := next_job()) is not None:
                hand.jobs.append(job)
                if not self._send(hand, (self._round, job)):
                    break

    def done(self, seconds: float) -> list[tuple[Job, Results]]:
        """The jobs that are done; waits so long for the first of them if there is none yet. A job whose hand failed has no results."""
        found: list[tuple[Job, Results]] = []
        by_pipe = {hand.pipe: hand for hand in self._hands if hand.jobs}
        for pipe in wait(list(by_pipe), seconds) if by_pipe else ():
            hand = by_pipe[pipe]  # type: ignore[index]
            try:
                number, job, results = hand.pipe.recv()
            except (EOFError, OSError):
                found += [(job, {}) for job in hand.jobs]
                self._send_home(hand)
                continue
            if number == self._round:
                hand.jobs.remove(job)
                found.append((job, results))
        return found

    @property
    def busy(self) -> bool:
        """Whether any job is not done yet."""
        return any(hand.jobs for hand in self._hands)

    def dismiss(self) -> None:
        """Send all hands home."""
        self._wanted = 0
        for hand in list(self._hands):
            self._send_home(hand)

    def _send(self, hand: _Hand, order: Order) -> bool:
        try:
            hand.pipe.send(order)
        except OSError:
            return False  # it is gone; `done` will notice and tell
        return True

    def _send_home(self, hand: _Hand) -> None:
        self._hands.remove(hand)
        hand.pipe.close()
        hand.process.terminate()


def _hire(folder: Path) -> _Hand:
    context = get_context("spawn")  # a server with threads must not be forked
    ours, theirs = context.Pipe()
    process = context.Process(target=work, args=(theirs, folder), name="drawleaf hand", daemon=True)
    process.start()
    theirs.close()
    return _Hand(process, ours)


def work(pipe: Connection, folder: Path) -> None:
    """The whole life of a hand: until the other end of its pipe is closed."""
    from drawleaf.workshop import Editions

    signal.signal(signal.SIGINT, signal.SIG_IGN)  # stopping is the workshop's business
    if hasattr(os, "nice"):
        os.nice(5)
    benches = Editions(folder)
    bench: Bench | None = None
    orders: list[Order] = []
    with contextlib.suppress(EOFError, OSError):
        while True:
            if not orders:
                orders.append(pipe.recv())
            while pipe.poll():
                orders.append(pipe.recv())
            orders = _from_last_save(orders)
            number, job = orders.pop(0)
            if isinstance(job, Choice):
                bench = benches.of(job)
                _quietly(bench.take_up)
            elif bench is not None:
                pipe.send((number, job, _quietly(lambda job=job, bench=bench: bench.do(job)) or {}))


def _from_last_save(orders: Sequence[Order]) -> list[Order]:
    """Orders that count: those since the last save."""
    saves = [place for place, (_, job) in enumerate(orders) if isinstance(job, Choice)]
    return list(orders[saves[-1] :] if saves else orders)


def _quietly(work: Callable[[], Any]) -> Any:
    """What the work gives; None where it fails. The workshop then does it itself and meets the same failure, which it tells."""
    try:
        return work()
    except Exception:
        return None
