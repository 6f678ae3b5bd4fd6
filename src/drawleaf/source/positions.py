"""Where every key and value of a YAML file stands, kept beside the tree that holds the values."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from drawleaf.model.position import Position

Path = tuple[str | int, ...]


def steps_into(tree: Any) -> Iterator[tuple[str | int, Any]]:
    """What a node of a tree holds, each with the step of a path that leads to it."""
    if isinstance(tree, dict):
        yield from tree.items()
    elif isinstance(tree, list):
        yield from enumerate(tree)


@dataclass(frozen=True, slots=True)
class Spot:
    """A node of the tree: its key (None for list items and the root) and its value. An empty list item has its own place as key."""

    key: Position | None
    value: Position


@dataclass(frozen=True, slots=True)
class Positions:
    """The spots of all nodes of one or more files, by file and path.

    ``shifted`` sends a path elsewhere: an edition's value stands in for the plan's own, and is pointed at where the edition writes it.
    """

    spots: Mapping[str, Mapping[Path, Spot]]
    shifted: Mapping[tuple[str, Path], tuple[str, Path]] = field(default_factory=dict)

    def of(self, file: str, path: Path) -> Position:
        """The value at ``path``; for a mapping or list with a key, that key. What is not written is pointed at by what would hold it."""
        file, path = self._target(file, path)
        spots = self.spots.get(file, {})
        while True:
            if spot := _look_up(spots, path):
                return spot.value
            if not path:
                return Position(file, 1, 1)
            path = path[:-1]

    def of_key(self, file: str, path: Path) -> Position:
        """The key at ``path``, without its value. List items have no key: their value is given."""
        file, path = self._target(file, path)
        spot = _look_up(self.spots.get(file, {}), path)
        return spot.key if spot and spot.key else self.of(file, path)

    def has(self, file: str, path: Path) -> bool:
        """Whether anything is written at ``path``."""
        file, path = self._target(file, path)
        return _look_up(self.spots.get(file, {}), path) is not None

    def is_empty(self, file: str, path: Path) -> bool:
        """Whether a null at ``path`` comes of nothing being written there, rather than of the word ``null``."""
        file, path = self._target(file, path)
        spot = _look_up(self.spots.get(file, {}), path)
        return spot is not None and spot.key == spot.value

    def merged(self, other: Positions) -> Positions:
        """These and the other's; on a file that both know, the other wins."""
        return Positions({**self.spots, **other.spots}, {**self.shifted, **other.shifted})

    def shift(self, moves: Mapping[tuple[str, Path], tuple[str, Path]]) -> Positions:
        """The same with some paths sent elsewhere."""
        return Positions(self.spots, {**self.shifted, **moves})

    def _target(self, file: str, path: Path) -> tuple[str, Path]:
        return self.shifted.get((file, path), (file, path)) if self.shifted else (file, path)


def _look_up(spots: Mapping[Path, Spot], path: Path) -> Spot | None:
    """The spot at ``path``. A field's name works for its key as well (``in_`` for ``in``)."""
    if spot := spots.get(path):
        return spot
    if path and isinstance(path[-1], str) and path[-1].endswith("_"):
        return spots.get((*path[:-1], path[-1].removesuffix("_")))
    return None


NOWHERE = Positions({})
