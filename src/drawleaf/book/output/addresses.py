"""What is printed of the addresses that a booklet may not open. Only a template of an author's can ask for one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path

from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.position import Position
from drawleaf.resources import template_folders


def refused_addresses(refused: Mapping[str, str], plan_folder: Path) -> tuple[Diagnostic, ...]:
    """An error for each address, at the line of the author's template that bears it where one does, else at the templates' first line."""
    files = tuple(_own_templates(plan_folder))
    return tuple(_told(address, why, _place(address, files)) for address, why in refused.items())


def _told(address: str, why: str, position: Position | None) -> Diagnostic:
    return Diagnostic(
        "address-refused",
        f"“{address}” is not shown: {why}",
        position,
        "A booklet stands by itself, and a plan from a stranger could print any file of yours in this way.",
        "Put the picture, style sheet or font into the plan's folder, and name it by its path from there.",
    )


def _own_templates(plan_folder: Path) -> Iterator[tuple[Path, str]]:
    for folder in template_folders(plan_folder)[:-1]:
        for file in sorted(folder.rglob("*")):
            if file.is_file():
                yield file, file.read_text(encoding="utf-8", errors="replace")


def _place(address: str, files: tuple[tuple[Path, str], ...]) -> Position | None:
    for file, text in files:
        for number, line in enumerate(text.splitlines(), start=1):
            at = line.find(address) if address else -1
            if at >= 0:
                return Position(file.as_posix(), number, at + 1, len(address))
    return Position(files[0][0].as_posix(), 1, 1) if files else None
