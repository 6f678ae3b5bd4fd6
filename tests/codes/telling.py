"""Every code that the source of drawleaf can tell, read from its syntax trees."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path

SOURCE = Path(__file__).resolve().parents[2] / "src" / "drawleaf"

TELLERS = {
    "Diagnostic": 0,
    "KindError": 0,
    "RefusalError": 0,
    "error": 0,
    "advise": 0,
    "tell": 0,
    "_tell": 0,
    "_error": 0,
    "_give_up": 0,
    "_at": 1,
    "_tell_failure": 0,
}
"""What makes a diagnostic, with the place of the code among its arguments."""

PASSING_ON = {
    "catalogue/reading.py": 1,
    "checks/__init__.py": 1,
    "commands/measure.py": 2,
    "preview/session.py": 1,
    "resolve/names/findings.py": 2,
    "source/edition_checks.py": 1,
    "source/expressions.py": 2,
    "source/library_files.py": 1,
    "source/misfits.py": 1,
    "source/note_files.py": 1,
    "source/yaml_tree.py": 1,
}
"""Files in which some calls of ``Diagnostic`` pass a code on that another teller was given, with how many."""


def codes_told() -> dict[str, list[str]]:
    """Each code with the places that tell it."""
    found: dict[str, list[str]] = {}
    for place, code in _calls():
        if isinstance(code, str):
            found.setdefault(code, []).append(place)
    return found


def passed_on() -> dict[str, int]:
    """How many calls of ``Diagnostic`` in each file have no code of their own."""
    count: dict[str, int] = {}
    for place, code in _calls():
        if code is None:
            file = place.split(":")[0]
            count[file] = count.get(file, 0) + 1
    return count


@cache
def _calls() -> tuple[tuple[str, str | None], ...]:
    return tuple(_calls_in_all_files())


def _calls_in_all_files() -> Iterator[tuple[str, str | None]]:
    for file in sorted(SOURCE.rglob("*.py")):
        name = file.relative_to(SOURCE).as_posix()
        if name.startswith("codes/"):
            continue
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and (teller := _called(node)) in TELLERS:
                code = _code(node, TELLERS[teller])
                if code is not None or teller == "Diagnostic":
                    yield f"{name}:{node.lineno}", code


def _called(node: ast.Call) -> str:
    """The name that is called; empty where words of the booklet are told, which are no mistakes."""
    owner = node.func.value if isinstance(node.func, ast.Attribute) else None
    if getattr(owner, "attr", getattr(owner, "id", "")) == "words":
        return ""
    return node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")


def _code(node: ast.Call, at: int) -> str | None:
    named = {keyword.arg: keyword.value for keyword in node.keywords}
    given = node.args[at] if len(node.args) > at else named.get("code")
    fits = isinstance(given, ast.Constant) and isinstance(given.value, str) and len(node.args) + len(named) > at + 1
    if fits and set(given.value) & set(" {"):  # type: ignore[union-attr]
        return None  # a sentence of the booklet, told by the words of its language
    return given.value if fits else None  # type: ignore[union-attr]
