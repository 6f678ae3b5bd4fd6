"""The commands for what comes after a compile: what changed since a revision, copies, samples and listings."""

from __future__ import annotations

import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from drawleaf.commands.runs import FormatWord

if TYPE_CHECKING:
    from drawleaf.compiler import Choice
    from drawleaf.model.derived import Derived
    from drawleaf.sell.piece import Compiled


Plan = Annotated[
    Path, typer.Argument(help="A plan folder, a folder that compile wrote, or its plan.json.", metavar="PLAN")
]
Since = Annotated[
    str,
    typer.Option(
        "--since",
        help="The revision that was sold: a folder that compile wrote, its plan.json, a plan folder, or a git revision of the source.",
        metavar="FOLDER|FILE|REVISION",
    ),
]

Booklet = Annotated[
    Path, typer.Argument(help="A folder that compile wrote.", metavar="PLAN", exists=True, file_okay=False)
]


def add_to(app: typer.Typer) -> None:
    """Adds these commands to the program."""
    app.command("compare")(compare_command)
    app.command("errata")(errata_command)
    app.command("copies")(copies_command)
    app.command("whose")(whose_command)
    app.command("sample")(sample_command)
    app.command("shelf")(shelf_command)


def compare_command(
    plan: Plan,
    since: Since,
    form: Annotated[FormatWord, typer.Option("--format", help="Print text, or one JSON object.")] = FormatWord.TEXT,
) -> None:
    """Say what changed in the piece since a revision, and what to do with what is already made."""
    from drawleaf.sell.comparing import compare
    from drawleaf.sell.telling import as_json, as_text

    old, new = two_revisions(plan, since)
    changes = compare(old, new)
    typer.echo((as_json if form is FormatWord.JSON else as_text)(old, new, changes), nl=False)


def two_revisions(plan: Path, since: str) -> tuple[Compiled, Compiled]:
    """The revision that was sold and the one of now. Ends the program with a message where one cannot be had."""
    from drawleaf.sell.revisions import revision_at

    folder = plan if plan.is_dir() else plan.parent
    with tempfile.TemporaryDirectory(prefix="drawleaf-") as scratch, _telling(scratch):
        new = revision_at(str(plan), folder, _worked_out, Path(scratch))
        return revision_at(since, folder, _worked_out, Path(scratch)), new


def marks_since(folder: Path, since: str, choice: Choice) -> Callable[[Derived], Derived]:
    """What marks a plan with its changes since a revision. Ends the program with a message where that cannot be had."""
    from drawleaf.book.output.data import plan_json
    from drawleaf.sell.marking import revised
    from drawleaf.sell.piece import compiled_from
    from drawleaf.sell.revisions import revision_at

    with tempfile.TemporaryDirectory(prefix="drawleaf-") as scratch, _telling(scratch):
        old = revision_at(since, folder, partial(_worked_out, choice=choice), Path(scratch))
    return lambda derived: replace(derived, revised=revised(old, compiled_from(plan_json(derived), folder.name)))


@contextmanager
def _telling(place: Path | str, then: str = "") -> Iterator[None]:
    """Ends the program with a message where what was given cannot be used, or where the disk fails, at ``place`` if it names no other."""
    from drawleaf.sell.mistakes import SellingError

    try:
        yield
    except SellingError as error:
        typer.echo(str(error), err=True)
    except OSError as error:
        typer.echo(f"{error.filename or place}: {error.strerror or error}.{then}", err=True)
    else:
        return
    raise typer.Exit(1)


def _worked_out(folder: Path, choice: Choice | None = None) -> str:
    """The ``plan.json`` of a plan's source as it stands; ends the program where the source has errors, which are printed."""
    from drawleaf.book.output.data import plan_json
    from drawleaf.compiler import Choice, check_plan
    from drawleaf.source.report import render_all

    outcome = check_plan(folder.resolve(), choice or Choice())
    if outcome.derived is None or outcome.failed:
        typer.echo(render_all(outcome.diagnostics, outcome.texts), err=True)
        raise typer.Exit(1)
    return plan_json(outcome.derived)


def errata_command(
    plan: Plan,
    since: Since,
    out: Annotated[Path, typer.Option(help="Folder that the sheet is written to.", metavar="FOLDER")] = Path("build"),
) -> None:
    """Write the sheet of corrections for those who bought a revision: errata.pdf and errata.html."""
    from drawleaf.book.output.pdf import make_pdf
    from drawleaf.sell.comparing import compare
    from drawleaf.sell.errata import errata_html
    from drawleaf.sell.whole_files import write_whole

    old, new = two_revisions(plan, since)
    changes = compare(old, new)
    name = f"errata-{_for_a_file(old.revision)}-to-{_for_a_file(new.revision)}"
    printed = make_pdf(errata_html(old, new, changes, for_print=True))
    with _telling(out):
        write_whole(out / f"{name}.html", errata_html(old, new, changes, for_print=False).encode())
        write_whole(out / f"{name}.pdf", printed)
    typer.echo(f"{name}.pdf and {name}.html in {out}")


