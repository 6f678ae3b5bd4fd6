"""Random edits of a plan's tree: entries added, dropped, doubled and exchanged with what other plans have at such a place.

The grammar of the sources is not written down a second time here: it is what the examples, the samples and the components hold. A name of
another plan's part or stock becomes one of the plan at hand, so that much of what is put in means something.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from random import Random
from typing import Any

import yaml

Tree = Any
"""Mappings, lists and words, as YAML has them before any word is taken for a number."""

ODD_WORDS = (
    "", "0", "-1", "1/0", ".inf", "nan", "1e9", "99999999999999999999", "zebra", "5 kg", "3' 6\"", "1/1000000007", "\u202e", "*", "(", "é",
    "side.left", "all", "yes", "true", "null", "0.001", "12 mm", "1-1/2",
)  # fmt: skip
_FIGURE = re.compile(r"\d+(?:-\d+/\d+|/\d+|\.\d+)?")
_BARE = re.compile(r"[A-Za-z0-9_./()+*°-][A-Za-z0-9_./()+*°' -]*")
_LETTERS = "ab:-[]{},&*!|>'\"#%@`? \n\t0\\x~9/\0\ufeff\u2028é½″"
_PART, _STOCK = "@part", "@stock"


def read(text: str) -> Tree | None:
    """The tree of a source; None where it is no YAML mapping, or one that repeats itself by aliases."""
    if "&" in text or ("*" in text and re.search(r"[:,\[-]\s*\*\w", text)):
        return None
    try:
        tree = yaml.load(text, Loader=_LOADER)
    except (yaml.YAMLError, RecursionError, ValueError, UnicodeError):
        return None
    return tree if isinstance(tree, dict) else None


def write(tree: Tree) -> str:
    """The tree as YAML, a line for each entry two levels down, flow style within."""
    lines: list[str] = []
    for key, value in tree.items():
        if key == "assemblies" and isinstance(value, dict):
            lines.append("assemblies:")
            for name, assembly in value.items():
                if not isinstance(assembly, dict) or not assembly:
                    lines.append(f"  {_flow(name)}: {_flow(assembly)}")
                    continue
                lines.append(f"  {_flow(name)}:")
                for under, entries in assembly.items():
                    lines.extend(_block(under, entries, "    "))
        else:
            lines.extend(_block(key, value, ""))
    return "\n".join(lines) + "\n"


def _block(key: Any, value: Tree, indent: str) -> Iterator[str]:
    if isinstance(value, dict) and value and key != "plan":
        yield f"{indent}{_flow(key)}:"
        yield from (f"{indent}  {_flow(name)}: {_flow(entry)}" for name, entry in value.items())
    elif isinstance(value, list) and value:
        yield f"{indent}{_flow(key)}:"
        yield from (f"{indent}  - {_flow(entry)}" for entry in value)
    else:
        yield f"{indent}{_flow(key)}: {_flow(value)}"


def _flow(value: Tree) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f"{_flow(key)}: {_flow(entry)}" for key, entry in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(_flow, value)) + "]"
    word = str(value)
    if _BARE.fullmatch(word) and not word.endswith(" ") and not word.startswith(("- ", "* ")):
        return word if word not in {"-", "--", "---", "..."} and not word.startswith("*") else f"'{word}'"
    if word.isprintable():
        return "'" + word.replace("'", "''") + "'"
    return '"' + "".join(f"\\U{ord(c):08x}" if not c.isprintable() or c in '"\\' else c for c in word) + '"'


_LOADER = getattr(yaml, "CBaseLoader", yaml.BaseLoader)


@dataclass
class Pool:
    """What plans hold: the values by key, and mappings by the keys that stand together in them."""

    values: dict[str, list[Tree]] = field(default_factory=lambda: defaultdict(list))
    mappings: dict[str, list[dict[str, Tree]]] = field(default_factory=lambda: defaultdict(list))

    def add(self, text: str) -> None:
        """Learn from a source."""
        tree = read(text)
        if tree is not None:
            parts, stocks = names_in(tree)
            self._learn(_blank(tree, parts, stocks), "plan")

    def _learn(self, tree: Tree, key: str) -> None:
        if isinstance(tree, dict):
            for name, value in tree.items():
                self.mappings[name].append(tree)
                self.values[name].append(value)
                self._learn(value, name)
        elif isinstance(tree, list):
            for value in tree:
                self.values[f"{key}[]"].append(value)
                self._learn(value, key)


def names_in(tree: Tree) -> tuple[list[str], list[str]]:
    """The names of a plan's parts and stocks."""
    stock = tree.get("stock")
    parts: list[str] = []
    assemblies = tree.get("assemblies")
    for holder in (*(assemblies.values() if isinstance(assemblies, dict) else ()), tree):
        if isinstance(holder, dict) and isinstance(holder.get("parts"), dict):
            parts.extend(holder["parts"])
    return parts, list(stock) if isinstance(stock, dict) else []


def _blank(tree: Tree, parts: Iterable[str], stocks: Iterable[str]) -> Tree:
    if isinstance(tree, dict):
        return {key: _blank(value, parts, stocks) for key, value in tree.items()}
    if isinstance(tree, list):
        return [_blank(value, parts, stocks) for value in tree]
    if tree in parts:
        return _PART
    return _STOCK if tree in stocks else tree


