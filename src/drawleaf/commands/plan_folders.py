"""The plans that a command line names."""

from __future__ import annotations

import unicodedata
from pathlib import Path

import typer


def plan_folders(plans: list[Path]) -> list[Path]:
    """The folders meant, absolute. Raises BadParameter for a path that holds no plan, or is no text."""
    folders = []
    for path in plans:
        folder = path.parent if path.name == "plan.yaml" else path
        if not (folder / "plan.yaml").is_file():
            raise typer.BadParameter(_no_plan(path), param_hint="PLAN")
        folders.append(folder.resolve())
        if not all(c.isprintable() or unicodedata.category(c) == "Zs" for c in str(folders[-1])):
            shown = str(folders[-1]).encode("unicode-escape").decode()
            raise typer.BadParameter(
                f"“{shown}”: a folder in this path has a name with marks that are no text. Give it another name.",
                param_hint="PLAN",
            )
    return folders


def _no_plan(path: Path) -> str:
    """Why a path is no plan, and what may be meant."""
    from drawleaf.source.names import nearest

    if path.is_file():
        return f"“{path}” is no plan. Name the folder that has its plan.yaml."
    if path.is_dir():
        below = sorted(one.parent for one in path.glob("*/plan.yaml"))
        told = f"There is no plan.yaml in “{path}”."
        return f"{told} Did you mean “{below[0]}”?" if len(below) == 1 else told
    plans = {one.parent.name for one in path.absolute().parent.glob("*/plan.yaml")}
    near = nearest(path.name, plans)
    told = f"There is no folder “{path}”."
    return f"{told} Did you mean “{path.with_name(near)}”?" if near else told
