"""A tree checked against its model: the typed node, or a diagnostic for everything that does not fit."""

from __future__ import annotations

from typing import Any, TypeVar

from pydantic import ValidationError

from drawleaf.model.diagnostic import Diagnostic
from drawleaf.source.misfits import misfits
from drawleaf.source.models import SourceNode
from drawleaf.source.positions import Path, Positions

Model = TypeVar("Model", bound=SourceNode)


def validate_model(
    model: type[Model], tree: Any, positions: Positions, file: str, *, at: Path = ()
) -> tuple[Model | None, tuple[Diagnostic, ...]]:
    """The node that ``tree`` describes, with path and file set on it and on all nodes inside; None where anything is wrong.

    ``at`` is the path of ``tree`` within the file, for a file that holds many nodes.
    """
    try:
        node = model.model_validate(tree)
    except ValidationError as error:
        return None, misfits(model, tree, error, positions, file, at)
    return mark(node, at, file), ()


def fits(model: type[SourceNode], tree: Any) -> bool:
    """Whether a tree is such a node; what is wrong with it is told by ``validate_model``."""
    try:
        model.model_validate(tree)
    except ValidationError:
        return False
    return True


def mark(node: Model, path: Path, file: str) -> Model:
    """Sets on a node and all inside it where they stand. Nodes that come from a default are copied first, as models share them."""
    node._path = path
    node._file = file
    for name, info in type(node).model_fields.items():
        value = getattr(node, name)
        if isinstance(value, SourceNode) and name not in node.model_fields_set:
            value = value.model_copy()
            object.__setattr__(node, name, value)  # the node is frozen to all others
        _mark_inside(value, (*path, info.alias or name), file)
    return node


def _mark_inside(value: Any, path: Path, file: str) -> None:
    if isinstance(value, SourceNode):
        mark(value, path, file)
    elif isinstance(value, dict):
        for key, inner in value.items():
            _mark_inside(inner, (*path, key), file)
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            _mark_inside(inner, (*path, index), file)
