"""The life of the process that renders an author's own templates: page after page, each in a copy of the process, within limits.

No page may take more memory than ``MOST_MEMORY`` beyond what the process has to begin with, nor more time than the job says. Memory and
processor time are limited by the system where it can (Linux; other systems bound the time by the clock alone). Where a process cannot copy
itself, it renders one page and ends.
"""

from __future__ import annotations

import contextlib
import json
import os
import pickle
import signal
import struct
import sys
import time
from dataclasses import asdict
from math import ceil
from pathlib import Path
from typing import IO, Any, NoReturn

from drawleaf.book.words.own_templates import AtStepError, Fault, fault_in_own_template, fault_of_all

MOST_MEMORY = 512 * 2**20
"""Bytes beyond those that the process has when it begins to render: some twenty times what the largest of our own booklets takes."""
_SPARE = 128 * 2**20
"""Bytes more, in which the process says that it has used up the others."""
_LONGEST_PAGE = 64 * 2**20
_LENGTH = struct.Struct(">Q")


class _TimeIsUpError(Exception):
    """The processor time for the page is used up."""


def send(stream: IO[bytes], message: bytes) -> None:
    """A message with its length before it."""
    stream.write(_LENGTH.pack(len(message)))
    stream.write(message)
    stream.flush()


def receive(stream: IO[bytes]) -> bytes:
    """The next message. Raises EOFError where the other side has gone."""
    (length,) = _LENGTH.unpack(_exactly(stream, _LENGTH.size))
    return _exactly(stream, length)


def _exactly(stream: IO[bytes], length: int) -> bytes:
    found = stream.read(length)
    if found is None or len(found) < length:
        raise EOFError
    return found


def main() -> NoReturn:
    """Jobs come in and pages go out, until the other side has gone."""
    import drawleaf.book.output.booklet  # noqa: F401 - here, that no copy needs to

    jobs, answers = sys.stdin.buffer, sys.stdout.buffer
    with contextlib.suppress(EOFError, OSError):
        while True:
            job = receive(jobs)
            if not hasattr(os, "fork"):
                send(answers, json.dumps(_rendered(job)).encode())
                break
            send(answers, json.dumps(_in_a_copy(job)).encode())
    sys.exit(0)


def _in_a_copy(job: bytes) -> dict[str, Any]:
    """What a copy of this process makes of the job, and what it took."""
    reading, writing = os.pipe()
    copy = os.fork()
    if copy == 0:
        try:
            os.close(reading)
            with os.fdopen(writing, "wb") as stream:
                stream.write(json.dumps(_rendered(job)).encode())
        finally:
            os._exit(0)  # whatever went wrong, the copy never goes on as the process does
    os.close(writing)
    with os.fdopen(reading, "rb") as stream:
        said = stream.read()
    _, status, used = os.wait4(copy, 0)
    took = {
        "seconds": used.ru_utime + used.ru_stime,
        "megabytes": used.ru_maxrss * (1 if sys.platform == "darwin" else 1024) / 1e6,
    }
    if os.WIFSIGNALED(status):
        return {**took, "signal": os.WTERMSIG(status)}
    try:
        return {**json.loads(said), **took}
    except ValueError:
        return took


def _rendered(job: bytes) -> dict[str, Any]:
    from drawleaf.book.output.booklet import rendered

    derived, drawings, for_print, plan_folder, seconds = pickle.loads(job)
    _bind(seconds)
    try:
        page = rendered(derived, drawings, for_print=for_print, plan_folder=plan_folder)
        return {"page": page} if len(page) <= _LONGEST_PAGE else {"fault": asdict(_too_much(plan_folder))}
    except Exception as error:
        _loosen()
        return _told(error, plan_folder, seconds)


def _told(error: Exception, plan_folder: Path, seconds: float) -> dict[str, Any]:
    inner = error.__cause__ if isinstance(error, AtStepError) else error
    words, otherwise = None, None
    if isinstance(inner, _TimeIsUpError):
        words, otherwise = f"this takes more than {seconds:.0f} seconds of work", too_long(plan_folder, seconds)
    elif isinstance(inner, MemoryError):
        words, otherwise = f"this takes more than {MOST_MEMORY // 2**20} MB of memory", _too_much(plan_folder)
    fault = fault_in_own_template(error, plan_folder, words) or otherwise
    return {"fault": asdict(fault)} if fault else {"failure": f"{type(error).__name__}: {error}"}


def _bind(seconds: float) -> None:
    """Limits for what follows."""
    with contextlib.suppress(ImportError, ValueError, OSError):
        import resource

        def time_is_up(*_: object) -> NoReturn:
            raise _TimeIsUpError

        # The timer is exact, where a limit counts whole seconds; it goes off again and again, as what runs might swallow the first error.
        signal.signal(signal.SIGPROF, time_is_up)
        signal.setitimer(signal.ITIMER_PROF, seconds, 1.0)
        signal.signal(signal.SIGXCPU, time_is_up)
        end = ceil(time.process_time() + seconds)
        resource.setrlimit(resource.RLIMIT_CPU, (end, end + 2))
        resource.setrlimit(resource.RLIMIT_FSIZE, (0, 0))
        now = int(Path("/proc/self/statm").read_text().split()[0]) * resource.getpagesize()
        resource.setrlimit(resource.RLIMIT_AS, (now + MOST_MEMORY, now + MOST_MEMORY + _SPARE))


def _loosen() -> None:
    """Room to tell what went wrong: what used it all up is still there, as the error holds on to it."""
    with contextlib.suppress(ImportError, ValueError, OSError):
        import resource

        signal.setitimer(signal.ITIMER_PROF, 0.0)
        signal.signal(signal.SIGXCPU, signal.SIG_IGN)
        _, most = resource.getrlimit(resource.RLIMIT_AS)
        resource.setrlimit(resource.RLIMIT_AS, (most, most))


def too_long(plan_folder: Path, seconds: float) -> Fault:
    """A page that took all its time, nobody knows where."""
    return fault_of_all(plan_folder, f"with them a page takes more than {seconds:.0f} seconds of work")


def _too_much(plan_folder: Path) -> Fault:
    most = f"with them a page grows beyond {_LONGEST_PAGE // 2**20} MB, or takes {MOST_MEMORY // 2**20} MB to make"
    return fault_of_all(plan_folder, most)


def gave_up(plan_folder: Path) -> Fault:
    """A process that ended without a word."""
    return fault_of_all(plan_folder, "the process that rendered a page with them has ended before its time")
