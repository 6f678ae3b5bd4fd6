"""The reference of every key of the source language, made from the models: ``docs/source-keys.md``."""

from __future__ import annotations

import inspect
import re
import types
from collections.abc import Iterator
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from drawleaf.english import capitalized
from drawleaf.source.expected import keys_of
from drawleaf.source.models import ComponentSource, Expr, Name, PlanSource, SourceNode
from drawleaf.source.schema import words_of

_TICKS = re.compile(r"``([^`]*)``")
_FACES_KEY = re.compile(r"^``(?P<key>[a-z_]+):``\s*")
_HEAD = """# Every key of the source

Made from the models that read a plan (`make docs`), so that it says what this version takes and nothing else.
[The source language](source-language.md) explains the same with examples; an editor that uses [the schemas](schema/) shows these words as you type.

A *length* is a figure or an expression of them: `3-1/2`, `18 mm`, `width / 2`, `side.right`. A *name* is one of your own: lower-case letters, digits and
underscores. **Bold** keys must be written.
"""


def key_page() -> str:
    """The page as Markdown."""
    models = list(dict.fromkeys([*_reached(PlanSource), *_reached(ComponentSource)]))
    contents = " · ".join(f"[{_title(model)}](#{_anchor(model)})" for model in models)
    return "\n".join([_HEAD, f"Contents: {contents}", *(_section(model) for model in models)]) + "\n"


def _reached(model: type[SourceNode]) -> Iterator[type[SourceNode]]:
    """The model and all that are in it, in the order in which one comes to them."""
    seen: dict[type[SourceNode], None] = {}
    waiting = [model]
    while waiting:
        one = waiting.pop(0)
        if one in seen:
            continue
        seen[one] = None
        inner = [found for kind in keys_of(one).values() for found in _nodes_in(kind)]
        waiting = [*inner, *waiting]
    yield from seen


def _nodes_in(kind: Any) -> Iterator[type[SourceNode]]:
    if isinstance(kind, type) and issubclass(kind, SourceNode):
        yield kind
    elif get_origin(kind) is not Literal:
        for inner in get_args(kind):
            yield from _nodes_in(inner)


def _title(model: type[SourceNode]) -> str:
    """The key that it is under, where its words begin with one; else its own name in words."""
    found = _FACES_KEY.match(inspect.getdoc(model) or "")
    if found:
        return found["key"]
    if model in (PlanSource, ComponentSource):
        return "A plan" if model is PlanSource else "A component"
    words = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", model.__name__.removesuffix("Entry").removesuffix("Options"))
    return words.capitalize()


def _anchor(model: type[SourceNode]) -> str:
    return f"key-{model.__name__.lower()}"


def _section(model: type[SourceNode]) -> str:
    words = _plain(_FACES_KEY.sub("", inspect.getdoc(model) or ""))
    rows = [_row(model, key, kind) for key, kind in keys_of(model).items()]
    return "\n".join(
        [
            f'\n<a id="{_anchor(model)}"></a>\n',
            f"## {_title(model)}\n",
            f"{capitalized(words)}\n",
            "| key | takes | meaning |",
            "|---|---|---|",
            *rows,
        ]
    )


def _row(model: type[SourceNode], key: str, kind: Any) -> str:
    info = next(info for name, info in model.model_fields.items() if (info.alias or name) == key)
    shown = f"**`{key}`**" if info.is_required() else f"`{key}`"
    words = _plain(words_of(model, key) or "")
    if not info.is_required() and isinstance(info.default, str) and info.default:
        words = f"{words} If left out: `{info.default}`.".strip()
    return f"| {shown} | {_takes(kind)} | {words.replace('|', chr(92) + '|')} |"


def _takes(kind: Any) -> str:
    """What may be written there, in words."""
    if kind is Expr:
        return "length"
    if kind is Name:
        return "name"
    if kind is str:
        return "text"
    if kind is bool:
        return "`yes` or `no`"
    if isinstance(kind, type) and issubclass(kind, SourceNode):
        return f"[{_title(kind)}](#{_anchor(kind)})"
    origin, inner = get_origin(kind), get_args(kind)
    if origin is Annotated:
        return _takes(inner[0])
    if origin is Literal:
        return ", ".join(f"`{word}`" for word in inner)
    if origin is list:
        return f"list of: {_takes(inner[0])}"
    if origin is dict:
        return f"{_takes(inner[0])}: {_takes(inner[1])}"
    if origin in (Union, types.UnionType):
        return " or ".join(dict.fromkeys(_takes(one) for one in inner if one is not type(None)))
    return getattr(kind, "__name__", str(kind))


def _plain(text: str) -> str:
    return " ".join(_TICKS.sub(r"`\1`", text).split())
