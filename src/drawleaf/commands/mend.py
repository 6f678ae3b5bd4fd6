"""``drawleaf check --mend``: shows what would be rewritten in a plan's source, and when told to rewrites it."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from pathlib import Path

import typer

from drawleaf.source.library import shown
from drawleaf.source.models import PlanSource
from drawleaf.source.old_names import difference, old_names, rewritten
from drawleaf.source.reader import PLAN_FILE
from drawleaf.source.text_files import leads_outside, read_text
from drawleaf.source.yaml_tree import read_yaml

_BOM = b"\xef\xbb\xbf"


@dataclass(frozen=True, slots=True)
class Mended:
    """A source with its old names replaced: the new text, what changes, and how many names."""

    path: Path
    text: str
    shown: str
    count: int


def mended(folder: Path) -> Mended | None:
    """What mending would make of a plan; None where there is nothing to rewrite, or the file cannot be read as a plan at all."""
    path = folder / PLAN_FILE
    file = shown(path)
    text = None if leads_outside(path, folder) else read_text(path, file)[0]
    if text is None:
        return None
    tree, positions, _ = read_yaml(file, text)
    changes = old_names(PlanSource, tree, positions, file) if tree is not None else ()
    if not changes:
        return None
    new = rewritten(text, changes)
    return Mended(path, new, difference(text, new, file), len(changes))


def write(one: Mended) -> None:
    """Puts the new text in the place of the old, whole or not at all, with the line ends that it had. Raises OSError."""
    beside = one.path.with_name(f".{one.path.name}.new")
    try:
        before = one.path.read_bytes()
        text = one.text.replace("\n", "\r\n") if b"\r\n" in before else one.text
        mark = _BOM if before.startswith(_BOM) else b""
        beside.write_bytes(mark + text.removeprefix("\ufeff").encode())
        beside.replace(one.path)
    finally:
        beside.unlink(missing_ok=True)


def mend_in_place(folder: Path, yes: bool) -> None:
    """Shows what would be rewritten in a plan, asks, and writes it. Without a terminal to ask on nothing is written."""
    one = mended(folder)
    if one is None:
        typer.echo(f"{folder.name}: no old names", err=True)
        return
    typer.echo(one.shown, err=True)
    names = f"{one.count} name{'s' if one.count > 1 else ''}"
    if not yes and not (sys.stdin.isatty() and typer.confirm(f"Rewrite {names} in {one.path.name}?", err=True)):
        typer.echo(f"{folder.name}: nothing is written; --yes writes without asking", err=True)
        return
    try:
        write(one)
    except OSError as error:
        typer.echo(f"{one.path}: cannot be written: {error.strerror}", err=True)
        raise typer.Exit(1) from None
    typer.echo(f"{folder.name}: {names} rewritten", err=True)
