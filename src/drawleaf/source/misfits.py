"""What a validator found wrong, said to a plan author: where, why, and how to mend it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, get_args, get_origin

from pydantic import ValidationError

from drawleaf.english import listed
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.source.expected import choices, expectation_at, keys_of, shape_of, shape_of_value, stands_in
from drawleaf.source.models import Expr, Names, SourceNode
from drawleaf.source.names import did_you_mean, nearest
from drawleaf.source.old_names import new_name, new_word, told_new
from drawleaf.source.positions import Path, Positions
from drawleaf.source.slips import EXAMPLES, MEANT, WORDS
from drawleaf.source.trade_words import from_elsewhere, trade_word

_KEYS_WORTH_LISTING = 16
_SECTIONS = {
    "JointEntry": "joints",
    "MachiningEntry": "machining",
    "Fastening": "fastenings",
    "PartEntry": "parts",
    "PlanSource": "plan",
    "AssemblyEntry": "assembly",
}
"""Where the trade's words are looked up for a model's keys."""


def misfits(
    model: type[SourceNode], tree: Any, error: ValidationError, positions: Positions, file: str, at: Path
) -> tuple[Diagnostic, ...]:
    """One diagnostic for each place that does not fit, in the order of the file."""
    found: dict[tuple[Path, str], Diagnostic] = {}
    teller = _Teller(model, tree, positions, file, at)
    for path, kind, detail in _reduced(model, tree, error):
        if teller.told_as_empty(path, kind):
            continue
        found.setdefault((path, kind), teller.tell(path, kind, detail))
    for path in _misspelt(teller, found):
        found.pop((path, "missing"), None)
    return tuple(sorted(found.values(), key=lambda one: (one.position is None, one.position, one.message)))


def _misspelt(teller: _Teller, found: dict[tuple[Path, str], Diagnostic]) -> list[Path]:
    """Missing keys that are there under a misspelt name: one report is enough."""
    unknown = [path for path, kind in found if kind == "extra_forbidden"]
    return [(*path[:-1], near) for path in unknown if (near := teller.key_meant(path))]


def _meant_key(name: str, known: list[str]) -> str | None:
    """The key that ``name`` is written for: the nearest, or one to which it adds a unit, as ``cure_hours`` does to ``cure``."""
    return next((key for key in known if name.startswith(f"{key}_")), None) or nearest(name, known)


def _reduced(model: type[SourceNode], tree: Any, error: ValidationError) -> Iterator[tuple[Path, str, dict[str, Any]]]:
    """The errors as (path in the tree, kind, details), without those of union members that never could fit."""
    kept: list[tuple[Path, str, dict[str, Any]]] = []
    passed_over: list[tuple[Path, str, dict[str, Any]]] = []
    for detail in error.errors(include_url=False):
        path, fits = _tree_path(tree, detail["loc"])
        (kept if fits else passed_over).append((path, detail["type"], dict(detail)))
    told = {path for path, _, _ in kept}
    yield from kept
    for path, kind, detail in passed_over:
        # A value that fits no member at all is reported once, at the place of the union.
        if not any(other[: len(path)] == path for other in told):
            told.add(path)
            yield path, "wrong_shape" if kind != "missing" else kind, detail


def _tree_path(tree: Any, loc: tuple[int | str, ...]) -> tuple[Path, bool]:
    """A validator's location as a path of the tree, and whether it is in a union member of the value's own shape."""
    path: list[int | str] = []
    value = tree
    for at, step in enumerate(loc):
        last = at == len(loc) - 1
        if stands_in(value, step):
            path.append(step)
            value = value[step]
        elif step == "[key]":
            return tuple(path), True
        elif _is_union_label(step):
            if _label_shape(str(step)) != shape_of_value(value):
                return tuple(path), False
        elif last:
            path.append(step)
    return tuple(path), True


def _is_union_label(step: int | str) -> bool:
    return isinstance(step, str) and (not step.islower() or "[" in step or step in ("str", "int", "bool"))


def _label_shape(label: str) -> str:
    if label.startswith("list["):
        return "list"
    if label in ("str", "int", "bool") or label.startswith(("literal", "constrained")):
        return "word"
    return "mapping"


class _Teller:
    """Words for one misfit."""

    def __init__(self, model: type[SourceNode], tree: Any, positions: Positions, file: str, at: Path) -> None:
        self.model, self.tree, self.positions, self.file, self.at = model, tree, positions, file, at

    def told_as_empty(self, path: Path, kind: str) -> bool:
        """Whether the YAML reader reported already that nothing is written here: then the value stands where its key does."""
        if kind == "missing" or self._found(path) is not None or not path:
            return False
        return self.positions.is_empty(self.file, self.at + path)

    def tell(self, path: Path, kind: str, detail: dict[str, Any]) -> Diagnostic:
        """The diagnostic for an error of ``kind`` at ``path``."""
        match kind:
            case "extra_forbidden":
                return self._unknown_key(path)
            case "missing":
                return self._missing_key(path)
            case "string_pattern_mismatch":
                return self._odd_name(path, detail)
            case "literal_error" if detail["loc"][-1] == "[key]":
                return self._wrong_key(path)
            case "literal_error":
                return self._wrong_word(path)
            case "too_short" | "too_long":
                return self._wrong_count(path, detail)
            case "int_parsing" | "int_type" | "int_from_float":
                return self._at(path, "not-whole", f"{self._value(path)} is no whole number", "", "Write digits only.")
            case "bool_parsing" | "bool_type":
                return self._at(
                    path, "not-yes-no", f"{self._value(path)} is neither yes nor no", "", "Write yes or no."
                )
            case "no_quantity":
                words = {name: str(text).replace("{key}", str(path[-1])) for name, text in detail["ctx"].items()}
                return self._at(path, "wrong-quantity", words["message"], words["cause"], words["mend"])
            case "greater_than" | "greater_than_equal" | "less_than_equal":
                return self._out_of_bounds(path, detail["ctx"])
            case _:
                return self._wrong_shape(path)

    def _at(self, path: Path, code: str, message: str, cause: str, mend: str) -> Diagnostic:
        return Diagnostic(code, message, self.positions.of(self.file, self.at + path), cause, mend)

    def _unknown_key(self, path: Path) -> Diagnostic:
        name = str(path[-1])
        known = self.keys_beside(path)
        near = nearest(name, known)
        where = self.positions.of_key(self.file, self.at + path)
        cause = f"{self._place(path[:-1])} takes no such key."
        if meant := self._renamed(path) or self._of_the_trade(path) or self._meant(path):
            mend = meant
        elif near:
            mend = f"Did you mean “{near}”?"
        elif len(known) <= _KEYS_WORTH_LISTING:
            mend = f"It may hold {listed(known)}."
        else:
            mend = "Check the spelling, or whether the line belongs further in or out."
        return Diagnostic("unknown-key", f"unknown key “{name}”", where, cause, mend)

    def _renamed(self, path: Path) -> str:
        """What a key is called now that had this name in older plans."""
        new = new_name(expectation_at(self.model, self.tree, path[:-1]), str(path[-1]))
        return told_new(new) if new else ""

    def _of_the_trade(self, path: Path) -> str:
        """The line to write for a word of the trade that has another name here; empty for any other."""
        owner = expectation_at(self.model, self.tree, path[:-1])
        section = _SECTIONS.get(owner.__name__) if isinstance(owner, type) else None
        if section is None:
            return ""
        name, entry = str(path[-1]), self._found(path[:-1])
        given = entry if isinstance(entry, dict) else {}
        b = next((given[key] for key in ("in", "to", "on") if isinstance(given.get(key), str)), "side")
        a = given[name] if isinstance(given.get(name), str) and section == "joints" else "shelf"
        found = trade_word(section, name)
        return found.mend(a, b) if found else from_elsewhere(section, name, a, b)

    def _meant(self, path: Path) -> str:
        """What to write instead of a key that is not misspelt but the wrong word; empty for any other."""
        owner = expectation_at(self.model, self.tree, path[:-1])
        name = str(path[-1]).lower()
        return MEANT.get(owner.__name__, {}).get(name, "") if isinstance(owner, type) else ""

    def key_meant(self, path: Path) -> str | None:
        """The key that an unknown one most likely is: its new name, or the nearest."""
        new = new_name(expectation_at(self.model, self.tree, path[:-1]), str(path[-1]))
        return new or _meant_key(str(path[-1]), self.keys_beside(path))

    def keys_beside(self, path: Path) -> list[str]:
        """The keys that may stand where the last key of ``path`` stands."""
        owner = expectation_at(self.model, self.tree, path[:-1])
        return list(keys_of(owner)) if isinstance(owner, type) and issubclass(owner, SourceNode) else []

    def _missing_key(self, path: Path) -> Diagnostic:
        name = str(path[-1])
        where = self.positions.of(self.file, self.at + path[:-1])
        words = self._words_of(path)
        mend = f"Add “{name}:”. {words}" if words else f"Add “{name}:” with its value."
        return Diagnostic("missing-key", f"{self._place(path[:-1])} needs “{name}”", where, "It is left out.", mend)

    def _words_of(self, path: Path) -> str:
        """What the key at ``path`` means, as an editor's hover shows it."""
        from drawleaf.source.schema import words_of

        owner = expectation_at(self.model, self.tree, path[:-1])
        found = words_of(owner, str(path[-1])) if isinstance(owner, type) and issubclass(owner, SourceNode) else None
        return (found or "").replace("`", "")

    def _odd_name(self, path: Path, detail: dict[str, Any]) -> Diagnostic:
        name = str(detail.get("input", path[-1] if path else ""))
        where = self.positions.of_key(self.file, self.at + path)
        mended = "".join(c if c.isalnum() and c.isascii() else "_" for c in name.lower()).strip("_")
        mend = f"Write “{mended}”." if mended and mended[0].isalpha() else "Start it with a letter."
        cause = "Names are made of lower-case letters, digits and underscores, and start with a letter."
        return Diagnostic("odd-name", f"“{name}” cannot be a name", where, cause, mend)

    def _wrong_word(self, path: Path) -> Diagnostic:
        value = self._found(path)
        expected = expectation_at(self.model, self.tree, path)
        words = choices(self._raw_expectation(path)) or choices(expected)
        meant = WORDS.get(str(value).lower())
        new = new_word(expectation_at(self.model, self.tree, path[:-1]), str(path[-1]), str(value))
        trade = trade_word("fastenings", str(value)) if "pocket_screws" in words else None
        if new is not None:
            mend = told_new(new)
        elif trade is not None:
            mend = trade.mend()
        elif meant in words:
            mend = f"Write “{meant}”."
        else:
            mend = did_you_mean(str(value), words, otherwise=f"Write {listed(words, 'or')}.")
        cause = f"Only {listed(words, 'or')} is allowed here." if meant in words or trade or "mean" in mend else ""
        return self._at(path, "wrong-word", f"{self._value(path)} is not allowed here", cause, mend)

    def _wrong_key(self, path: Path) -> Diagnostic:
        name = str(path[-1])
        expected = expectation_at(self.model, self.tree, path[:-1])
        words = choices(get_args(expected)[0]) if get_origin(expected) is dict else ()
        where = self.positions.of_key(self.file, self.at + path)
        mend = did_you_mean(name, words, otherwise=f"It may hold {listed(words)}.")
        cause = f"{self._place(path[:-1])} takes {listed(words, 'or')} as keys."
        return Diagnostic("unknown-key", f"unknown key “{name}”", where, cause, mend)

    def _raw_expectation(self, path: Path) -> Any:
        owner = expectation_at(self.model, self.tree, path[:-1])
        if isinstance(owner, type) and issubclass(owner, SourceNode):
            return keys_of(owner).get(str(path[-1]))
        return None

    def _wrong_count(self, path: Path, detail: dict[str, Any]) -> Diagnostic:
        bounds = detail.get("ctx", {})
        wanted = bounds.get("min_length", bounds.get("max_length"))
        got = bounds.get("actual_length")
        few = self._takes_more(path, wanted)
        message = (
            f"{self._place(path)} needs {f'{wanted} entries or more' if few else f'{wanted} entries'} and has {got}"
        )
        mend = f"Write {wanted} or more in square brackets." if few else f"Write exactly {wanted} in square brackets."
        return self._at(path, "wrong-count", message, "", mend)

    def _takes_more(self, path: Path, least: int) -> bool:
        """Whether a list may have more entries than that."""
        owner = expectation_at(self.model, self.tree, path[:-1])
        if not (isinstance(owner, type) and issubclass(owner, SourceNode)):
            return False
        field = next((one for name, one in owner.model_fields.items() if (one.alias or name) == path[-1]), None)
        most = [limit for one in (field.metadata if field else ()) if (limit := getattr(one, "max_length", None))]
        return field is not None and (not most or min(most) > least)

    def _out_of_bounds(self, path: Path, bounds: dict[str, Any]) -> Diagnostic:
        words = {"gt": "more than {:g}", "ge": "{:g} or more", "le": "{:g} or less"}
        wanted = next(words[one].format(bound) for one, bound in bounds.items() if one in words)
        message = f"{self._value(path)} is not allowed here"
        return self._at(path, "wrong-value", message, f"{self._place(path)} must be {wanted}.", "Write another figure.")

    def _wrong_shape(self, path: Path) -> Diagnostic:
        value = self._found(path)
        expected = expectation_at(self.model, self.tree, path)
        raw = self._raw_expectation(path) if path else self.model
        wanted = _wanted(raw if raw is not None else expected, expected)
        message = f"{self._place(path)} should be {wanted}, not {_kind(value)}"
        key = next((str(step) for step in reversed(path) if isinstance(step, str)), "")
        return self._at(path, "wrong-shape", message, "", _shape_mend(expected, value, key))

    def _found(self, path: Path) -> Any:
        value = self.tree
        for step in path:
            if not stands_in(value, step):
                return None
            value = value[step]
        return value

    def _value(self, path: Path) -> str:
        value = self._found(path)
        return f"“{_written(value)}”" if shape_of_value(value) == "word" else _kind(value)

    def _place(self, path: Path) -> str:
        """What an author calls the thing at ``path``: ``side`` in ``parts``, entry 2 of ``joints``, the file."""
        if not path:
            return "the file" if not self.at else f"“{self.at[-1]}”"
        last = path[-1]
        if isinstance(last, int):
            owner = path[-2] if len(path) > 1 else "the file"
            return f"entry {last + 1} of “{owner}”"
        return f"“{last}”"


