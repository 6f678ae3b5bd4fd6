"""Data files read quickly, and read again with positions where something is wrong."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any, TypeVar

import yaml
from pydantic import ValidationError

from drawleaf.model.diagnostic import Diagnostic
from drawleaf.source.likeness import written_out
from drawleaf.source.models import SourceNode
from drawleaf.source.positions import Positions
from drawleaf.source.text_files import leads_outside, link_outside, read_text
from drawleaf.source.validate import validate_model
from drawleaf.source.yaml_tree import read_yaml

Model = TypeVar("Model", bound=SourceNode)
_BASE: Any = getattr(yaml, "CBaseLoader", yaml.BaseLoader)


class _PlainLoader(_BASE):
    """Every scalar as the text that was written; a key that is given twice is an error."""

    def construct_mapping(self, node: Any, deep: bool = False) -> dict[Any, Any]:
        mapping = super().construct_mapping(node, deep=deep)
        if len(mapping) != len(node.value):
            raise yaml.YAMLError("a key is given twice")
        return mapping


class DataFiles:
    """The texts of all files read, what is wrong in them, and where things stand. ``folder`` is what no link may lead out of."""

    def __init__(self) -> None:
        self.folder: Path | None = None
        self.texts: dict[str, str] = {}
        self.found: list[Diagnostic] = []
        self._positions: dict[str, Positions] = {}

    def entries(self, path: Path, file: str, model: type[Model]) -> dict[str, Model]:
        """The entries of a file by their id; those with a mistake are left out and reported."""
        text = self._text(path, file)
        if text is None:
            return {}
        tree = _quick_tree(text)
        try:
            return {name: model.model_validate(entry) for name, entry in _mapping(tree).items()}
        except (ValidationError, TypeError):
            return self._slow_entries(file, text, model)

    def whole(self, path: Path, file: str, model: type[Model], *, marked: bool) -> Model | None:
        """The one thing that a file describes, or None where it has a mistake. ``marked``: with its path and file set on all nodes."""
        text = self._text(path, file)
        if text is None:
            return None
        if not marked:
            try:
                return model.model_validate(_mapping(_quick_tree(text)))
            except (ValidationError, TypeError):
                pass
        tree = self._slow_tree(file, text)
        if tree is None:
            return None
        if marked:
            tree, self._positions[file], unlike = written_out(tree, self._positions[file], file)
            self.found.extend(unlike)
        node, found = validate_model(model, tree, self._positions[file], file)
        self.found.extend(found)
        return node

    def tell(
        self,
        code: str,
        message: str,
        file: str,
        path: tuple[str | int, ...],
        cause: str,
        mend: str,
        *,
        key: bool = False,
    ) -> None:
        """Notes a mistake at a place of a file; at its key rather than its value where ``key``."""
        positions = self._positions.get(file)
        if positions is None:
            positions = self._positions[file] = read_yaml(file, self.texts[file])[1]
        at = positions.of_key(file, path) if key else positions.of(file, path)
        self.found.append(Diagnostic(code, message, at, cause, mend))

    def tell_old_place(self, path: Path, file: str, old: str, new: str) -> None:
        """Notes that a file lies where one lay in an older version, and is not read."""
        text = self._text(path, file)
        if text is not None:
            mend = "Give it the new name. `drawleaf check --mend` does."
            self.tell("old-place", f"this file is not read: “{old}” is called “{new}” now", file, (), "", mend)

    @property
    def positions(self) -> Positions:
        """Where things are in the files that were read with positions: all components, and data files with mistakes."""
        spots: dict[str, Mapping[Any, Any]] = {}
        for positions in self._positions.values():
            spots.update(positions.spots)
        return Positions(spots)

    def _text(self, path: Path, file: str) -> str | None:
        outside = self.folder is not None and leads_outside(path, self.folder)
        text, found = (None, (link_outside(file),)) if outside else read_text(path, file)
        self.found.extend(found)
        if text is not None:
            self.texts[file] = text
        return text

    def _slow_tree(self, file: str, text: str) -> dict[str, Any] | None:
        """The tree with its positions kept; None where the file holds no mapping."""
        tree, positions, found = read_yaml(file, text)
        self._positions[file] = positions
        self.found.extend(found)
        if isinstance(tree, dict):
            return tree
        if not found:
            self.tell("wrong-shape", "this file holds no entries", file, (), "", "Write `name:` and its keys below it.")
        return None

    def _slow_entries(self, file: str, text: str, model: type[Model]) -> dict[str, Model]:
        entries: dict[str, Model] = {}
        for name, entry in (self._slow_tree(file, text) or {}).items():
            node, found = validate_model(model, entry, self._positions[file], file, at=(name,))
            self.found.extend(found)
            if node is not None:
                entries[name] = node
        return entries


def _quick_tree(text: str) -> Any:
    """The tree without positions, or None where the text is not plain sound YAML."""
    try:
        return yaml.load(text, _PlainLoader)  # a base loader makes only texts, lists and mappings
    except (yaml.YAMLError, TypeError, RecursionError):
        return None


def _mapping(tree: Any) -> dict[str, Any]:
    """The tree, if it is a mapping. Raises TypeError."""
    if not isinstance(tree, dict):
        raise TypeError
    return tree
