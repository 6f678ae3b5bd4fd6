"""Jobs of one compile shared with a second process: the same results in order, whatever becomes of that process."""

from __future__ import annotations

import os
import time
from collections.abc import Callable
from multiprocessing import get_context
from multiprocessing.synchronize import Event

import pytest

from drawleaf import second_process as module
from drawleaf.second_process import in_two_processes

FORKS = pytest.mark.skipif(not module._has_second_core(), reason="one core, or a system on which nothing is forked")


def together(number: int, met: Event) -> Callable[[], tuple[int, int]]:
    """A job that the first process holds back until the second has begun one, and that tells who did it."""
    here = os.getpid()

    def job() -> tuple[int, int]:
        if os.getpid() == here:
            assert met.wait(600), "the second process does nothing"
        met.set()
        return number, os.getpid()

    return job


def slow(number: int) -> Callable[[], tuple[int, int]]:
    """A job that takes long enough for the second process to take its share, and tells who did it."""

    def job() -> tuple[int, int]:
        time.sleep(0.02)
        return number, os.getpid()

    return job


@FORKS
def test_two_processes_share_the_jobs(monkeypatch):
    """All done, in order, each once; the first by this process and the last by the other."""
    monkeypatch.setattr(
        module, "_PATIENCE_SECONDS", 600.0
    )  # on a busy machine the other may be slow to send what it has done
    met = get_context("fork").Event()
    found = in_two_processes([together(number, met) for number in range(30)])
    assert [number for number, _ in found] == list(range(30))
    assert len({process for _, process in found}) == 2
    assert found[0][1] == os.getpid() != found[-1][1]


def test_one_process_where_nothing_can_be_forked(monkeypatch):
    monkeypatch.setattr(module, "_has_second_core", lambda: False)
    assert in_two_processes([slow(number) for number in range(3)]) == [(number, os.getpid()) for number in range(3)]


def test_a_second_process_that_dies_is_made_up_for():
    """It is gone with all that it has done: this process does that too."""
    here = os.getpid()

    def deadly() -> str:
        if os.getpid() != here:
            os._exit(9)
        return "done here"

    jobs = [slow(0), *[deadly] * 3]
    assert in_two_processes(jobs) == [(0, here), *["done here"] * 3]


@FORKS
def test_a_second_process_that_hangs_is_not_waited_for(monkeypatch):
    monkeypatch.setattr(module, "_PATIENCE_SECONDS", 0.2)
    here = os.getpid()

    def endless() -> str:
        if os.getpid() != here:
            time.sleep(600)
        return "done here"

    began = time.monotonic()
    assert in_two_processes([slow(0), endless]) == [(0, here), "done here"]
    assert time.monotonic() - began < 300


def test_what_a_job_raises_is_raised():
    """Whichever process met it first."""

    def wrong() -> None:
        raise ValueError("no such part")

    for jobs in ([wrong, slow(1), slow(2)], [slow(1), slow(2), wrong]):
        with pytest.raises(ValueError, match="no such part"):
            in_two_processes(jobs)