class Editor:
    """Edits sources at random, each in one to four places."""

    def __init__(self, pool: Pool) -> None:
        self.pool = pool

    def edited(self, text: str, random: Random) -> str | None:
        """The source with edits; None where it has no tree."""
        tree = read(text)
        if tree is None:
            return None
        self.parts, self.stocks = names_in(tree)
        for _ in range(random.choice((1, 1, 1, 2, 2, 3, 4))):
            self._edit(tree, random)
        return write(tree)

    def _edit(self, tree: Tree, random: Random) -> None:
        places = list(_places(tree))
        if not places:
            return
        holder, key, name = random.choice(places)
        value = holder[key]
        match random.choice(
            ("drop", "figure", "figure", "exchange", "exchange", "add", "add", "add", "odd", "word", "copy", "rename")
        ):
            case "drop":
                del holder[key]
            case "figure" if isinstance(value, str) and _FIGURE.search(value):
                holder[key] = _other_figure(value, random)
            case "exchange" if self.pool.values.get(name):
                holder[key] = self._filled(random.choice(self.pool.values[name]), random)
            case "add" if isinstance(value, dict) and value:
                self._add_key(value, random)
            case "add" if isinstance(value, list):
                entries = self.pool.values.get(f"{name}[]")
                if entries and len(value) < 12:
                    value.insert(random.randint(0, len(value)), self._filled(random.choice(entries), random))
            case "odd":
                holder[key] = random.choice((*ODD_WORDS, [], {}, [value], {"a": value}, ["1", "2"]))
            case "word" if isinstance(value, str):
                words = [holder[key] for holder, key, _ in places if isinstance(holder[key], str)]
                holder[key] = random.choice(
                    (random.choice(words), f"{value}.mirrored", f"{value} + 1/8", f"-{value}", value[:-1])
                )
            case "copy" if isinstance(holder, list) and len(holder) < 12:
                holder.insert(key, _copy(value))
            case "copy" if isinstance(holder, dict) and len(holder) < 12:
                holder[f"{key}{random.choice('2bx')}"] = _copy(value)
            case "rename" if isinstance(holder, dict):
                known = list(random.choice(self.pool.mappings.get(name) or [{}])) or [f"{key}x"]
                holder[random.choice(known)] = holder.pop(key)
            case _:
                pass

    def _add_key(self, mapping: dict[str, Tree], random: Random) -> None:
        """A key that stands in another plan beside a key of this mapping."""
        alike = self.pool.mappings.get(random.choice(list(mapping)))
        if alike and len(mapping) < 30:
            other = random.choice(alike)
            key = random.choice(list(other))
            mapping[key] = self._filled(other[key], random)

    def _filled(self, tree: Tree, random: Random) -> Tree:
        if isinstance(tree, dict):
            return {key: self._filled(value, random) for key, value in tree.items()}
        if isinstance(tree, list):
            return [self._filled(value, random) for value in tree]
        if tree == _PART:
            return random.choice(self.parts) if self.parts else "side"
        if tree == _STOCK:
            return random.choice(self.stocks) if self.stocks else "board"
        return tree


def misspelt(text: str, random: Random) -> str:
    """The text with a few letters dropped, doubled, changed or moved, or a line taken out."""
    for _ in range(random.choice((1, 1, 2, 5))):
        at, length = random.randrange(len(text) + 1), random.choice((1, 1, 1, 2, 5, 20))
        piece = random.choice(("", random.choice(_LETTERS), text[at : at + length] * 2, random.choice(ODD_WORDS)))
        if random.random() < 0.1:
            lines = text.split("\n")
            del lines[random.randrange(len(lines))]
            text = "\n".join(lines)
        else:
            text = text[:at] + piece + text[at + length :]
    return text


def _other_figure(word: str, random: Random) -> str:
    figures = list(_FIGURE.finditer(word))
    one = random.choice(figures)
    near = random.choice(
        (
            "0",
            "1",
            "2",
            "3",
            "5",
            "8",
            "12",
            "1/4",
            "1/8",
            "3/4",
            "1-1/2",
            "0.1",
            "-1",
            "24",
            "40",
            "100",
            "1000",
            "1/3",
            "7/64",
        )
    )
    other = random.choice((near, near, near, f"{one[0]}0", one[0][1:] or "1", f"({one[0]} / 2)", f"-{one[0]}", "10000"))
    return word[: one.start()] + other + word[one.end() :]


def _copy(tree: Tree) -> Tree:
    if isinstance(tree, dict):
        return {key: _copy(value) for key, value in tree.items()}
    return [_copy(value) for value in tree] if isinstance(tree, list) else tree


def _places(tree: Tree, key: str = "") -> Iterator[tuple[Any, Any, str]]:
    """Every place in a tree: what holds it, under what, and the nearest key above."""
    if isinstance(tree, dict):
        for name, value in tree.items():
            yield tree, name, str(name)
            yield from _places(value, str(name))
    elif isinstance(tree, list):
        for at, value in enumerate(tree):
            yield tree, at, key
            yield from _places(value, key)
