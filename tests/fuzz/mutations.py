"""Sources with one thing wrong: every key dropped, doubled, misspelt and retyped, every number made zero, negative or huge.

The source's text is edited in place, so that what is left keeps its notation, comments and flow.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import yaml

ODD_VALUES = ("[1, 2]", "{a: 1}", "true", "null", "''", "zebra", "-1", "[]", "{}", "'a: b'", '"\\u0000"', "0")
ODD_NUMBERS = ("0", "-3", "99999999999999999999", "1/1000000007", "1e9", ".inf", "10000", "1/0", "3' 6\"", "5 kg")
_FIGURE = re.compile(r"^[\d'][\d\s/.'\"-]*(?:in|mm)?$")
_FIGURE_WITHIN = re.compile(r"(?<![\w.])\d[\d./-]*")


@dataclass(frozen=True, slots=True)
class Mutant:
    """A source with one edit, and what was done to it."""

    what: str
    text: str


def mutants(text: str) -> Iterator[Mutant]:
    """All edits of a source, in the order of their places."""
    yield from _of_node(text, yaml.compose(text, Loader=yaml.SafeLoader), "")


def _of_node(text: str, node: Any, path: str) -> Iterator[Mutant]:
    if isinstance(node, yaml.MappingNode):
        for at, (key, value) in enumerate(node.value):
            here = f"{path}.{key.value}"
            following = node.value[at + 1][0].start_mark.index if at + 1 < len(node.value) else None
            yield from _of_key(text, key, value, following, bool(node.flow_style), here)
            yield from _of_value(text, value, here)
            yield from _of_node(text, value, here)
    elif isinstance(node, yaml.SequenceNode):
        for at, value in enumerate(node.value):
            here = f"{path}[{at}]"
            yield from _of_value(text, value, here)
            yield from _of_node(text, value, here)


def _of_key(text: str, key: Any, value: Any, following: int | None, flow: bool, path: str) -> Iterator[Mutant]:
    start, stop = key.start_mark.index, _end(text, value)
    cut = following if following is not None else stop
    yield Mutant(f"{path} dropped", text[:start] + text[cut:])
    pair = text[start:stop]
    joint = ", " if flow else "\n" + " " * key.start_mark.column
    yield Mutant(f"{path} doubled", text[:stop] + joint + pair + text[stop:])
    name = key.value
    misspelt = name[1] + name[0] + name[2:] if len(name) > 1 and name[0] != name[1] else name + "x"
    yield Mutant(f"{path} misspelt", text[:start] + misspelt + text[key.end_mark.index :])


def _of_value(text: str, node: Any, path: str) -> Iterator[Mutant]:
    start, stop = node.start_mark.index, _end(text, node)
    for odd in ODD_VALUES:
        yield Mutant(f"{path} = {odd}", text[:start] + odd + text[stop:])
    if not isinstance(node, yaml.ScalarNode):
        return
    if _FIGURE.match(node.value):
        for odd in ODD_NUMBERS:
            yield Mutant(f"{path} = {odd}", text[:start] + odd + text[stop:])
    else:
        for match in _FIGURE_WITHIN.finditer(text, start, stop):
            for odd in ("0", "-3", "99999999999999999999", "10000"):
                yield Mutant(f"{path}: {match[0]} → {odd}", text[: match.start()] + odd + text[match.end() :])


def _end(text: str, node: Any) -> int:
    """Where a node's own text ends; the parser puts the end of a block at the start of what follows."""
    start, stop = node.start_mark.index, node.end_mark.index
    return start + len(text[start:stop].rstrip())
