"""Commands: ``drawleaf compile`` and ``drawleaf check``.

Exit status: 0 all plans are good, 1 a plan has errors, 2 wrong usage.
"""

from __future__ import annotations

import os
import sys
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from drawleaf import __version__

if TYPE_CHECKING:
    from drawleaf.compiler import Choice, Outcome, Progress

app = typer.Typer(
    name="drawleaf",
    help="Compile woodworking plans into booklets.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
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
    SHEET_CASE = "sheet-case"


Plans = Annotated[list[Path], typer.Argument(help="Plan folders, or their plan.yaml files.", metavar="PLAN...")]
Edition = Annotated[str | None, typer.Option(help="Name of an edition in the source.", metavar="NAME")]
UnitChoice = Annotated[UnitWord | None, typer.Option("--units", help="Print inches, millimetres or both.")]
PaperChoice = Annotated[PaperWord | None, typer.Option("--paper", help="Print on Letter or A4.")]

KitChoice = Annotated[
    str | None,
    typer.Option(
        "--kit",
        help="Tools that the steps are written for: a kit by name, or a .yaml file with one.",
        metavar="NAME|FILE",
    ),
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
    out: Annotated[Path, typer.Option(help="Folder that holds a folder for each booklet.", metavar="FOLDER")] = Path(
        "build"
    ),
) -> None:
    """Compile plans into booklets: PDF, HTML, drawings, lists and data."""
    from drawleaf.compiler import compile_plan
    from drawleaf.outputs import write_set

    choice = _choice(edition, units, paper, kit)
    failures = 0
    for folder in _plan_folders(plans):
        outcome = _run(compile_plan, folder, choice)
        if outcome is None or not outcome.files:
            failures += 1
            continue
        target = out / choice.folder_name(outcome.name)
        try:
            write_set(target, outcome.files)
        except OSError as error:
            failures += 1
            typer.echo(f"{target}: cannot be written: {error.strerror}. The last good booklet is as it was.", err=True)
        else:
            typer.echo(f"{outcome.name}: booklet in {target}")
    raise typer.Exit(1 if failures else 0)


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
    """Answer questions about a plan: sizes, faces, clearances, mass, centre of gravity."""
    from drawleaf.commands.measure import open_ruler
    from drawleaf.source.report import render_all

    (folder,) = _plan_folders([plan])
    ruler, diagnostics, texts = open_ruler(folder, edition)
    if diagnostics:
        typer.echo(render_all(diagnostics, texts), err=True)
    if ruler is None:
        raise typer.Exit(1)
    answers = [ruler.answer(question) for question in questions] if questions else ruler.overview()
    for answer in answers:
        typer.echo(answer.text(), err=answer.mistake is not None)
    raise typer.Exit(1 if any(answer.mistake for answer in answers) else 0)


@app.command("check")
def check_command(plans: Plans, edition: Edition = None, kit: KitChoice = None) -> None:
    """Read plans and say what is wrong with them, without making booklets."""
    from functools import partial

    from drawleaf.compiler import check_plan

    quick = partial(check_plan, tidy=False)
    failures = 0
    for folder in _plan_folders(plans):
        outcome = _run(quick, folder, _choice(edition, None, None, kit))
        _print_checks(outcome)
        if outcome is None or outcome.failed or outcome.derived is None:
            failures += 1
        else:
            typer.echo(f"{outcome.name}: good")
    raise typer.Exit(1 if failures else 0)


def _print_checks(outcome: Outcome | None) -> None:
    """What the workshop checks found, a line each."""
    from drawleaf.compiler import check_lines

    for line in check_lines(outcome) if outcome is not None else ():
        typer.echo(line)


def _choice(edition: str | None, units: UnitWord | None, paper: PaperWord | None, kit: str | None = None) -> Choice:
    from drawleaf.compiler import Choice
    from drawleaf.units import Units

    file = Path(kit) if kit is not None and kit.endswith((".yaml", ".yml")) else None
    if file is not None and not file.is_file():
        raise typer.BadParameter(f"{kit} is no file.", param_hint="--kit")
    named = None if file is not None else kit
    return Choice(edition, Units(units.value) if units else None, paper.value if paper else None, named, file)


def _plan_folders(plans: list[Path]) -> list[Path]:
    """The folders meant, absolute. A path that holds no plan is wrong usage."""
    folders = []
    for path in plans:
        folder = path.parent if path.name == "plan.yaml" else path
        if not (folder / "plan.yaml").is_file():
            raise typer.BadParameter(f"{path} holds no plan.yaml.", param_hint="PLAN")
        folders.append(folder.resolve())
    return folders


def _run(work, folder: Path, choice: Choice) -> Outcome | None:
    """Run one plan with its progress shown, print what it has to say. None where our own code failed."""
    from drawleaf.source.report import render, summary

    try:
        with _Shown(folder.name) as progress:
            outcome: Outcome = work(folder, choice, progress)
    except OSError as error:
        typer.echo(f"{error.filename or folder}: cannot be read: {error.strerror}", err=True)
        return None
    except Exception as error:
        if os.environ.get("DRAWLEAF_DEBUG"):
            raise
        typer.echo(
            f"{folder.name}: drawleaf itself failed ({type(error).__name__}: {error}). Your plan may be fine. "
            "Please report it; with DRAWLEAF_DEBUG=1 set it prints where.",
            err=True,
        )
        return None
    color = sys.stderr.isatty() and "NO_COLOR" not in os.environ
    if outcome.diagnostics:
        typer.echo(render_all(outcome, render, color), err=True)
        typer.echo(f"{outcome.name}: {summary(outcome.diagnostics)}", err=True)
    return outcome


def render_all(outcome: Outcome, render, color: bool) -> str:
    """All diagnostics in order of their places, each once."""
    unique = dict.fromkeys(outcome.diagnostics)
    ordered = sorted(unique, key=lambda one: (one.position is None, one.position or 0, one.code, one.message))
    return "\n".join(render(diagnostic, outcome.texts, color=color) for diagnostic in ordered)


class _Shown:
    """Progress: a changing line on a terminal, one plain line a stage elsewhere."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.status = None

    def __enter__(self) -> Progress:
        if sys.stderr.isatty():
            from rich.console import Console

            self.status = Console(stderr=True).status(self.name)
            self.status.start()
        return self.show

    def show(self, stage: str) -> None:
        if self.status:
            self.status.update(f"{self.name}: {stage}")
        else:
            typer.echo(f"{self.name}: {stage}", err=True)

    def __exit__(self, *_: object) -> None:
        if self.status:
            self.status.stop()


def main() -> None:
    """Entry point of the ``drawleaf`` command."""
    app()


if __name__ == "__main__":
    main()
