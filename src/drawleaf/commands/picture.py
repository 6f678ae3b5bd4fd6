"""``drawleaf picture``: the piece as if photographed, from its own solids, into a file beside the plan."""

from __future__ import annotations

import os
import re
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn

import typer

from drawleaf.commands.plan_folders import plan_folders
from drawleaf.english import counted
from drawleaf.looks.wish import Side, Surroundings, Wish

if TYPE_CHECKING:
    from drawleaf.compiler import Outcome
    from drawleaf.looks.take import Setting, Subject
    from drawleaf.model.plan import Plan

INSTALL = (
    "Pictures need a renderer, which is not part of the usual set-up. Install it with: pip install 'drawleaf[pictures]'"
)
_LARGEST = 4096
_RATES = 65_000.0
"""Samples that one core traces in a second, without the fast build: measured on one computer, to tell about how long it takes."""


class QualityWord(StrEnum):
    """How fine the picture is."""

    DRAFT = "draft"
    FINAL = "final"


@dataclass(frozen=True, slots=True)
class _Quality:
    size: tuple[int, int]
    samples: int
    fast: bool


_QUALITIES = {
    QualityWord.DRAFT: _Quality((480, 360), 4, False),
    QualityWord.FINAL: _Quality((1600, 1200), 20, True),
}


class PictureError(Exception):
    """Why there is no picture, in words for the author."""


def add_to(app: typer.Typer) -> None:
    """The command, as part of the command line."""
    app.command("picture")(picture_command)


def picture_command(
    plan: Annotated[Path, typer.Argument(help="A plan folder, or its plan.yaml.", metavar="PLAN")],
    edition: Annotated[str | None, typer.Option(help="Name of an edition in the source.", metavar="NAME")] = None,
    view: Annotated[Side | None, typer.Option(help="From where; the side that shows most if left out.")] = None,
    scene: Annotated[
        Surroundings | None, typer.Option(help="A room, or a sweep of paper; by the size of the piece if left out.")
    ] = None,
    quality: Annotated[
        QualityWord, typer.Option(help="A draft takes seconds, a final picture minutes.")
    ] = QualityWord.DRAFT,
    size: Annotated[str | None, typer.Option(help="Pixels, 1600x1200.", metavar="WxH")] = None,
    samples: Annotated[
        int | None, typer.Option(help="Samples to a pixel: more are slower and cleaner.", min=1, max=1024)
    ] = None,
    step: Annotated[
        str | None, typer.Option(help="The piece after this step, by number or name.", metavar="STEP")
    ] = None,
    exploded: Annotated[bool, typer.Option("--exploded", help="Pulled apart, as in the drawings.")] = False,
    open_: Annotated[bool, typer.Option("--open", help="Doors ajar, drawers pulled out.")] = False,
    cue: Annotated[bool, typer.Option("--cue", help="With a mug beside it, to tell its size by.")] = False,
    out: Annotated[
        Path | None,
        typer.Option(help="The file, .png or .jpg; picture.jpg in the plan's folder if left out.", metavar="FILE"),
    ] = None,
) -> None:
    """Make a photo-like picture of the piece.

    Needs the extra drawleaf[pictures].
    """
    from drawleaf.looks.mitsuba import installed
    from drawleaf.sell.whole_files import write_whole

    if not installed():
        typer.echo(INSTALL, err=True)
        raise typer.Exit(1)
    (folder,) = plan_folders([plan])
    if step is not None and (exploded or open_):
        _refuse_with_step()
    chosen = _QUALITIES[quality]
    wish = Wish(_size(size, chosen.size), view, scene, open_, exploded, cue)
    target = (out or folder / "picture.jpg").resolve()
    try:
        _may_write(target)
        subject = _subject(folder, edition, step, wish)
        data, words = _made(subject, wish, chosen, samples or chosen.samples, target.suffix.lower().lstrip("."))
        write_whole(target, data)
    except PictureError as error:
        typer.echo(str(error), err=True)
        raise typer.Exit(1) from None
    except OSError as error:
        typer.echo(f"{target}: cannot be written: {error.strerror}.", err=True)
        raise typer.Exit(1) from None
    typer.echo(f"{folder.name}: picture in {out or _near(target)} ({words})")


def _near(target: Path) -> Path:
    try:
        return target.relative_to(Path.cwd())
    except ValueError:
        return target


def _size(text: str | None, usual: tuple[int, int]) -> tuple[int, int]:
    if text is None:
        return usual
    found = re.fullmatch(r"(\d{1,5})x(\d{1,5})", text.strip())
    wide, high = (int(found[1]), int(found[2])) if found else (0, 0)
    if not (64 <= wide <= _LARGEST and 64 <= high <= _LARGEST):
        raise typer.BadParameter(
            f"“{text}” is no size. Write pixels, such as 1600x1200; from 64 to {_LARGEST}.", param_hint="--size"
        )
    return wide, high


def _refuse_with_step() -> NoReturn:
    words = "A step shows the piece as it stands then. Leave out --exploded and --open."
    raise typer.BadParameter(words, param_hint="--step")


