"""Names that keys had in older plans: told at their line with the new word, and rewritten in place on request.

``drawleaf check --mend`` changes exactly the characters of the old words, by the places that the reader keeps, so that comments,
blanks and the order of things stay as the author left them.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from drawleaf.model.position import Position
from drawleaf.source.models import Node
from drawleaf.source.positions import Path, Positions
from drawleaf.source.shapes import expectation_at

RENAMED: dict[str, dict[str, str]] = {
    "JointEntry": {"pitch": "finger_width"},
    "ScrewOptions": {"sink": "counterbore"},
    "FittingEntry": {"into": "backing", "sink": "set_below", "spacing": "center_to_center"},
    "StockEntry": {"defects": "waste", "uncommon": "special_order"},
    "MakingEntry": {"jointing": "jointing_allowance"},
    "PartEntry": {"cut_to": "level_ends"},
    "TaperEntry": {"off": "narrow_by"},
}
"""By model, the old name of a key and the one that it has now."""


@dataclass(frozen=True, slots=True)
class Change:
    """An old name where it stands, and what it is called now."""

    at: Position
    new: str


def new_name(model: Any, key: str) -> str | None:
    """What a key of a model is called now, if it had this name once."""
    return RENAMED.get(model.__name__, {}).get(key) if isinstance(model, type) else None


def old_names(model: type[Node], tree: Any, positions: Positions, file: str) -> tuple[Change, ...]:
    """Every old name in a tree that should be a ``model``, in the order of the file."""
    found = {}
    for path in _keys(tree, ()):
        owner = expectation_at(model, tree, path[:-1])
        new = new_name(owner, str(path[-1]))
        if new is not None and not _has(tree, path[:-1], new):
            at = positions.of_key(file, path)
            found[at] = Change(at, new)
    return tuple(found[at] for at in sorted(found))


def rewritten(text: str, changes: tuple[Change, ...]) -> str:
    """The text with every old name replaced where it stands; nothing else is touched."""
    lines = text.splitlines(keepends=True)
    for change in sorted(changes, key=lambda one: one.at, reverse=True):
        line, start = lines[change.at.line - 1], change.at.column - 1
        lines[change.at.line - 1] = line[:start] + change.new + line[start + change.at.length :]
    return "".join(lines)


def difference(old: str, new: str, name: str) -> str:
    """What is to change, line by line: what goes with a minus, what comes with a plus."""
    lines = difflib.unified_diff(old.splitlines(), new.splitlines(), name, name, lineterm="", n=0)
    return "\n".join(line for line in lines if not line.startswith(("---", "+++")))


def _keys(tree: Any, path: Path) -> Iterator[Path]:
    if isinstance(tree, Mapping):
        for key, value in tree.items():
            yield (*path, key)
            yield from _keys(value, (*path, key))
    elif isinstance(tree, list):
        for index, value in enumerate(tree):
            yield from _keys(value, (*path, index))


def _has(tree: Any, path: Path, key: str) -> bool:
    for step in path:
        tree = tree[step]
    return key in tree
