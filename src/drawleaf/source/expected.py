"""What a source model expects at each place of a tree: which model, which keys, where expressions stand."""

from __future__ import annotations

import types
from collections.abc import Iterator
from functools import cache
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

from drawleaf.source.models import Expr, SourceNode
from drawleaf.source.positions import Path, steps_into


@cache
def keys_of(model: type[SourceNode]) -> dict[str, Any]:
    """The keys that an author may write in a model, with the type of each value."""
    hints = get_type_hints(model, include_extras=True)
    return {info.alias or name: hints[name] for name, info in model.model_fields.items()}


def expectation_at(model: type[SourceNode], tree: Any, path: Path) -> Any:
    """The type expected at ``path`` of a tree that should be a ``model``; None where nothing is."""
    expected: Any = model
    for step in path:
        expected = _child(narrowed(expected, tree), step)
        if expected is None:
            return None
        tree = tree[step] if stands_in(tree, step) else None
    return narrowed(expected, tree)


def expressions_in(model: type[SourceNode], tree: Any) -> Iterator[tuple[Path, str]]:
    """Every expression written in a tree, with its path, in source order; whether or not the rest of the tree is sound."""
    yield from _expressions(model, tree, ())


def narrowed(expected: Any, value: Any) -> Any:
    """The member of a union that fits the kind of ``value``: a model or dict for a mapping, a list for a list."""
    if expected is Expr:
        return expected
    if get_origin(expected) is Annotated:
        return narrowed(get_args(expected)[0], value)
    if get_origin(expected) not in (Union, types.UnionType):
        return expected
    members = [narrowed(member, value) for member in get_args(expected) if member is not type(None)]
    fitting = [member for member in members if shape_of(member) == shape_of_value(value)]
    return (fitting or members)[0]


def shape_of(expected: Any) -> str:
    """``mapping``, ``list`` or ``word``."""
    if isinstance(expected, type) and issubclass(expected, SourceNode):
        return "mapping"
    return {dict: "mapping", list: "list"}.get(get_origin(expected), "word")  # type: ignore[arg-type]


def shape_of_value(value: Any) -> str:
    return "mapping" if isinstance(value, dict) else "list" if isinstance(value, list) else "word"


def stands_in(tree: Any, step: str | int) -> bool:
    """Whether a mapping has the key, or a list the index, ``step``."""
    if isinstance(tree, dict):
        return step in tree
    return isinstance(tree, list) and isinstance(step, int) and step < len(tree)


def choices(expected: Any) -> tuple[str, ...]:
    """The words that are allowed here, where only certain words are."""
    if get_origin(expected) is Annotated:
        return choices(get_args(expected)[0])
    if get_origin(expected) is Literal:
        return tuple(str(word) for word in get_args(expected))
    if get_origin(expected) in (Union, types.UnionType):
        return tuple(word for member in get_args(expected) for word in choices(member))
    return ()


def _child(expected: Any, step: str | int) -> Any:
    if isinstance(expected, type) and issubclass(expected, SourceNode):
        return keys_of(expected).get(str(step))
    if get_origin(expected) is dict:
        return get_args(expected)[1]
    if get_origin(expected) is list:
        return get_args(expected)[0]
    return None


def _expressions(expected: Any, tree: Any, path: Path) -> Iterator[tuple[Path, str]]:
    expected = narrowed(expected, tree)
    if expected is Expr:
        if isinstance(tree, str):
            yield path, tree
        return
    for step, value in steps_into(tree):
        child = _child(expected, step)
        if child is not None:
            yield from _expressions(child, value, (*path, step))
