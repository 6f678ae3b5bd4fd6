"""Names that keys, words and items had in older plans: reported at their line with the new one, and rewritten in place on request.

``drawleaf check --mend`` changes exactly the characters of the old words, by the places that the reader keeps, so that comments,
blanks and the order of things stay as the author left them. The names themselves are in ``renames``.
"""

from __future__ import annotations

import difflib
from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, get_args, get_origin

from drawleaf.model.position import Position
from drawleaf.source.expected import keys_of, narrowed
from drawleaf.source.models import SourceNode
from drawleaf.source.positions import Path, Positions
from drawleaf.source.renames import ITEMS, KEYS, NAMES, PARAMETERS, WORDS

Known = Callable[[str, str], bool]
"""Whether there is an item of a kind (``hardware``, ``materials``) under a name."""


@dataclass(frozen=True, slots=True)
class Change:
    """An old name where it stands, and what it is called now."""

    at: Position
    new: str


def new_name(model: Any, key: str) -> str | None:
    """What a key of a model is called now, if it had this name once."""
    return KEYS.get(model.__name__, {}).get(key) if isinstance(model, type) else None


def new_word(model: Any, key: str, word: str) -> str | None:
    """What a word among a few, at a key of a model, is called now."""
    return WORDS.get((model.__name__, key), {}).get(word) if isinstance(model, type) else None


def new_measure(name: str) -> str | None:
    """What a measure of hardware is called now."""
    return NAMES["HardwareEntry", "measures"].get(name)


def new_parameter(component: str, name: str) -> str | None:
    """What a parameter of one of our components is called now."""
    return PARAMETERS.get(component, {}).get(name)


def new_item(kind: str, name: str) -> str | None:
    """What an item of ``shared/`` is called now; sizes at its end stay: ``under-mount slides 15 in``."""
    for old, new in ITEMS.get(kind, {}).items():
        if name == old or name.startswith(f"{old} "):
            return new + name.removeprefix(old)
    return None


def told_new(new: str) -> str:
    """The sentence with the new name of what had another one."""
    return f"It is called “{new}” now. `drawleaf check --mend` rewrites it."


def item_renamed(kind: str, name: str, known: Collection[str]) -> str:
    """The sentence with an item's present name; empty where it had no other name or there is none such."""
    new = new_item(kind, name)
    return told_new(new) if new is not None and new in known else ""


def old_names(
    model: type[SourceNode], tree: Any, positions: Positions, file: str, known: Known = lambda _kind, _name: False
) -> tuple[Change, ...]:
    """Every old name in a tree that should be a ``model``, in the order of the file. An item that is ``known`` keeps its name."""
    return _changes(_Walk(known).inside(model, tree, ()), positions, file)


def old_names_of_entries(
    model: type[SourceNode], tree: Any, positions: Positions, file: str, known: Known
) -> tuple[Change, ...]:
    """The same for a file of entries, each under a name of its own."""
    entries = tree.items() if isinstance(tree, Mapping) else ()
    walk = _Walk(known)
    return _changes((one for name, entry in entries for one in walk.inside(model, entry, (name,))), positions, file)


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


_Found = tuple[Path, bool, str]
"""Where an old name stands, whether it is the key there or the value, and the new one."""


def _changes(found: Iterator[_Found], positions: Positions, file: str) -> tuple[Change, ...]:
    changes = {}
    for path, key, new in found:
        at = positions.of_key(file, path) if key else positions.of(file, path)
        changes[at] = Change(at, new)
    return tuple(changes[at] for at in sorted(changes))


class _Walk:
    """Goes through a tree with the model that it should be, by the new names of its keys."""

    def __init__(self, known: Known) -> None:
        self.known = known

    def inside(self, expected: Any, tree: Any, path: Path) -> Iterator[_Found]:
        """The old names at and below a place."""
        expected = narrowed(expected, tree)
        if isinstance(tree, list):
            member = get_args(expected)[0] if get_origin(expected) is list else None
            for index, value in enumerate(tree):
                yield from self.inside(member, value, (*path, index))
        elif isinstance(tree, Mapping) and isinstance(expected, type) and issubclass(expected, SourceNode):
            for key, value in tree.items():
                yield from self._at_key(expected, tree, key, value, (*path, key))
        elif isinstance(tree, Mapping) and get_origin(expected) is dict:
            for key, value in tree.items():
                yield from self.inside(get_args(expected)[1], value, (*path, key))

    def _at_key(
        self, model: type[SourceNode], tree: Mapping[str, Any], key: str, value: Any, path: Path
    ) -> Iterator[_Found]:
        new = new_name(model, key)
        if new is not None and new not in tree:
            yield path, True, new
            key = new
        if isinstance(value, str):
            yield from self._word(model, key, value, path)
        elif isinstance(value, Mapping):
            below = NAMES.get((model.__name__, key), {})
            if (model.__name__, key) == ("AssemblyEntry", "with"):
                below = PARAMETERS.get(str(tree.get("component")), {})
            for name in value:
                if name in below and below[name] not in value:
                    yield (*path, name), True, below[name]
        yield from self.inside(keys_of(model).get(key), value, path)

    def _word(self, model: type[SourceNode], key: str, word: str, path: Path) -> Iterator[_Found]:
        if new := new_word(model, key, word):
            yield path, False, new
        kind = _ITEM_KEYS.get((model.__name__, key))
        if kind is not None and (new := new_item(kind, word)) and not self.known(kind, word):
            yield path, False, new


_ITEM_KEYS = {
    ("StockEntry", "material"): "materials",
    ("StockChange", "material"): "materials",
    ("FittingEntry", "item"): "hardware",
    ("ScrewOptions", "item"): "hardware",
    ("ScrewOptions", "plug"): "hardware",
    ("PinRows", "sleeves"): "hardware",
    ("MountingScrewEntry", "item"): "hardware",
    ("AssemblyEntry", "component"): "components",
}
"""Keys at which the name of an item stands, with its kind."""
