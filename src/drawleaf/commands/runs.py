"""The plans of one command: worked on one after the other, what was found printed as text at once or as JSON at the end."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from dataclasses import replace
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import typer

if TYPE_CHECKING:
    from drawleaf.commands.report_json import PlanReport
    from drawleaf.compiler import Choice, Outcome, Progress


class FormatWord(StrEnum):
    """How diagnostics are printed."""

    TEXT = "text"
    JSON = "json"


class Runs:
    """The plans of one command: works on one after the other and prints what was found, as text at once or as JSON at the end."""

    def __init__(self, command: str, form: FormatWord) -> None:
        self.command, self.quiet = command, form is FormatWord.JSON
        self.reports: list[PlanReport] = []

    def run(self, work, folder: Path, choice: Choice) -> Outcome | None:
        """What the work gave. None where the plan cannot be read or our own code failed, which is reported."""
        from drawleaf.compiler import lent_line

        def shown() -> Outcome:
            if line := lent_line(folder):
                self.say(line, err=True)
            with _Shown(folder.name, quiet=self.quiet) as progress:
                return work(folder, choice, progress)

        outcome = self._try(shown, folder, choice)
        if outcome is not None:
            self._report(outcome, outcome.name, folder, choice)
        return outcome

    def try_edition(self, work, folder: Path, choice: Choice, base: Outcome) -> None:
        """Work on an edition of a plan that is good as it stands, and say only what is wrong with the edition."""
        from drawleaf.compiler import new_in_edition

        outcome = self._try(lambda: work(folder, choice), folder, choice)
        if outcome is None:
            return
        title = f"{base.name}, edition {choice.edition}"
        told = replace(outcome, name=title, diagnostics=new_in_edition(outcome, base))
        self._report(told, base.name, folder, choice)
        if outcome.derived is not None and not outcome.failed:
            self.good(f"{title}: good")

    def _try(self, work: Callable[[], Outcome], folder: Path, choice: Choice) -> Outcome | None:
        """What the work gave; None where it failed, which is reported."""
        from drawleaf.commands.report_json import PlanReport

        try:
            return work()
        except Exception as error:
            failure = self._failure(error, folder)
        self.reports.append(PlanReport(folder.name, folder, False, failure=failure, edition=choice.edition))
        self.say(failure, err=True)
        return None

    def _report(self, outcome: Outcome, plan: str, folder: Path, choice: Choice) -> None:
        from drawleaf.commands.report_json import PlanReport

        self.reports.append(PlanReport(plan, folder, False, outcome.diagnostics, edition=choice.edition))
        self._print(outcome)

    @staticmethod
    def _failure(error: Exception, folder: Path) -> str:
        """Why a plan could not be worked on: the disk, or our own fault."""
        if os.environ.get("DRAWLEAF_DEBUG"):
            raise error
        if isinstance(error, OSError):
            return f"{error.filename or folder}: cannot be read or written: {error.strerror}. The last good booklet is as it was."
        return (
            f"{folder.name}: drawleaf itself failed ({type(error).__name__}: {error}). Your plan may be fine. "
            "Please report it; with DRAWLEAF_DEBUG=1 set it prints where."
        )

    def good(self, line: str, booklet: Path | None = None) -> None:
        """The last plan has come out well."""
        self.reports[-1] = replace(self.reports[-1], good=True, booklet=booklet)
        self.say(line)

    def refused(self, folder: Path, failure: str) -> None:
        """The plan is not worked on, as its booklet could not be kept."""
        from drawleaf.commands.report_json import PlanReport

        self.reports.append(PlanReport(folder.name, folder, False, failure=failure))
        self.say(failure, err=True)

    def unwritten(self, failure: str) -> None:
        """The last plan's booklet could not be written."""
        self.reports[-1] = replace(self.reports[-1], failure=failure)
        self.say(failure, err=True)

    def say(self, line: str, *, err: bool = False) -> None:
        if not self.quiet:
            typer.echo(line.encode("utf-8", "backslashreplace").decode(), err=err)

    def finish(self) -> NoReturn:
        """Print the JSON where it was asked for, and leave."""
        if self.quiet:
            from drawleaf.commands.report_json import report_json

            typer.echo(report_json(self.command, self.reports), nl=False)
        raise typer.Exit(0 if all(report.good for report in self.reports) else 1)

    def _print(self, outcome: Outcome) -> None:
        from drawleaf.source.report import render_all, summary

        if outcome.diagnostics:
            color = sys.stderr.isatty() and not os.environ.get("NO_COLOR")
            self.say(render_all(outcome.diagnostics, outcome.texts, color), err=True)
            self.say(f"{outcome.name}: {summary(outcome.diagnostics)}", err=True)


class _Shown:
    """Progress: a changing line on a terminal, one plain line a stage elsewhere."""

    def __init__(self, name: str, *, quiet: bool = False) -> None:
        self.name, self.quiet = name, quiet
        self.status = None

    def __enter__(self) -> Progress:
        if sys.stderr.isatty() and not self.quiet:
            from rich.console import Console

            self.status = Console(stderr=True).status(self.name)
            self.status.start()
        return self.show

    def show(self, stage: str) -> None:
        if self.status:
            self.status.update(f"{self.name}: {stage}")
        elif not self.quiet:
            typer.echo(f"{self.name}: {stage}", err=True)

    def __exit__(self, *_: object) -> None:
        if self.status:
            self.status.stop()
