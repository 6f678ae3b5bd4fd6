"""``drawleaf build``: all booklets of a catalogue."""

from __future__ import annotations

import os
import sys
import time
from collections import Counter
from collections.abc import Iterable, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

if TYPE_CHECKING:
    from drawleaf.catalogue.booklets import Booklet
    from drawleaf.catalogue.building import Builder, Done, Task
    from drawleaf.catalogue.crew import Crew
    from drawleaf.catalogue.store import Store

CatalogueFile = Annotated[
    Path, typer.Argument(help="A file that lists plans and what to make of them.", metavar="CATALOGUE")
]
STOPPED = 130
"""Exit status of a command that was stopped from the keyboard."""


def add_to(app: typer.Typer) -> None:
    """Adds the command to the program."""
    app.command("build")(build_command)


def build_command(
    catalogue: CatalogueFile,
    out: Annotated[
        Path | None,
        typer.Option(
            help="Folder that holds a folder for each booklet; what the file says, if left out.", metavar="FOLDER"
        ),
    ] = None,
    dry_run: Annotated[
        bool, typer.Option("--dry-run", help="Say what would be made and why, and make nothing.")
    ] = False,
    processes: Annotated[
        int | None,
        typer.Option(help="How many booklets are made at the same time; one for each core, if left out.", min=1),
    ] = None,
    anew: Annotated[bool, typer.Option("--anew", help="Make everything, whatever was made before.")] = False,
    store: Annotated[
        Path | None,
        typer.Option("--store", help="Folder of what was made before; it may be thrown away.", metavar="FOLDER"),
    ] = None,
    on: Annotated[
        str | None,
        typer.Option("--on", help="Give the work to a Dask scheduler; needs drawleaf[cluster].", metavar="ADDRESS"),
    ] = None,
    store_gb: Annotated[
        float, typer.Option("--store-gb", help="How large the store may grow, in gigabytes.", min=0.01)
    ] = 5.0,
) -> None:
    """Make all booklets of a catalogue, and only those that changed."""
    from drawleaf.catalogue.building import Builder
    from drawleaf.catalogue.reading import read_catalogue
    from drawleaf.source.report import render_all

    kept = _opened(store, store_gb)
    with kept:
        builder = Builder(kept, anew)
        try:
            known = read_catalogue(catalogue, builder.libraries, out)
        except OSError as error:
            typer.echo(f"{error.filename}: cannot be read: {error.strerror}.", err=True)
            raise typer.Exit(1) from None
        if known.diagnostics:
            color = sys.stderr.isatty() and not os.environ.get("NO_COLOR")
            typer.echo(render_all(known.diagnostics, known.texts, color), err=True)
            raise typer.Exit(1)
        tasks = builder.tasks(known.booklets)
        if dry_run:
            raise typer.Exit(_told(tasks))
        raise typer.Exit(_built(builder, tasks, processes, on, catalogue))


def _opened(folder: Path | None, gigabytes: float) -> Store:
    """The store, in its usual place if no folder is named. Raises BadParameter for a folder that is no store."""
    from drawleaf.catalogue.store import GIGABYTE, ForeignStoreError, Store, default_folder

    try:
        return Store(folder or default_folder(), int(gigabytes * GIGABYTE))
    except ForeignStoreError as error:
        raise typer.BadParameter(str(error), param_hint="--store") from None


def _told(tasks: Sequence[Task]) -> int:
    """What would be done; the exit status."""
    from drawleaf.catalogue.building import What

    words = {What.MAKE: "would be made", What.PUT: "would be put there", What.FAILED: "cannot be made"}
    for task in tasks:
        if task.what is not What.STANDS:
            _say(f"{task.booklet.name}: {words[task.what]}: {task.why}")
    counts = Counter(task.what for task in tasks)
    _say(
        f"{_booklets(len(tasks))}: {counts[What.MAKE]} would be made, {counts[What.PUT]} put there from the store, "
        f"{counts[What.STANDS]} stand as they are"
        + (f", {counts[What.FAILED]} cannot be made" if counts[What.FAILED] else "")
    )
    return 1 if counts[What.FAILED] else 0


def _built(builder: Builder, tasks: Sequence[Task], processes: int | None, on: str | None, catalogue: Path) -> int:
    """Build, showing how it goes, and tell in the end what came of it; the exit status."""
    from drawleaf.catalogue.building import What
    from drawleaf.catalogue.cluster import ClusterError

    to_make = sum(task.what in (What.MAKE, What.PUT) for task in tasks)
    began = time.monotonic()
    done: list[Done] = []
    stopped, failure = False, ""
    try:
        crew = _crew(builder, to_make, processes, on)
        with _Display(tasks) as display:
            for one in builder.do(tasks, crew):
                done.append(one)
                display.show(one)
    except KeyboardInterrupt:
        stopped = True
    except ClusterError as error:
        failure = str(error)
        _say(failure, err=True)
    _summary(tasks, done, time.monotonic() - began)
    if stopped:
        return STOPPED
    good = [one.booklet for one in done if one.what is not What.FAILED]
    copied = _copied(good, catalogue.parent / "copies")
    return 0 if copied and not failure and len(good) == len(tasks) else 1


