"""Templates of an author's own: watched while they work, and named where they are at fault."""

from __future__ import annotations

import traceback
from collections.abc import Sized
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from jinja2 import TemplateSyntaxError
from jinja2.exceptions import SecurityError
from jinja2.sandbox import ImmutableSandboxedEnvironment

from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.position import Position
from drawleaf.resources import template_folders

_LONGEST = 100_000
_HIGHEST_POWER = 1000
_MOST_BITS = 100_000


@dataclass(frozen=True, slots=True)
class Fault:
    """What is wrong in a template of an author's own: in which line of which ``file``, at the ``step`` of that number where it is the wording
    of one. ``whole`` where no line is known to be the one: ``file`` is then the first of all."""

    file: str
    line: int
    said: str
    step: int | None = None
    whole: bool = False

    def diagnostic(self) -> Diagnostic:
        """The error as the author sees it."""
        at_step = f", at step {self.step}" if self.step is not None else ""
        if self.whole:
            message = f"The templates of your own do not work{at_step}: {self.said}"
            mend = "Take away the loop or the sum that runs on, or take the folder away to have ours back."
        else:
            message = f"This template of your own does not work{at_step}: {self.said}"
            mend = "Mend that line, or take the file away to have ours back."
        cause = "Templates beside a plan stand in for ours. The last good booklet is as it was."
        return Diagnostic("template-fault", message, Position(self.file, self.line, 1), cause, mend)


class TemplateFaultError(Exception):
    """A template of an author's own is at fault."""

    def __init__(self, fault: Fault) -> None:
        super().__init__(fault)
        self.fault = fault

    def __str__(self) -> str:
        return f"{self.fault.file}, line {self.fault.line}: {self.fault.said}"


class AtStepError(Exception):
    """What went wrong while a step was put into words is this error's cause."""

    def __init__(self, step: int, error: Exception) -> None:
        super().__init__(f"at step {step}: {type(error).__name__}: {error}")
        self.step = step


class WordingError(ValueError):
    """A template wrote a line that is no part of a step; with the template's file, and the line of it where that is known."""

    def __init__(self, words: str, filename: str | None = None, lineno: int = 1) -> None:
        super().__init__(words)
        self.filename, self.lineno = filename, lineno


class WatchedEnvironment(ImmutableSandboxedEnvironment):
    """A sandbox that stops the plainest sums that run away, with their line; ``apart`` bounds all others."""

    intercepted_binops = frozenset({"*", "**"})

    def call_binop(self, context: Any, operator: str, left: Any, right: Any) -> Any:
        """The product or power. Raises SecurityError where it would be too large."""
        if operator == "**" and not (isinstance(left, int | float) and abs(left) < 1e6 and abs(right) < _HIGHEST_POWER):
            raise SecurityError("this power is too large")
        whole = [one for one in (left, right) if isinstance(one, int)]
        if operator == "*" and len(whole) == 2 and sum(one.bit_length() for one in whole) > _MOST_BITS:
            raise SecurityError("this product is too large")
        for many, held in ((left, right), (right, left)):
            if operator == "*" and isinstance(held, Sized) and isinstance(many, int) and many * len(held) > _LONGEST:
                raise SecurityError(f"this makes something longer than {_LONGEST:,}")
        return super().call_binop(context, operator, left, right)


def fault_in_own_template(error: BaseException, plan_folder: Path, said: str | None = None) -> Fault | None:
    """What is wrong in an author's own template that made ``error``; None where it was none of theirs. ``said`` stands in for the error's own
    words."""
    folders = template_folders(plan_folder)
    if len(folders) < 2:
        return None
    step = None
    if isinstance(error, AtStepError) and error.__cause__ is not None:
        step, error = error.step, error.__cause__
    places = [(Path(frame.filename), frame.lineno) for frame in traceback.extract_tb(error.__traceback__)]
    if isinstance(error, TemplateSyntaxError | WordingError) and error.filename:
        places.append((Path(error.filename), error.lineno))
    here = [(file, line) for file, line in places if file.is_relative_to(folders[0])]
    if not here:
        return None
    file, line = here[-1]
    said = said or (str(error).splitlines()[0] if str(error) else type(error).__name__)
    return Fault(file.as_posix(), line or 1, said, step)


def fault_of_all(plan_folder: Path, said: str) -> Fault:
    """What is wrong with the templates in an author's folder, where it cannot be said in which."""
    folder = template_folders(plan_folder)[0]
    first = next((file for file in sorted(folder.rglob("*")) if file.is_file()), folder)
    return Fault(first.as_posix(), 1, said, whole=True)
