"""``drawleaf check --mend``: shows what would be rewritten in a plan's source, and when asked to rewrites it."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import typer

from drawleaf.english import counted
from drawleaf.resources import product_folder, shared_folders
from drawleaf.source.library import files_of, load_library, shown
from drawleaf.source.library_models import MODELS, PriceBookEntry
from drawleaf.source.models import ComponentSource, PlanSource, SourceNode
from drawleaf.source.old_names import Known, difference, old_names, old_names_of_entries, rewritten
from drawleaf.source.reader import PLAN_FILE
from drawleaf.source.renames import FOLDERS
from drawleaf.source.text_files import leads_outside, read_text
from drawleaf.source.yaml_tree import read_yaml

_BOM = b"\xef\xbb\xbf"


@dataclass(frozen=True, slots=True)
class Mended:
    """A file with its old names replaced: the new text, what changes, and how many names."""

    path: Path
    text: str
    shown: str
    count: int


@dataclass(frozen=True, slots=True)
class _Source:
    """A file of the author's: what it should be, and whether it holds one such thing or many, each under a name."""

    path: Path
    folder: Path
    model: type[SourceNode]
    many: bool


def mended(folder: Path) -> tuple[Mended, ...]:
    """What mending would make of a plan and of the author's own shared files that it draws on; files without old names, or that
    cannot be read at all, are left out."""
    library, _ = load_library(shared_folders(folder))
    kinds = {"hardware": library.catalogue.hardware, "materials": library.catalogue.materials}
    kinds["components"] = library.components  # type: ignore[assignment]  # only its names are asked for

    def known(kind: str, name: str) -> bool:
        return name in kinds.get(kind, {})

    found = (_mended(source, known) for source in _sources(folder))
    return tuple(one for one in found if one is not None)


def _sources(folder: Path) -> Iterator[_Source]:
    """The plan, and the files of the author's ``shared`` folders; those that lie where they lay in an older version too."""
    yield _Source(folder / PLAN_FILE, folder, PlanSource, many=False)
    for shared in shared_folders(folder):
        if shared == product_folder("shared"):
            continue
        for path in files_of(shared, "components"):
            yield _Source(path, shared, ComponentSource, many=False)
        for path in files_of(shared, "prices"):
            yield _Source(path, shared, PriceBookEntry, many=False)
        for kind, model in MODELS.items():
            places = (kind, *(old for old, new in FOLDERS.items() if new == kind))
            for path in (path for place in places for path in files_of(shared, place)):
                yield _Source(path, shared, model, many=True)


def moves(folder: Path) -> tuple[tuple[Path, Path], ...]:
    """Folders and files of the author's ``shared`` folders that have another name now, with it. What would cover another is left."""
    found = []
    for shared in shared_folders(folder):
        for old, new in FOLDERS.items():
            pairs = ((shared / old, shared / new), (shared / f"{old}.yaml", shared / f"{new}.yaml"))
            found += [(here, there) for here, there in pairs if here.exists() and not there.exists()]
    return tuple(found)


def _mended(source: _Source, known: Known) -> Mended | None:
    file = shown(source.path)
    text = None if leads_outside(source.path, source.folder) else read_text(source.path, file)[0]
    if text is None:
        return None
    tree, positions, _ = read_yaml(file, text)
    if tree is None:
        return None
    find = old_names_of_entries if source.many else old_names
    changes = find(source.model, tree, positions, file, known)
    if not changes:
        return None
    new = rewritten(text, changes)
    return Mended(source.path, new, difference(text, new, file), len(changes))


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
    found, renamed = mended(folder), moves(folder)
    if not found and not renamed:
        typer.echo(f"{folder.name}: no old names", err=True)
        return
    for one in found:
        typer.echo(f"{shown(one.path)}:\n{one.shown}", err=True)
    for here, there in renamed:
        typer.echo(f"{shown(here)} becomes {shown(there)}", err=True)
    names = counted(len(renamed) + sum(one.count for one in found), "name")
    places = [*(one.path for one in found), *(here for here, _ in renamed)]
    files = places[0].name if len(places) == 1 else f"{len(places)} places"
    if not yes and not (sys.stdin.isatty() and typer.confirm(f"Rewrite {names} in {files}?", err=True)):
        typer.echo(f"{folder.name}: nothing is written; --yes writes without asking", err=True)
        return
    path = folder
    try:
        for one in found:
            path = one.path
            write(one)
        for path, there in renamed:
            path.rename(there)
    except OSError as error:
        typer.echo(f"{path}: cannot be written: {error.strerror}", err=True)
        raise typer.Exit(1) from None
    typer.echo(f"{folder.name}: {names} rewritten", err=True)
