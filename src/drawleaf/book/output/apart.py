"""Templates of an author's own are rendered by a process of their own, within limits, as a plan may come from a stranger.

That process gets the plan and its drawings, and sends back the page or what is wrong. Whatever a template does, the compiler and the preview
go on: no page may take more memory than ``MOST_MEMORY`` beyond what the process has to begin with, nor more time than ``_seconds_for``.
Memory and processor time are limited by the system where it can (Linux; other systems bound the time by the clock alone).
"""

from __future__ import annotations

import contextlib
import json
import pickle
import signal
import subprocess
import sys
import time
from dataclasses import asdict
from math import ceil
from pathlib import Path
from typing import Any, NoReturn

import drawleaf
from drawleaf.book.words.own_templates import (
    AtStepError,
    Fault,
    TemplateFaultError,
    fault_in_own_template,
    fault_of_all,
)
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawings

MOST_MEMORY = 512 * 2**20
"""Bytes beyond those that the process has when it begins to render: some twenty times what the largest of our own booklets takes."""
_SPARE = 128 * 2**20
"""Bytes more, in which the process tells that it has used up the others."""
_LONGEST_PAGE = 64 * 2**20
_SECONDS, _SECONDS_FOR_A_MEGABYTE = 5.0, 1.0
_CLOCK = 10.0
"""So many times the processor time may pass on the clock: the computer may have other work."""
_BEGIN = f"import sys; sys.path.insert(0, sys.argv[1]); from {__name__} import main; main()"


class _TimeIsUpError(Exception):
    """The processor time for the page is used up."""


def render_apart(derived: Derived, drawings: Drawings, *, for_print: bool, plan_folder: Path) -> str:
    """The page as ``booklet.rendered`` gives it. Raises TemplateFaultError where a template of the author's own is at fault or takes too much."""
    job = pickle.dumps((derived, drawings, for_print, plan_folder))
    seconds = _seconds_for(job)
    # Without -P the folder in which the command is given could bring modules of its own; -B: the process writes nothing.
    command = [
        sys.executable,
        "-P",
        "-B",
        "-c",
        _BEGIN,
        str(Path(drawleaf.__file__).resolve().parents[1]),
        str(seconds),
    ]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL) as process:
        try:
            said, _ = process.communicate(job, timeout=_CLOCK * seconds)
        except subprocess.TimeoutExpired:
            process.kill()
            raise TemplateFaultError(_too_long(plan_folder, seconds)) from None
    if process.returncode in (-getattr(signal, "SIGXCPU", 0), -getattr(signal, "SIGKILL", 0)):
        raise TemplateFaultError(_too_long(plan_folder, seconds))
    try:
        answer = json.loads(said)
    except ValueError:
        raise TemplateFaultError(_gave_up(plan_folder)) from None
    if "fault" in answer:
        raise TemplateFaultError(Fault(**answer["fault"]))
    if "failure" in answer:
        raise RuntimeError(answer["failure"])
    return answer["page"]


def main() -> NoReturn:
    """The life of the process: one page."""
    from drawleaf.book.output.booklet import rendered

    derived, drawings, for_print, plan_folder = pickle.loads(sys.stdin.buffer.read())
    seconds = float(sys.argv[2])
    _bind(seconds)
    try:
        page = rendered(derived, drawings, for_print=for_print, plan_folder=plan_folder)
        answer = {"page": page} if len(page) <= _LONGEST_PAGE else {"fault": asdict(_too_much(plan_folder))}
    except Exception as error:
        _loosen()
        answer = _told(error, plan_folder, seconds)
    sys.stdout.write(json.dumps(answer))
    sys.stdout.flush()
    sys.exit(0)


def _told(error: Exception, plan_folder: Path, seconds: float) -> dict[str, Any]:
    inner = error.__cause__ if isinstance(error, AtStepError) else error
    words, otherwise = None, None
    if isinstance(inner, _TimeIsUpError):
        words, otherwise = f"this takes more than {seconds:.0f} seconds of work", _too_long(plan_folder, seconds)
    elif isinstance(inner, MemoryError):
        words, otherwise = f"this takes more than {MOST_MEMORY // 2**20} MB of memory", _too_much(plan_folder)
    fault = fault_in_own_template(error, plan_folder, words) or otherwise
    return {"fault": asdict(fault)} if fault else {"failure": f"{type(error).__name__}: {error}"}


def _seconds_for(job: bytes) -> float:
    """Processor time for a page. Ours take a third of this: the more is to be told, the longer."""
    return _SECONDS + _SECONDS_FOR_A_MEGABYTE * len(job) / 1e6


def _bind(seconds: float) -> None:
    """Limits for what follows."""
    with contextlib.suppress(ImportError, ValueError, OSError):
        import resource

        def time_is_up(*_: object) -> NoReturn:
            raise _TimeIsUpError

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

        signal.signal(signal.SIGXCPU, signal.SIG_IGN)
        _, most = resource.getrlimit(resource.RLIMIT_AS)
        resource.setrlimit(resource.RLIMIT_AS, (most, most))


def _too_long(plan_folder: Path, seconds: float) -> Fault:
    return fault_of_all(plan_folder, f"with them a page takes more than {seconds:.0f} seconds of work")


def _too_much(plan_folder: Path) -> Fault:
    return fault_of_all(
        plan_folder,
        f"with them a page grows beyond {_LONGEST_PAGE // 2**20} MB, or takes {MOST_MEMORY // 2**20} MB to make",
    )


def _gave_up(plan_folder: Path) -> Fault:
    return fault_of_all(plan_folder, "the process that rendered a page with them has ended before its time")