def _copied(booklets: Iterable[Booklet], out: Path) -> bool:
    """Buyers' copies of the booklets that are to have some, each kind in a folder of its own; False where some could not be written, which is told."""
    wanted = {one: one.buyers for one in booklets if one.buyers is not None}
    if not wanted:
        return True

    from drawleaf.sell.buyers import LINE, read_buyers
    from drawleaf.sell.copies import originals, write_copies
    from drawleaf.sell.mistakes import SellingError

    new = good = 0
    for booklet, buyers in wanted.items():
        try:
            for one in write_copies(originals(booklet.target), read_buyers(buyers), LINE, out / booklet.name):
                new += not one.kept
        except (SellingError, OSError) as error:
            _say(f"{booklet.name}: no copies: {error}", err=True)
        else:
            good += 1
    _say(f"copies of {_booklets(len(wanted))} in {out}: {new} files written")
    return good == len(wanted)


def _crew(builder: Builder, to_make: int, processes: int | None, on: str | None) -> Crew:
    """Who makes the booklets. Raises ClusterError."""
    from drawleaf.catalogue.crew import Processes, cores

    if on is not None:
        from drawleaf.catalogue.cluster import Cluster

        return Cluster(on, partial(_say, err=True))
    return Processes(max(1, min(processes or cores(), to_make)), builder.store)


def _summary(tasks: Sequence[Task], done: Iterable[Done], seconds: float) -> None:
    from drawleaf.catalogue.building import What

    done = list(done)
    counts = Counter(one.what for one in done)
    failed = [one for one in done if one.what is What.FAILED]
    for one in failed:
        _say(f"\n{one.booklet.name}:\n{one.why}", err=True)
    told = [f"{counts[What.MAKE]} made"]
    told += [f"{counts[What.PUT]} from the store"] if counts[What.PUT] else []
    told += [f"{counts[What.STANDS]} as they were"] if counts[What.STANDS] else []
    told += [f"{len(failed)} failed: {', '.join(one.booklet.name for one in failed)}"] if failed else []
    told += [f"{len(tasks) - len(done)} left; run it again to go on"] if len(done) < len(tasks) else []
    _say(f"{_booklets(len(tasks))} in {_time(seconds)}: {', '.join(told)}")


class _Display:
    """How far it is: a bar on a terminal, a plain line for each booklet elsewhere."""

    def __init__(self, tasks: Sequence[Task]) -> None:
        from drawleaf.catalogue.building import What

        self.left = {task.booklet.target: task for task in tasks if task.what in (What.MAKE, What.PUT)}
        self.total, self.began = len(self.left), time.monotonic()
        self.took: list[float] = []
        self.bar: Any = None

    def __enter__(self) -> _Display:
        if sys.stderr.isatty() and self.total:
            from rich.console import Console
            from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn

            columns = (BarColumn(), MofNCompleteColumn(), TextColumn("{task.description}"))
            self.bar = Progress(*columns, console=Console(stderr=True), transient=True)
            self.row = self.bar.add_task("", total=self.total)
            self.bar.start()
        return self

    def __exit__(self, *_: object) -> None:
        if self.bar:
            self.bar.stop()

    def show(self, one: Done) -> None:
        """One more is done."""
        from drawleaf.catalogue.building import What

        if self.left.pop(one.booklet.target, None) is None:
            return
        if one.what is What.MAKE:
            self.took.append(one.seconds)
        number, to_go = self.total - len(self.left), self._to_go()
        if self.bar:
            self.bar.update(self.row, completed=number, description=f"{one.booklet.name}{to_go}")
            return
        how = f"made in {one.seconds:.0f} s" if one.what is What.MAKE else one.what.value
        why = "" if one.what is What.FAILED else f" ({one.why})"
        _say(f"[{number}/{self.total}] {one.booklet.name}: {how}{why}{to_go}", err=True)

    def _to_go(self) -> str:
        from drawleaf.catalogue.building import seconds_to_go

        typical = sum(self.took) / len(self.took) if self.took else None
        seconds = seconds_to_go(self.left.values(), typical)
        if not seconds or not self.took:
            return ""
        # So much is done of the work of one process, in so much time: several are faster.
        speed = sum(self.took) / (time.monotonic() - self.began)
        return f", {_time(seconds / speed)} to go"


def _booklets(count: int) -> str:
    return "1 booklet" if count == 1 else f"{count} booklets"


def _time(seconds: float) -> str:
    if seconds < 90:
        return f"{seconds:.0f} s" if seconds >= 10 else f"{seconds:.1f} s"
    return f"{seconds / 60:.0f} min" if seconds < 5400 else f"{seconds / 3600:.1f} h"


def _say(line: str, *, err: bool = False) -> None:
    typer.echo(line.encode("utf-8", "backslashreplace").decode(), err=err)
