"""What a public function gives is said where it is defined: floats with their unit, arrays with their shape, errors by name."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

SOURCE = Path(__file__).resolve().parent.parent / "src" / "drawleaf"
UNIT = re.compile(
    r"%|\b(mm|millimet\w+|met(re|er)s?|inch(es)?|feet|degrees?|radians?|hours?|minutes?|seconds?|days?|kg|kilograms?|newtons?|N|MPa"
    r"|litres?|points?|em|shares?|ratio|times|percent|pixels?|unit|factor|likeness|price|cost)\b|``(unit|to)``",
    re.IGNORECASE,
)
SHAPE = re.compile(r"\([A-Z0-9][A-Z0-9, ]*\)")
ARRAYS = {"Floats", "Ints", "Flags", "Array", "Cells"}


@dataclass(frozen=True)
class Function:
    """A public function with what it returns, what it raises itself, and its docstring."""

    place: str
    returns: str
    raises: frozenset[str]
    words: str


@cache
def public_functions() -> tuple[Function, ...]:
    files = sorted(SOURCE.rglob("*.py"))
    return tuple(one for file in files for one in functions_in(ast.parse(file.read_text(encoding="utf-8")), file))


def functions_in(node: ast.Module | ast.ClassDef, file: Path) -> Iterator[Function]:
    for one in node.body:
        if isinstance(one, ast.ClassDef) and not one.name.startswith("_"):
            yield from functions_in(one, file)
        elif isinstance(one, ast.FunctionDef) and not one.name.startswith("_") and not is_overload(one):
            returns = ast.unparse(one.returns).removesuffix(" | None") if one.returns else ""
            raised = (inner.exc for inner in ast.walk(one) if isinstance(inner, ast.Raise) and inner.exc is not None)
            names = (ast.unparse(exc).partition("(")[0].rpartition(".")[2] for exc in raised)
            raises = frozenset(name for name in names if name[:1].isupper())  # not an error that a helper makes
            place = f"{file.relative_to(SOURCE)}:{one.lineno} {one.name}"
            yield Function(place, returns, raises, ast.get_docstring(one) or "")


def is_overload(function: ast.FunctionDef) -> bool:
    return any(ast.unparse(one) == "overload" for one in function.decorator_list)


def test_a_float_has_its_unit() -> None:
    """A unit of measure, or that it is a share, a ratio, a number of times."""
    silent = [one.place for one in public_functions() if one.returns == "float" and not UNIT.search(one.words)]
    assert not silent


def test_an_array_has_its_shape() -> None:
    silent = [one.place for one in public_functions() if one.returns in ARRAYS and not SHAPE.search(one.words)]
    assert not silent


def test_what_is_raised_is_named() -> None:
    """Of commands the command line itself is the caller: they leave by Exit."""
    silent = [
        f"{one.place}: {', '.join(sorted(one.raises))}"
        for one in public_functions()
        if not one.raises <= {"Exit"} and not ("aises" in one.words and all(name in one.words for name in one.raises))
    ]
    assert not silent
