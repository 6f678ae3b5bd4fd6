"""Commands: ``drawleaf compile`` and ``drawleaf check``.

Exit status: 0 all plans are good, 1 a plan has errors, 2 wrong usage.
"""

from __future__ import annotations

import gc
import os
import sys
from dataclasses import replace
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn

import typer

from drawleaf import __version__
from drawleaf.commands.plan_folders import plan_folders

if TYPE_CHECKING:
    from drawleaf.commands.report_json import PlanReport
    from drawleaf.compiler import Choice, Outcome, Progress

app = typer.Typer(
    name="drawleaf",
    help="Compile woodworking plans into booklets.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    context_settings={"help_option_names": ["--help", "-h"]},
)


class UnitWord(StrEnum):
    """Units to print."""

    INCH = "in"
    MM = "mm"
    BOTH = "both"


class PaperWord(StrEnum):
    """Paper to print on."""

    LETTER = "letter"
    A4 = "a4"


class StarterKind(StrEnum):
    """What a new plan is made of."""

    BOARDS = "boards"
    PLYWOOD_CASE = "plywood-case"


class FormatWord(StrEnum):
    """How diagnostics are printed."""

    TEXT = "text"
    JSON = "json"


Plans = Annotated[list[Path], typer.Argument(help="Plan folders, or their plan.yaml files.", metavar="PLAN")]
Edition = Annotated[str | None, typer.Option(help="Name of an edition in the source.", metavar="NAME")]
UnitChoice = Annotated[UnitWord | None, typer.Option("--units", help="Print inches, millimetres or both.")]
PaperChoice = Annotated[PaperWord | None, typer.Option("--paper", help="Print on Letter or A4.")]

KitChoice = Annotated[
    str | None,
    typer.Option(
        "--tools",
        help="Tools that the steps are written for: a tool set by name, or a .yaml file with one.",
        metavar="NAME|FILE",
    ),
]


def _old_option(given: str | None) -> None:
    if given is not None:
        raise typer.BadParameter(f"It is called --tools now: --tools “{given}”.")


OldKitChoice = Annotated[str | None, typer.Option("--kit", hidden=True, callback=_old_option)]

FormatChoice = Annotated[
    FormatWord, typer.Option("--format", help="Print diagnostics as text, or all that was found as one JSON object.")
]


def _print_version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"drawleaf {__version__}")
        raise typer.Exit


@app.callback()
def _root(
    version: Annotated[
        bool, typer.Option("--version", callback=_print_version, is_eager=True, help="Print the version and stop.")
    ] = False,
) -> None:
    pass


@app.command("compile")
def compile_command(
    plans: Plans,
    edition: Edition = None,
    units: UnitChoice = None,
    paper: PaperChoice = None,
    kit: KitChoice = None,
    kit_option: OldKitChoice = None,
    out: Annotated[Path, typer.Option(help="Folder that holds a folder for each booklet.", metavar="FOLDER")] = Path(
        "build"
    ),
    form: FormatChoice = FormatWord.TEXT,
) -> None:
    """Compile plans into booklets: PDF, HTML, drawings, lists and data."""
    from functools import partial

    from drawleaf.compiler import compile_plan
    from drawleaf.outputs import OutputRefusedError, refusal, try_place, write_set
    from drawleaf.second_process import in_two_processes

    choice = _choice(edition, units, paper, kit)
    runs = _Runs("compile", form)
    for folder in plan_folders(plans):
        gc.collect()
        target = out / choice.folder_name(folder.name)
        if why := refusal(target):
            runs.refused(folder, _not_written(target, why))
            continue
        try:
            try_place(target)
        except OSError as error:
            runs.refused(folder, _unwritable(target, error))
            continue
        outcome = runs.run(partial(compile_plan, share=in_two_processes), folder, choice)
        if outcome is None or not outcome.files:
            continue
        try:
            write_set(target, outcome.files)
        except OutputRefusedError as error:
            runs.unwritten(_not_written(target, str(error)))
        except OSError as error:
            runs.unwritten(_unwritable(target, error))
        else:
            runs.good(f"{outcome.name}: booklet in {target}", target)
    runs.finish()


def _unwritable(target: Path, error: OSError) -> str:
    return f"{target}: cannot be written: {error.strerror}. The last good booklet is as it was."


def _not_written(target: Path, why: str) -> str:
    return f"{target}: nothing is written there, as {why}. Or name another folder with --out."


@app.command("start")
def start_command(
    name: Annotated[str, typer.Argument(help="Name of the new plan's folder.", metavar="NAME")],
    kind: Annotated[StarterKind, typer.Option(help="What it is made of.")] = StarterKind.BOARDS,
) -> None:
    """Write a small plan to begin from, in a folder of its own."""
    import datetime

    from drawleaf.commands.start import StartError, parting_words, start

    given = Path(name)
    try:
        folder = start(given.name, kind.value, given.parent, datetime.date.today())
    except StartError as error:
        typer.echo(str(error), err=True)
        raise typer.Exit(1) from None
    typer.echo(parting_words(folder))


