"""Tries a source through the whole check and says what went against the rules: a traceback, a message without a place, a hang.

What passes is also written as data and read by the reader of outputs, which knows what cannot be.
"""

from __future__ import annotations

import signal
import traceback
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from drawleaf.book.output.data import cut_list_csv, plan_json, shopping_list_csv
from drawleaf.compiler import Choice, Loaded, Outcome, check_plan, compile_plan, read_and_resolve, work_out
from drawleaf.model.derived import Derived
from drawleaf.resources import shared_folders
from drawleaf.source.library import load_library
from drawleaf.source.text_files import lines_of
from drawleaf.units import Units
from fuzz.outputs_reader import faults_in

LONGEST = 20
LONGEST_WHOLE = 120
CHOICES = (
    Choice(),
    Choice(units=Units("mm")),
    Choice(units=Units("both"), paper="a4"),
    Choice(kit="hand tools"),
    Choice(kit="hand-held only"),
    Choice(kit="full shop"),
)


class TooSlowError(BaseException):
    """A source kept the compiler busy for longer than any source may. No ``except Exception`` on the way can take it for its own."""


def trouble_with(text: str, folder: Path, *, whole: bool = False) -> str | None:
    """What is wrong in how ``text``, as the plan in ``folder``, is handled; None where all is well. ``whole`` makes the booklet too."""
    (folder / "plan.yaml").write_text(text, encoding="utf-8")
    trouble, outcome = _guarded(
        lambda: (compile_plan if whole else check_plan)(folder, Choice()), LONGEST_WHOLE if whole else LONGEST
    )
    return trouble or _complaint(outcome) or _fault(outcome)


class Trials:
    """Many sources one after another, as plans in one folder, with the shared folders read once."""

    def __init__(self, folder: Path) -> None:
        folder.mkdir(parents=True, exist_ok=True)
        self.folder, self.passed = folder, False
        self.library: Loaded = load_library(shared_folders(folder))

    def trouble_with(self, text: str, dice: int = 0) -> str | None:
        """As the function of that name; ``dice`` picks units, paper and kit. ``passed`` says afterwards whether the source was good."""
        (self.folder / "plan.yaml").write_text(text, encoding="utf-8")
        trouble, outcome = _guarded(lambda: self._check(CHOICES[dice % len(CHOICES)]), LONGEST)
        self.passed = outcome is not None and not outcome.failed
        return trouble or _complaint(outcome) or _fault(outcome)

    def _check(self, choice: Choice) -> Outcome:
        outcome, plan = read_and_resolve(self.folder, choice, library=self.library)
        return outcome if plan is None else work_out(outcome, plan, tidy=False)[0]


def _guarded(run: Callable[[], Outcome], seconds: int) -> tuple[str | None, Outcome | None]:
    try:
        with _at_most(seconds):
            return None, run()
    except TooSlowError:
        return f"no answer in time: {_where_it_was()}", None
    except Exception:
        return traceback.format_exc(limit=-4), None


def data_files(derived: Derived) -> dict[str, bytes]:
    """What a compile writes of a plan as data, without drawing or printing anything."""
    return {
        "plan.json": plan_json(derived).encode(),
        "cut-list.csv": cut_list_csv(derived).encode(),
        "shopping-list.csv": shopping_list_csv(derived).encode(),
    }


def _fault(outcome: Outcome | None) -> str | None:
    """What the outputs of a plan that is called good say wrong."""
    if outcome is None or outcome.derived is None or outcome.failed:
        return None
    try:
        found = faults_in({**data_files(outcome.derived), **outcome.files})
    except Exception:
        return f"its outputs cannot be written or read:\n{traceback.format_exc(limit=-4)}"
    return "; ".join(found[:3]) or None


def _complaint(outcome: Outcome | None) -> str | None:
    assert outcome is not None
    if outcome.derived is None and not outcome.failed:
        return "no plan came out, and nothing was said"
    for one in outcome.diagnostics:
        if one.code == "audit":
            return f"a fault of the compiler's own reaches the author: {one.message}; {one.cause}"
        if one.position is None:
            return f"a message without a place: [{one.code}] {one.message}; {one.cause}"
        if not one.message.strip() or "Traceback" in one.message:
            return f"an empty or raw message: [{one.code}]"
        if one.position.file in outcome.texts:
            lines = lines_of(outcome.texts[one.position.file])
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
