"""Tries a source through the whole check and says what went against the rules: a traceback, an error without a place, a hang."""

from __future__ import annotations

import signal
import traceback
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from drawleaf.compiler import Choice, Outcome, check_plan, compile_plan

LONGEST = 20
LONGEST_WHOLE = 120


class TooSlowError(Exception):
    """A source kept the compiler busy for longer than any source may."""


def trouble_with(text: str, folder: Path, *, whole: bool = False) -> str | None:
    """What is wrong in how ``text``, as the plan in ``folder``, is handled; None where all is well. ``whole`` makes the booklet too."""
    (folder / "plan.yaml").write_text(text, encoding="utf-8")
    try:
        with _at_most(LONGEST_WHOLE if whole else LONGEST):
            outcome = (compile_plan if whole else check_plan)(folder, Choice())
    except TooSlowError:
        return f"no answer in time: {_where_it_was()}"
    except Exception:
        return traceback.format_exc(limit=-4)
    return _complaint(outcome)


def _complaint(outcome: Outcome) -> str | None:
    if outcome.derived is None and not outcome.failed:
        return "no plan came out, and nothing was said"
    for one in outcome.diagnostics:
        if one.is_error and one.position is None:
            return f"an error without a place: [{one.code}] {one.message}; {one.cause}"
        if not one.message.strip() or "Traceback" in one.message:
            return f"an empty or raw message: [{one.code}]"
        if one.position and one.position.file in outcome.texts:
            lines = outcome.texts[one.position.file].split("\n")
            if not 1 <= one.position.line <= len(lines):
                return f"a place outside the file: [{one.code}] {one.position}"
    return None


_stopped_at = ""


def _where_it_was() -> str:
    return _stopped_at


@contextmanager
def _at_most(seconds: int) -> Iterator[None]:
    def stop(_signal: int, frame: object) -> None:
        global _stopped_at
        _stopped_at = "".join(traceback.format_stack(frame, limit=3))  # type: ignore[arg-type]
        raise TooSlowError

    # Processor time, so that a busy computer is not taken for a hang.
    before = signal.signal(signal.SIGPROF, stop)
    signal.setitimer(signal.ITIMER_PROF, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)