@app.command("measure")
def measure_command(
    plan: Annotated[Path, typer.Argument(help="A plan folder, or its plan.yaml.", metavar="PLAN")],
    questions: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="WHAT...",
            help="A part, an assembly, everything, a dimension, a face (case.side.right), any expression, or “a to b” for the clearance.",
        ),
    ] = None,
    edition: Edition = None,
) -> None:
    """Answer questions: sizes, faces, clearances, mass.

    Without a question: every dimension, part and mass.
    """
    from drawleaf.commands.measure import open_ruler
    from drawleaf.source.report import render_all

    (folder,) = plan_folders([plan])
    ruler, diagnostics, texts = open_ruler(folder, edition)
    if diagnostics:
        typer.echo(render_all(diagnostics, texts), err=True)
    if ruler is None:
        raise typer.Exit(1)
    answers = [ruler.answer(question) for question in questions] if questions else ruler.overview()
    for answer in answers:
        typer.echo(answer.text(), err=answer.mistake is not None)
    raise typer.Exit(1 if any(answer.mistake for answer in answers) else 0)


@app.command("preview")
def preview_command(
    plan: Annotated[Path, typer.Argument(help="A plan folder, or its plan.yaml.", metavar="PLAN")],
    edition: Edition = None,
    units: UnitChoice = None,
    port: Annotated[int, typer.Option(help="Port on this computer; 0 takes any free one.", min=0, max=65535)] = 8421,
    browser: Annotated[bool, typer.Option(help="Open the page in a browser.")] = True,
) -> None:
    """Show the booklet in a browser, new after each save."""
    from drawleaf.commands.preview import preview

    gc.enable()  # the one command that runs for hours
    (folder,) = plan_folders([plan])
    raise typer.Exit(preview(folder, _choice(edition, units, None), port, browser))


@app.command("check")
def check_command(
    plans: Plans,
    edition: Edition = None,
    kit: KitChoice = None,
    kit_option: OldKitChoice = None,
    form: FormatChoice = FormatWord.TEXT,
    mend: Annotated[
        bool, typer.Option("--mend", help="Rewrite names of older versions; what changes is shown first.")
    ] = False,
    yes: Annotated[bool, typer.Option("--yes", help="With --mend: write without asking.")] = False,
    steps: Annotated[
        bool, typer.Option("--steps", help="List the steps by the names that notes hang on, with their source lines.")
    ] = False,
) -> None:
    """Say what is wrong with plans, without making booklets."""
    from functools import partial

    from drawleaf.commands.mend import mend_in_place
    from drawleaf.commands.steps import step_lines
    from drawleaf.compiler import check_lines, check_plan

    quick = partial(check_plan, tidy=False)
    runs = _Runs("check", form)
    for folder in plan_folders(plans):
        if mend:
            mend_in_place(folder, yes)
        outcome = runs.run(quick, folder, _choice(edition, None, None, kit))
        if outcome is None:
            continue
        for line in check_lines(outcome):
            runs.say(line)
        if steps and outcome.derived is not None:
            for line in step_lines(outcome.derived):
                runs.say(line)
        if outcome.derived is not None and not outcome.failed:
            runs.good(f"{outcome.name}: good")
    runs.finish()


@app.command("why")
def why_command(
    code: Annotated[
        str | None, typer.Argument(help="The word in round brackets that a message ends with.", metavar="CODE")
    ] = None,
) -> None:
    """Say what a message means and how to mend it.

    Without a code: list them all.
    """
    from drawleaf.commands.why import all_codes, explanation, no_such_code

    text = all_codes() if code is None else explanation(code)
    if text is None:
        typer.echo(no_such_code(code or ""), err=True)
        raise typer.Exit(1)
    typer.echo(text)


def _choice(edition: str | None, units: UnitWord | None, paper: PaperWord | None, kit: str | None = None) -> Choice:
    from drawleaf.compiler import Choice
    from drawleaf.units import Units

    file = Path(kit) if kit is not None and kit.endswith((".yaml", ".yml")) else None
    if file is not None and not file.is_file():
        raise typer.BadParameter(f"{kit} is no file.", param_hint="--tools")
    named = None if file is not None else kit
    return Choice(edition, Units(units.value) if units else None, paper.value if paper else None, named, file)


class _Runs:
    """The plans of one command: works on one after the other and prints what was found, as text at once or as JSON at the end."""

    def __init__(self, command: str, form: FormatWord) -> None:
        self.command, self.quiet = command, form is FormatWord.JSON
        self.reports: list[PlanReport] = []

    def run(self, work, folder: Path, choice: Choice) -> Outcome | None:
        """What the work gave. None where the plan cannot be read or our own code failed, which is reported."""
        from drawleaf.commands.report_json import PlanReport
        from drawleaf.compiler import lent_line

        try:
            if line := lent_line(folder):
                self.say(line, err=True)
            with _Shown(folder.name, quiet=self.quiet) as progress:
                outcome: Outcome = work(folder, choice, progress)
        except Exception as error:
            failure = self._failure(error, folder)
        else:
            self.reports.append(PlanReport(outcome.name, folder, False, outcome.diagnostics))
            self._print(outcome)
            return outcome
        self.reports.append(PlanReport(folder.name, folder, False, failure=failure))
        self.say(failure, err=True)
        return None

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


def main() -> None:
    """Entry point of the ``drawleaf`` command."""
    # A command makes much and drops little before it ends: the cyclic collector costs a sixth of its time and frees next to nothing.
    gc.disable()
    app()


if __name__ == "__main__":
    main()
