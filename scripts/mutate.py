"""Would the tests notice? Changes one operator, number or condition of the source at a time and runs the tests that ought to see it.

    python scripts/mutate.py [--mutants N] [--minutes N] [--seed N] [--only PART-OF-A-PATH] [--near]

Works in a copy of the checkout and writes build/mutants.json after each mutant. A mutant is caught when a stage of tests fails or runs far
too long, and the test that failed passes without it. The order is random, so those tried before the minutes are over are a fair sample too.
With --near only the nearest tests are run, half a minute for a mutant that lives: those that import the module, or one that imports it or
stands beside it, a few files in all. The share is then a lower bound. The mutations are cosmic-ray's;
those that only break the types (a shift in place of a sum) are left out, for any test catches them.
"""

from __future__ import annotations

import argparse
import ast
import json
import os
import random
import re
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from cosmic_ray.ast import get_ast
from cosmic_ray.mutating import mutate_code
from cosmic_ray.plugins import get_operator, operator_names

TOP = Path(__file__).resolve().parent.parent
ROOMS = ("joinery", "setting_out", "derive")
"""The rooms whose numbers a buyer cuts by."""
HAND_WORKED = tuple(
    f"tests/derive/test_{name}.py" for name in ("hand_worked", "safe_cuts", "audit", "setting_out", "slants")
)
UNEQUAL_PAIRS = ("tests/derive/test_operation_settings.py",)
STAGES = {
    "joinery": (("tests/joinery",), ("tests/resolve", "tests/shapes", "tests/solids"), ("tests/book/test_wording.py",)),
    "setting_out": (HAND_WORKED, UNEQUAL_PAIRS, ("tests/derive",), ("tests/book/test_wording.py",)),
    "derive": (HAND_WORKED, UNEQUAL_PAIRS, ("tests/derive",), ("tests/book/test_wording.py",)),
}
"""The tests to run for a room, nearest first; a mutant that lives through all of them, and through the test files that import its module, has
survived."""
MOST_NEAR = 6
"""So many test files at most are run with ``--near``."""
KINDS = re.compile(
    r"ReplaceComparisonOperator_|ReplaceBinaryOperator_(Add_Sub|Sub_Add|Mul_Div|Div_Mul)$|NumberReplacer|ReplaceTrue|ReplaceFalse"
    r"|ReplaceAnd|ReplaceOr|AddNot|ReplaceUnaryOperator_USub_UAdd|ZeroIteration|ReplaceBreak|ReplaceContinue"
)
NO_COMPARISON = ("_Is", "IsNot_")
NO_SLOTS = "slots=False"
"""A value without slots behaves the same."""
LONGEST = 600
"""Seconds of processor time after which a stage counts as hung, on a busy machine too."""
HUNG = "far too long"
FAILED = re.compile(r"^(?:FAILED|ERROR) (.+?)(?: - .*)?$", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Mutant:
    """One change: the file below the checkout, cosmic-ray's operator and which of its places in the file."""

    file: str
    operator: str
    occurrence: int


def mutants(only: str) -> Iterator[Mutant]:
    """All changes of the rooms' files, in a fixed order."""
    names = [name for name in operator_names() if KINDS.search(name) and not any(one in name for one in NO_COMPARISON)]
    for room in ROOMS:
        for file in sorted((TOP / "src" / "drawleaf" / room).rglob("*.py")):
            path = str(file.relative_to(TOP))
            if only not in path:
                continue
            nodes = list(_nodes(get_ast(file.read_text(encoding="utf-8"))))
            for name in names:
                operator = get_operator(name)()
                places = sum(len(list(operator.mutation_positions(node))) for node in nodes)
                yield from (Mutant(path, name, number) for number in range(places))


def _nodes(tree) -> Iterator:
    yield tree
    for child in getattr(tree, "children", ()):
        yield from _nodes(child)


def module_of(file: str) -> str:
    """The name under which a source file is imported."""
    parts = Path(file).relative_to("src").with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


@cache
def text_of(file: Path) -> str:
    return file.read_text(encoding="utf-8")


@cache
def imports_of(file: Path) -> frozenset[str]:
    """What a file imports of drawleaf: modules, and the names taken out of them (which may be modules too)."""
    found: set[str] = set()
    for node in ast.walk(ast.parse(text_of(file))):
        if isinstance(node, ast.Import):
            found |= {name.name for name in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            found |= {node.module, *(f"{node.module}.{name.name}" for name in node.names)}
    return frozenset(name for name in found if name.startswith("drawleaf."))


@cache
def importing(module: str, folder: str) -> tuple[str, ...]:
    """The files below a folder of the checkout, ``src`` or ``tests``, that import the module themselves."""
    pattern = "test_*.py" if folder == "tests" else "*.py"
    name = module.rpartition(".")[2]
    files = [one for one in sorted((TOP / folder).rglob(pattern)) if name in text_of(one)]
    return tuple(str(one.relative_to(TOP)) for one in files if module in imports_of(one))


@cache
def nearest(file: str) -> tuple[str, ...]:
    """The test files that are likeliest to notice a change of a source file: those that import it, then those that import one of its
    neighbours, which are the files that import it and those of its folder. Where there are none, the first stage of its room."""
    module = module_of(file)
    beside = sorted(str(one.relative_to(TOP)) for one in (TOP / file).parent.glob("*.py"))
    neighbours = (module_of(one) for one in (*importing(module, "src"), *beside))
    near = [*importing(module, "tests"), *(test for one in neighbours for test in importing(one, "tests"))]
    return tuple(dict.fromkeys(near))[:MOST_NEAR] or STAGES[Path(file).parts[2]][0]


def caught_by(mutant: Mutant, copy: Path, *, near: bool) -> tuple[str, str]:
    """The first test that notices the mutant (empty where none does), and the changed line."""
    file = copy / mutant.file
    before = file.read_text(encoding="utf-8")
    after = mutate_code(before, get_operator(mutant.operator)(), mutant.occurrence)
    if after is None or after == before:
        return "no change", ""
    line = next(
        (
            f"{number}: {new.strip()}"
            for number, (old, new) in enumerate(zip(before.splitlines(), after.splitlines(), strict=False), 1)
            if old != new
        ),
        "",
    )
    if NO_SLOTS in line:
        return "no change", ""
    file.write_text(after, encoding="utf-8")
    try:
        room = Path(mutant.file).parts[2]
        stages = (nearest(mutant.file),) if near else (importing(module_of(mutant.file), "tests"), *STAGES[room])
        for stage in stages:
            failed = failure(copy, stage) if stage else None
            if failed is not None:
                file.write_text(before, encoding="utf-8")
                if failed != HUNG and failure(copy, (failed,)) is not None:
                    raise SystemExit(f"{failed} fails before anything is changed")
                return failed, line
        return "", line
    finally:
        file.write_text(before, encoding="utf-8")


def failure(copy: Path, tests: tuple[str, ...]) -> str | None:
    """The first test that fails in the copy, or what failed to be collected; ``HUNG`` where the tests take far too long, None where they pass."""
    command = [sys.executable, "-m", "pytest", "-x", "-q", "--tb=no", "-rfE", "-p", "no:cacheprovider", *tests]
    try:
        run = subprocess.run(
            command,
            cwd=copy,
            env={**os.environ, "PYTHONPATH": str(copy / "src"), "PYTHONDONTWRITEBYTECODE": ""},
            capture_output=True,
            text=True,
            timeout=20 * LONGEST,
            preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_CPU, (LONGEST, LONGEST)),
            check=False,
        )
    except subprocess.TimeoutExpired:
        return HUNG
    if run.returncode == 0:
        return None
    if run.returncode in (-signal.SIGXCPU, -signal.SIGKILL):
        return HUNG
    found = FAILED.search(run.stdout)
    if found is None:
        raise SystemExit(f"No test failed, and yet: {run.stdout[-500:]}{run.stderr[-500:]}")
    return found[1]


def write_report(rows: list[dict], *, possible: int, seed: int, near: bool) -> None:
    caught = sum(bool(row["caught_by"]) for row in rows)
    report = {"possible": possible, "tried": len(rows), "caught": caught, "seed": seed, "near": near, "mutants": rows}
    (TOP / "build").mkdir(exist_ok=True)
    (TOP / "build" / "mutants.json").write_text(json.dumps(report, indent=1), encoding="utf-8")


def say(line: str) -> None:
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--mutants", type=int, default=100)
    parser.add_argument("--minutes", type=float, default=float("inf"), help="no new mutant after as many minutes")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", default="", help="only files whose path holds this")
    parser.add_argument("--near", action="store_true", help="only the nearest tests: a lower bound")
    asked = parser.parse_args()
    every = list(mutants(asked.only))
    drawn = random.Random(asked.seed).sample(every, min(asked.mutants, len(every)))
    rows = []
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder) / "checkout"
        shutil.copytree(
            TOP, copy, ignore=shutil.ignore_patterns(".git", ".venv", "build", "dist", "browser", "__pycache__")
        )
        start = time.monotonic()
        for number, mutant in enumerate(drawn, 1):
            if time.monotonic() - start > asked.minutes * 60:
                break
            test, line = caught_by(mutant, copy, near=asked.near)
            if test != "no change":
                rows.append(
                    {**{name: getattr(mutant, name) for name in Mutant.__slots__}, "line": line, "caught_by": test}
                )
                say(f"{number}/{len(drawn)} {'caught ' if test else 'SURVIVES'} {mutant.file}:{line}")
                write_report(rows, possible=len(every), seed=asked.seed, near=asked.near)
    say(f"{sum(bool(row['caught_by']) for row in rows)} of {len(rows)} caught, of {len(every)} possible")
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