def copies_command(
    plan: Booklet,
    buyers: Annotated[
        Path, typer.Option("--buyers", help="A CSV file: name, order, date, terms, a row for each.", metavar="FILE")
    ],
    line: Annotated[
        str | None,
        typer.Option("--line", help="The line in the foot, in your words: “{name} bought this; order {order}”."),
    ] = None,
    out: Annotated[Path, typer.Option(help="Folder that the copies are written to.", metavar="FOLDER")] = Path(
        "copies"
    ),
) -> None:
    """Write a copy of the booklet for each buyer, with a line of theirs in the foot of every page."""
    from drawleaf.sell.buyers import LINE, read_buyers
    from drawleaf.sell.copies import originals, write_copies

    with _telling(out, " What stands there is whole; run it again to go on."):
        known = read_buyers(buyers)
        written = list(write_copies(originals(plan), known, line or LINE, out))
    new = sum(not one.kept for one in written)
    typer.echo(f"{new} files written in {out}, {len(written) - new} stood there already")


def whose_command(
    files: Annotated[list[Path], typer.Argument(help="Copies, PDF or HTML.", metavar="FILE...")],
) -> None:
    """Say whose copy a file is."""
    from drawleaf.sell.copies import NoCopyError, whose

    failed = False
    for file in files:
        try:
            told = "; ".join(f"{column}: {value}" for column, value in whose(file).items())
            typer.echo(f"{file}: {told}")
        except (NoCopyError, OSError) as error:
            failed = True
            typer.echo(str(error), err=True)
    raise typer.Exit(1 if failed else 0)


def sample_command(
    plan: Booklet,
    pages: Annotated[
        str | None,
        typer.Option(
            "--pages", help="1,3,10-12; the cover, at a glance, tools, an exploded view and two steps if left out."
        ),
    ] = None,
    out: Annotated[
        Path | None,
        typer.Option(
            help="The PDF to write, with the HTML beside it; here, named by the plan, if left out.", metavar="FILE"
        ),
    ] = None,
) -> None:
    """Write some pages of the booklet, and the same screens, as a free sample with nothing of the others inside."""
    from drawleaf.sell.finished import booklet_file, booklet_pdf, page_text
    from drawleaf.sell.sample import make_sample, read_pages
    from drawleaf.sell.sample_page import make_page_sample, screen_ids
    from drawleaf.sell.sample_screens import screens_on
    from drawleaf.sell.whole_files import write_whole

    with _telling(plan):
        booklet, tablet = booklet_pdf(plan), booklet_file(plan, ".html")
        target = _not_the_page(out) if out else Path(f"{booklet.stem}-sample.pdf")
        printed, chosen = booklet.read_bytes(), read_pages(pages) if pages else None
        write_whole(target, make_sample(printed, chosen))
        typer.echo(f"sample in {target}")
        if tablet is None:
            return
        page = page_text(tablet)
        screens = screens_on(printed, chosen, screen_ids(page)) if chosen is not None else None
        if screens == ():
            typer.echo("no screen of the HTML edition lies wholly on these pages, so it has no sample", err=True)
            return
        write_whole(target.with_suffix(".html"), make_page_sample(page, screens).encode())
        typer.echo(f"sample in {target.with_suffix('.html')}")


def _not_the_page(out: Path) -> Path:
    """The name of the PDF: that of the HTML beside it would lose one of the two."""
    if out.suffix.lower() == ".html":
        raise typer.BadParameter("Name the PDF, FILE.pdf; the HTML is written beside it.", param_hint="--out")
    return out


def shelf_command(
    plan: Booklet,
    prices: Annotated[
        Path | None,
        typer.Option("--prices", help="A file of your prices; without it the listing has none.", metavar="FILE"),
    ] = None,
    out: Annotated[
        Path, typer.Option(help="Folder that the texts and pictures are written to.", metavar="FOLDER")
    ] = Path("shelf"),
) -> None:
    """Write what a listing in a shop needs: texts, data for search engines, and pictures."""
    from drawleaf.sell.cover_picture import SHARP, cover_picture
    from drawleaf.sell.shelf import shelf_files
    from drawleaf.sell.whole_files import write_whole

    count = 0
    with _telling(out):
        photo = cover_picture(plan)
        if photo is not None and photo.width < SHARP:
            wide, high = photo.size
            typer.echo(
                f"the picture on the cover has {wide} x {high} pixels: shown large it is soft, so make one of {SHARP} or more across",
                err=True,
            )
        for name, data in shelf_files(plan, photo, prices):
            write_whole(out / name, data)
            count += 1
    typer.echo(f"{count} files in {out}")


def _for_a_file(mark: str) -> str:
    return "".join(sign if sign.isalnum() else "-" for sign in mark) or "old"
