"""Commands: ``drawleaf compile`` and ``drawleaf check``.

Exit status: 0 all plans are good, 1 a plan has errors, 2 wrong usage.
"""

from __future__ import annotations

import gc
from dataclasses import replace
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from drawleaf import __version__
from drawleaf.commands import building, picture, selling
from drawleaf.commands.plan_folders import plan_folders
from drawleaf.commands.runs import FormatWord, Runs

if TYPE_CHECKING:
    from drawleaf.compiler import Choice

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
    since: Annotated[
        str | None,
        typer.Option(
            "--since",
            help="Mark with a bar in the margin what changed since a revision that was sold: what compare takes.",
            metavar="FOLDER|FILE|REVISION",
        ),
    ] = None,
    form: FormatChoice = FormatWord.TEXT,
) -> None:
    """Compile plans into booklets: PDF, HTML, drawings, lists and data."""
    from functools import partial

    from drawleaf.commands.selling import marks_since
    from drawleaf.compiler import compile_plan
    from drawleaf.outputs import OutputRefusedError, refusal, try_place, write_set
    from drawleaf.second_process import in_two_processes

    choice = _choice(edition, units, paper, kit)
    runs = Runs("compile", form)
    for folder in plan_folders(plans) if since is None else _only(plan_folders(plans)):
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
        marked = marks_since(folder, since, choice) if since is not None else None
        outcome = runs.run(partial(compile_plan, share=in_two_processes, marked=marked), folder, choice)
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


def _only(folders: list[Path]) -> list[Path]:
    if len(folders) > 1:
        raise typer.BadParameter("--since marks one plan; name one.")
    return folders


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
    """Say what is wrong with plans, without making booklets.

    Every edition is tried, unless one is named.
    """
    from functools import partial

    from drawleaf.commands.mend import mend_in_place
    from drawleaf.commands.steps import step_lines
    from drawleaf.compiler import check_lines, check_plan

    quick = partial(check_plan, tidy=False)
    runs = Runs("check", form)
    for folder in plan_folders(plans):
        if mend:
            mend_in_place(folder, yes)
        choice = _choice(edition, None, None, kit)
        outcome = runs.run(quick, folder, choice)
        if outcome is None:
            continue
        for line in check_lines(outcome):
            runs.say(line)
        if steps and outcome.derived is not None:
            for line in step_lines(outcome.derived):
                runs.say(line)
        if outcome.derived is not None and not outcome.failed:
            runs.good(f"{outcome.name}: good")
        for name in outcome.editions if edition is None and not outcome.failed else ():
            runs.try_edition(quick, folder, replace(choice, edition=name), outcome)
    runs.finish()


building.add_to(app)
selling.add_to(app)
picture.add_to(app)


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


def main() -> None:
    """Entry point of the ``drawleaf`` command."""
    # A command makes much and drops little before it ends: the cyclic collector costs a sixth of its time and frees next to nothing.
    gc.disable()
    app()


if __name__ == "__main__":
    main()
