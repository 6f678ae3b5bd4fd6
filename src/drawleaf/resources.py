"""Where the product's own templates, shared data and fonts are, and where an author's own stand in for them.

In a wheel the data lie inside the package (``drawleaf/data``); in a checkout they are the top-level folders. An author may keep
a ``shared/`` or ``templates/`` of their own beside their plans: the nearest one at or above the plan's folder joins in, and what it
names replaces ours. A folder that only happens to be called so is passed over: it must hold something that drawleaf reads. One above the
plan that belongs to somebody else is refused.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent

SHARED_PARTS = (
    "materials",
    "hardware",
    "tools",
    "methods",
    "tool_sets",
    "cautions",
    "finishes",
    "looks",
    "consumables",
    "prices",
    "components",
)
"""What a ``shared/`` folder may hold: each as a folder of YAML files or as one YAML file of that name."""

_OLD_PARTS = ("kits",)
"""Names of such parts in older versions: a folder that holds one is found, so that the new name can be given."""


class MissingDataError(RuntimeError):
    """The installation itself is broken: a folder that ships with drawleaf is not there."""


@cache
def product_folder(name: str) -> Path:
    """The product's own ``templates`` or ``shared`` folder. Raises MissingDataError where it is not installed."""
    for place in (_PACKAGE / "data" / name, _PACKAGE.parents[1] / name):
        if place.is_dir():
            return place
    raise MissingDataError(f"drawleaf's own folder {name!r} is missing: install drawleaf again.")


def shared_folders(plan_folder: Path | None = None) -> tuple[Path, ...]:
    """The ``shared`` folders to read, ours first: a later one replaces an entry of an earlier one by name."""
    own = product_folder("shared")
    authors = _nearest(plan_folder, "shared", _holds_shared_data)
    return (own,) if authors is None or authors.samefile(own) else (own, authors)


def template_folders(plan_folder: Path | None = None) -> tuple[Path, ...]:
    """The ``templates`` folders to search, the author's first: the first that holds a file of that name wins."""
    own = product_folder("templates")
    authors = _nearest(plan_folder, "templates", _holds_templates)
    return (own,) if authors is None or authors.samefile(own) else (authors, own)


def font_files() -> tuple[Path, ...]:
    """The font files of the text family: upright first, then italic. Their family is `font_family()`."""
    import fontpkg_source_sans_3

    files = sorted((Path(fontpkg_source_sans_3.ROOT) / "files").glob("*.ttf"))
    return tuple(sorted(files, key=lambda file: ("italic" in file.name.lower(), file.name)))


def font_family() -> str:
    """The name of the text family."""
    import fontpkg_source_sans_3

    return fontpkg_source_sans_3.FAMILY


def _nearest(plan_folder: Path | None, name: str, fits: Callable[[Path], bool]) -> Path | None:
    """The nearest folder of that name at or above the plan's folder that fits and is not somebody else's."""
    if plan_folder is None:
        return None
    return next((one for one in _fitting(plan_folder, name, fits) if not _is_foreign(one, plan_folder)), None)


def _fitting(plan_folder: Path, name: str, fits: Callable[[Path], bool]) -> Iterator[Path]:
    """The folders of that name at or above the plan's folder that fit, the nearest first."""
    start = plan_folder.resolve()
    for parent in (start, *start.parents):
        candidate = parent / name
        if candidate.is_dir() and fits(candidate):
            yield candidate


def lent_from_above(plan_folder: Path) -> tuple[Path, ...]:
    """The author's ``shared`` and ``templates`` folders that a plan draws on and that lie outside its own folder."""
    ours = (product_folder("shared"), product_folder("templates"))
    used = (*shared_folders(plan_folder), *template_folders(plan_folder))
    return tuple(one for one in used if one not in ours and not one.is_relative_to(plan_folder.resolve()))


def foreign_folders(plan_folder: Path) -> tuple[Path, ...]:
    """The folders that a plan would draw on, did they not belong to somebody else: those nearer than the ones that it uses."""
    refused: list[Path] = []
    for name, fits in _KINDS:
        for one in _fitting(plan_folder, name, fits):
            if not _is_foreign(one, plan_folder):
                break
            refused.append(one)
    return tuple(refused)


def _is_foreign(folder: Path, plan_folder: Path) -> bool:
    """Whether a folder above a plan belongs to another user than the one who compiles, the plan's owner, and the system's own."""
    if folder.is_relative_to(plan_folder.resolve()) or not hasattr(os, "geteuid"):
        return False
    return _owner(folder) not in (os.geteuid(), _owner(plan_folder), 0)


def _owner(folder: Path) -> int:
    return folder.stat().st_uid


def _holds_shared_data(folder: Path) -> bool:
    """Whether a folder holds at least one data file of a kind that drawleaf reads."""
    parts = (*SHARED_PARTS, *_OLD_PARTS)
    return any((folder / f"{part}.yaml").is_file() or any((folder / part).glob("*.yaml")) for part in parts)


def _holds_templates(folder: Path) -> bool:
    """Whether a folder holds at least one file that stands in for one of ours. One in which a link leads to a file outside is not used:
    templates of a stranger's plan could print any file."""
    own = product_folder("templates")
    if not any((folder / file.relative_to(own)).is_file() for file in own.rglob("*") if file.is_file()):
        return False
    return all(file.resolve().is_relative_to(folder.resolve()) for file in folder.rglob("*"))


_KINDS = (("shared", _holds_shared_data), ("templates", _holds_templates))