def _written(value: Any) -> str:
    return value if isinstance(value, str) else {True: "true", False: "false"}.get(value, "null")


def _kind(value: Any) -> str:
    if isinstance(value, str):
        return f"“{value}”" if len(value) < 30 else "a text"
    if value is None:
        return "empty"
    if isinstance(value, bool):
        return f"the bare word {_written(value)}"
    return "a mapping (keys with values)" if isinstance(value, dict) else "a list"


def _wanted(raw: Any, expected: Any) -> str:
    if raw is Expr or expected is Expr:
        return "a length, number or expression"
    if set(get_args(Names)) <= set(get_args(raw)):
        return "a name or a list of names"
    shape = shape_of(expected)
    if shape == "mapping":
        return "a mapping (keys with values)"
    if shape == "list":
        return "a list"
    words = choices(expected)
    if words:
        return listed(words, "or")
    return {bool: "yes or no", int: "a whole number"}.get(expected, "a name or text")


def _as_meant(expected: Any, value: str, key: str) -> str:
    """A bare word as it should stand: in its list, after the key that it is most likely meant for, or an example; empty where none is known."""
    if shape_of(expected) == "list":
        members = choices(get_args(expected)[0])
        plain = "," not in value and (value in members or value.isdigit() or key == "edges")
        return f"[{value}]" if plain else EXAMPLES.get(key, "")
    if shape_of(expected) == "mapping":
        counts = isinstance(expected, type) and issubclass(expected, SourceNode) and "count" in keys_of(expected)
        return f"{{count: {value}}}" if counts and value.isdigit() else EXAMPLES.get(key, "")
    return ""


def _shape_mend(expected: Any, value: Any, key: str) -> str:
    if value is None:
        return "Write a value, or delete the key."
    if isinstance(value, bool):
        return "Put it in quotes if you mean the word."
    if isinstance(value, str) and (written := _as_meant(expected, value, key)):
        return f"Write “{key}: {written}”."
    if shape_of(expected) == "list":
        return "Put the entries in square brackets, divided by commas, or on lines of their own that start with a dash."
    if shape_of(expected) == "mapping":
        return "Write keys with values, each “key: value”, indented below or in curly brackets."
    if isinstance(value, dict):
        return "Write one value. If it is a text with a colon in it, put it in quotes."
    return "Write one value."
