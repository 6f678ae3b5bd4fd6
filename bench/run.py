"""Measures the compiler against fixed things in one run, prints the figures, and writes them to ``build/bench.json``.

Absolute times depend on the machine, so most figures are ratios of two things measured here, turn about, median of several turns.
"""

from __future__ import annotations

import json
import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import author_loop
import fuzzed
import growth
import hidden_lines
import house
import layouts
import measures
import order
import pages
import pictures
import printing
import second_goals
import selling
import svg_writing
import template_bombs
import turning

import catalogue
import checks

MODULES = (
    author_loop,
    catalogue,
    checks,
    fuzzed,
    growth,
    hidden_lines,
    house,
    layouts,
    measures,
    order,
    pages,
    pictures,
    printing,
    second_goals,
    selling,
    svg_writing,
    template_bombs,
    turning,
)
"""More figures, a module for each subject: each has ``measure() -> dict``."""

ROOT = Path(__file__).resolve().parent.parent
BENCH, FLAGSHIP = "boot-bench", "record-cabinet"
TURNS = 5

WEASYPRINT_ALONE = """
import pathlib, sys
from drawleaf.book.output.pdf import make_pdf
pathlib.Path(sys.argv[2]).write_bytes(make_pdf(pathlib.Path(sys.argv[1]).read_text(), plan_folder=pathlib.Path(sys.argv[3])))
"""
PAGES_ONLY = """
import pathlib, sys
import drawleaf.book.output.pdf as pdf, drawleaf.compiler as compiler
from drawleaf.compiler import Choice, compile_plan
pdf.make_pdf = lambda html, **_: (pathlib.Path(sys.argv[2]).write_text(html), b"")[1]
compile_plan(pathlib.Path(sys.argv[1]), Choice())
"""


def seconds(*command: str) -> float:
    """Wall-clock time of a whole process."""
    start = time.perf_counter()
    subprocess.run(command, check=True, cwd=ROOT, capture_output=True)
    return time.perf_counter() - start


def ratio(one: list[str], other: list[str], turns: int = TURNS) -> tuple[float, float, float]:
    """Median of ``one`` over ``other`` pair by pair, and the median seconds of each."""
    pairs = [(seconds(*one), seconds(*other)) for _ in range(turns)]
    return (
        statistics.median(a / b for a, b in pairs),
        statistics.median(a for a, _ in pairs),
        statistics.median(b for _, b in pairs),
    )


def peak_megabytes(command: list[str]) -> float:
    """Largest resident memory of one finished process."""
    pid = os.posix_spawn(
        command[0],
        command,
        os.environ,
        file_actions=[
            (os.POSIX_SPAWN_OPEN, 1, os.devnull, os.O_WRONLY, 0),
            (os.POSIX_SPAWN_OPEN, 2, os.devnull, os.O_WRONLY, 0),
        ],
    )
    _, status, usage = os.wait4(pid, 0)
    assert os.waitstatus_to_exitcode(status) == 0, command
    scale = 1 if sys.platform == "darwin" else 1024
    return usage.ru_maxrss * scale / 1e6


def measure() -> dict[str, float]:
    """All figures, by name."""
    figures = compiler_figures()
    for module in MODULES:
        figures |= module.measure()
    return figures


def compile_and_print(name: str, folder: str) -> tuple[list[str], list[str]]:
    """Commands that compile a plan whole, and that print the pages of that compile with WeasyPrint alone."""
    python, plan = sys.executable, str(ROOT / "plans" / name)
    pages, pdf = f"{folder}/{name}.html", f"{folder}/{name}.pdf"
    seconds(python, "-c", PAGES_ONLY, plan, pages)
    compile_command = [python, "-m", "drawleaf.cli", "compile", plan, "--out", folder]
    return compile_command, [python, "-c", WEASYPRINT_ALONE, pages, pdf, plan]


def compiler_figures() -> dict[str, float]:
    """Whole compiles, and the command line."""
    python = sys.executable
    plan = str(ROOT / "plans" / BENCH)
    figures: dict[str, float] = {}
    with tempfile.TemporaryDirectory() as folder:
        compile_command = [python, "-m", "drawleaf.cli", "compile", plan, "--out", folder]
        for name, prefix in ((BENCH, ""), (FLAGSHIP, "flagship_")):
            found = ratio(*compile_and_print(name, folder))
            figures |= dict(
                zip(
                    (f"{prefix}compile_vs_weasyprint", f"{prefix}compile_seconds", f"{prefix}weasyprint_seconds"),
                    found,
                    strict=True,
                )
            )
        figures["check_vs_python"], figures["check_seconds"], _ = ratio(
            [python, "-m", "drawleaf.cli", "check", plan], [python, "-c", "pass"]
        )
        figures["help_seconds"] = statistics.median(
            seconds(python, "-m", "drawleaf.cli", "--help") for _ in range(TURNS)
        )
        figures["peak_memory_mb"] = peak_megabytes(compile_command)
    return figures


def main() -> None:
    """Measure, print, write."""
    figures = {name: round(value, 3) for name, value in measure().items()}
    for name, value in figures.items():
        print(f"{name:32} {value:10.3f}")  # noqa: T201
    target = ROOT / "build" / "bench.json"
    target.parent.mkdir(exist_ok=True)
    target.write_text(json.dumps(figures, indent=2, sort_keys=True) + "\n")


if __name__ == "__main__":
    main()
