"""Templates of an author's own are rendered by a process of their own, within limits, as a plan may come from a stranger.

That process (``renderer``) gets the plan and its drawings, and sends back the page or what is wrong. Whatever a template does, the compiler
and the preview go on. The process is kept for the next page; it renders each in a copy of itself, so that no page finds what another left.
"""

from __future__ import annotations

import atexit
import contextlib
import json
import os
import pickle
import signal
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from threading import Lock, Timer

import drawleaf
from drawleaf.book.output import renderer
from drawleaf.book.words.own_templates import Fault, TemplateFaultError
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawings

SECONDS, SECONDS_FOR_A_MEGABYTE = 5.0, 1.0
"""Processor time for a page, and for each megabyte that is to be printed in it. Ours take a third of this."""
_CLOCK = 10.0
"""So many times the processor time may pass on the clock: the computer may have other work."""
_START = 60.0
"""Seconds on the clock for the process to begin."""


@dataclass(frozen=True, slots=True)
class Rendering:
    """A page, or the ``fault`` of a template; and what it took: ``seconds`` of processor time, ``megabytes`` at the most."""

    page: str | None
    fault: Fault | None
    seconds: float
    megabytes: float


def render_apart(derived: Derived, drawings: Drawings, *, for_print: bool, plan_folder: Path) -> str:
    """The page as ``booklet.rendered`` gives it. Raises TemplateFaultError where a template of the author's own is at fault or takes too much."""
    made = rendering(derived, drawings, for_print=for_print, plan_folder=plan_folder)
    if made.page is None:
        raise TemplateFaultError(made.fault or renderer.gave_up(plan_folder))
    return made.page


def rendering(
    derived: Derived, drawings: Drawings, *, for_print: bool, plan_folder: Path, seconds: float | None = None
) -> Rendering:
    """The same with what it took, in ``seconds`` at the most where that is given. Raises RuntimeError where our own code failed."""
    told = pickle.dumps((derived, drawings))
    seconds = SECONDS + SECONDS_FOR_A_MEGABYTE * len(told) / 1e6 if seconds is None else seconds
    job = pickle.dumps((derived, drawings, for_print, plan_folder, seconds))
    answer = _process().ask(job, seconds)
    if answer is None:
        return Rendering(None, renderer.too_long(plan_folder, seconds), seconds, 0.0)
    took = answer.get("seconds", 0.0), answer.get("megabytes", 0.0)
    if "failure" in answer:
        raise RuntimeError(answer["failure"])
    if "page" in answer:
        return Rendering(answer["page"], None, *took)
    if "fault" in answer:
        return Rendering(None, Fault(**answer["fault"]), *took)
    stopped = answer.get("signal") in (getattr(signal, "SIGXCPU", None), getattr(signal, "SIGKILL", None))
    return Rendering(
        None, (renderer.too_long(plan_folder, seconds) if stopped else renderer.gave_up(plan_folder)), *took
    )


class _Process:
    """The process that renders, for as long as this one lives or until it fails to answer."""

    def __init__(self) -> None:
        # Without -P the folder in which the command is given could bring modules of its own; -B: the process writes nothing.
        begin = f"import sys; sys.path.insert(0, sys.argv[1]); from {renderer.__name__} import main; main()"
        ours = str(Path(drawleaf.__file__).resolve().parents[1])
        self.owner, self._lock = os.getpid(), Lock()
        self._popen = subprocess.Popen(
            [sys.executable, "-P", "-B", "-c", begin, ours],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            # One thread: a copy of a process has none of its other threads.
            env={**os.environ, "OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"},
            start_new_session=True,
        )

    @property
    def serves(self) -> bool:
        """Whether it can be asked, and from this process: a copy of the one that began it must begin its own."""
        return self.owner == os.getpid() and self._popen.poll() is None

    def ask(self, job: bytes, seconds: float) -> dict | None:
        """The answer to a job; None where none comes in time, and the process is then ended."""
        sending, coming = self._popen.stdin, self._popen.stdout
        assert sending is not None
        assert coming is not None
        with self._lock:
            late = Timer(_START + _CLOCK * seconds, self.kill)
            late.start()
            try:
                renderer.send(sending, job)
                return json.loads(renderer.receive(coming))
            except (OSError, EOFError, ValueError):
                self.kill()
                return None
            finally:
                late.cancel()

    def kill(self) -> None:
        """End it and whatever it began."""
        with contextlib.suppress(OSError):
            if hasattr(os, "killpg"):
                os.killpg(self._popen.pid, signal.SIGKILL)
            else:
                self._popen.kill()

    def close(self) -> None:
        """Let it end by itself, as nothing more will be asked; end it where it does not."""
        try:
            self._popen.communicate(timeout=_CLOCK)
        except (OSError, ValueError, subprocess.TimeoutExpired):
            self.kill()
            self._popen.wait()


_kept: _Process | None = None


def _process() -> _Process:
    global _kept
    if _kept is None or not _kept.serves:
        _kept = _Process()
    return _kept


def end_renderer() -> None:
    """End the process that renders, if there is one; the next page begins another."""
    global _kept
    if _kept is not None and _kept.owner == os.getpid():
        _kept.close()
    _kept = None


atexit.register(end_renderer)