def _may_write(target: Path) -> None:
    """A file of ours is made anew; what is somebody's own is left alone. Raises PictureError."""
    from drawleaf.looks.photo import is_ours

    if target.suffix.lower() not in (".png", ".jpg", ".jpeg"):
        raise PictureError(f"{target.name}: a picture's name ends in .png or .jpg.")
    if not target.parent.is_dir():
        raise PictureError(f"{target.parent}: there is no such folder.")
    if target.exists():
        with target.open("rb") as stream:
            if not is_ours(stream.read(4096)):
                raise PictureError(
                    f"{target}: this picture was not made by drawleaf, and is left as it is. Name another file with --out."
                )


def _subject(folder: Path, edition: str | None, step: str | None, wish: Wish) -> Subject:
    from drawleaf.compiler import Choice, read_and_resolve, work_out
    from drawleaf.looks.take import finished, in_the_making
    from drawleaf.solids.build import build_solids

    outcome, plan = read_and_resolve(folder, Choice(edition))
    _tell(outcome)
    if plan is None:
        raise PictureError(f"{folder.name}: there is no picture, as the plan has mistakes.")
    if step is None:
        return finished(plan, build_solids(plan), wish)
    outcome, solids = work_out(outcome, plan, tidy=False)
    if outcome.derived is None or solids is None:
        _tell(outcome)
        raise PictureError(f"{folder.name}: there is no picture, as the plan has mistakes.")
    for one in outcome.derived.steps:
        if step in (str(one.number), one.id, *one.also):
            if one.scene is None and not one.parts:
                raise PictureError(f"Step {one.number} shows no part of the piece. Take a later one.")
            return in_the_making(outcome.derived, solids, one)
    raise PictureError(f"There is no step “{step}”. `drawleaf check {folder.name} --steps` lists them.")


def _tell(outcome: Outcome) -> None:
    from drawleaf.source.report import render_all

    wrong = [one for one in outcome.diagnostics if one.is_error]
    if wrong:
        typer.echo(render_all(tuple(wrong), outcome.texts, False), err=True)


def _made(subject: Subject, wish: Wish, chosen: _Quality, samples: int, kind: str) -> tuple[bytes, str]:
    """The file, and words on how it came about."""
    from drawleaf import __version__
    from drawleaf.looks.mitsuba import Settings, render, version
    from drawleaf.looks.photo import exposed, written
    from drawleaf.looks.take import set_up

    setting = set_up(subject, wish)
    cores = os.cpu_count() or 1
    seconds = wish.size[0] * wish.size[1] * samples / _RATES / cores
    typer.echo(
        f"{wish.size[0]} x {wish.size[1]} pixels, {samples} samples each: about {_time(seconds)} on {counted(cores, 'core')}",
        err=True,
    )
    settings = Settings(samples, chosen.fast)
    with _Told(subject.plan.name) as told:
        made = render(setting.scene, setting.groups, settings, told)
    if not made.denoised:
        typer.echo(
            "The noise could not be taken out (mitsuba-oidn is not there): ask for more --samples for a cleaner picture.",
            err=True,
        )
    about = _about(subject.plan, setting, samples, wish)
    about |= {
        "renderer": f"Mitsuba {version()}",
        "build": made.variant,
        "denoised": made.denoised,
        "drawleaf": __version__,
        "seed": settings.seed,
    }
    return written(exposed(made.light), kind, about), f"{setting.side.value}, {setting.where.value}"


def _about(plan: Plan, setting: Setting, samples: int, wish: Wish) -> dict[str, str | int | bool]:
    return {
        "plan": plan.about.number,
        "revision": plan.about.revision,
        "edition": plan.edition or "",
        "view": setting.side.value,
        "scene": setting.where.value,
        "samples": samples,
        "size": f"{wish.size[0]}x{wish.size[1]}",
    }


def _time(seconds: float) -> str:
    if seconds < 90:
        return f"{max(5, 5 * round(seconds / 5))} seconds"
    return f"{round(seconds / 60)} minutes"


class _Told:
    """Progress with the time to go: a changing line on a terminal, a line for each kind of work and every quarter elsewhere."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.what, self.since, self.shown = "", 0.0, -1.0
        self.live = sys.stderr.isatty()

    def __enter__(self) -> Callable[[str, float], None]:
        return self.tell

    def __exit__(self, *_: object) -> None:
        if self.live and self.what:
            sys.stderr.write("\n")

    def tell(self, what: str, share: float) -> None:
        if what != self.what:
            self.what, self.since, self.shown = what, time.monotonic(), -1.0
        if self.shown >= 0.0 and share < self.shown + (0.01 if self.live else 0.25):
            return
        self.shown = share
        gone = time.monotonic() - self.since
        left = f", {_time(gone / share - gone)} to go" if 0.05 < share < 1.0 and gone > 3.0 else ""
        line = f"{self.name}: {what} {round(100 * share)} %{left}"
        if self.live:
            sys.stderr.write(f"\r{line:<78}")
            sys.stderr.flush()
        else:
            typer.echo(line, err=True)
