"""The author's loop on the largest plan: from a save to the drawing that is looked at, to the page, to its last drawing; and a cold check.

Each dimension of the plan that can be changed by a little is changed in turn; figures are medians over those. The steps looked at are a few from
all over the plan. What is timed is the work between the save and the moment the page is sent; a browser test sees to the rest.

``draft`` is the page with every word and number of the changed plan and the drawings that are looked at; the others follow. ``html`` is the
page with the last of them and the tidy layouts, byte for byte that of a compile.
"""

from __future__ import annotations

import os
import re
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from drawleaf.compiler import Choice, compile_plan
from drawleaf.workers import spare_cores
from drawleaf.workshop import PlanWorkshop

ROOT = Path(__file__).resolve().parent.parent
BENCH = ROOT / "plans" / "boot-bench"
LOOKED_AT = (("step-21",), ("elevation-front",), ("part-01",), ("step-30",))
COLD_TURNS = 5
CHANGES = (
    ("width: 42", "width: 42-3/4"),
    ("depth: 15-1/2", "depth: 15-3/4"),
    ("seat_height: 19", "seat_height: 18-1/2"),
    ("toe: 3", "toe: 3-1/4"),
    ("toe_deep: 2", "toe_deep: 2-1/4"),
    ("dado: 1/4", "dado: 3/16"),
    ("overhang: 3/4", "overhang: 1"),
    ("gap: 3/32", "gap: 1/8"),
    ("drawer_opening: 5", "drawer_opening: 5-1/4"),
)
"""Every dimension of the plan but the pitch of the shelf pins, which cannot change alone."""


def measure() -> dict[str, float]:
    """All figures, by name."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / BENCH.name
        shutil.copytree(BENCH, folder)
        start = time.perf_counter()
        assert compile_plan(folder, Choice()).files
        compile_seconds = time.perf_counter() - start
        drawing, draft, whole = _edits(folder)
    return {
        "edit_to_drawing_vs_compile": round(drawing / compile_seconds, 4),
        "edit_to_draft_vs_compile": round(draft / compile_seconds, 4),
        "edit_to_html_vs_compile": round(whole / compile_seconds, 4),
        "edit_to_drawing_seconds": round(drawing, 3),
        "edit_to_draft_seconds": round(draft, 3),
        "edit_to_html_seconds": round(whole, 3),
        "warm_compile_seconds": round(compile_seconds, 3),
        "check_cold_seconds": round(_cold_checks(), 3),
    }


def _edits(folder: Path) -> tuple[float, float, float]:
    """Median seconds from a save to the drawing looked at, to all words and numbers, and to the whole booklet."""
    source = folder / "plan.yaml"
    written = source.read_text(encoding="utf-8")
    workshop = PlanWorkshop(folder, Choice(), workers=spare_cores())
    _round(workshop, ())
    times: list[tuple[float, float, float]] = []
    for turn, (old, new) in enumerate(CHANGES):
        changed, count = re.subn(rf"(?m)^  {re.escape(old)}$", f"  {new}", written)
        assert count == 1, old
        source.write_text(changed, encoding="utf-8")
        times.append(_round(workshop, LOOKED_AT[turn % len(LOOKED_AT)]))
        source.write_text(written, encoding="utf-8")
        _round(workshop, ())
    workshop.close()
    return tuple(statistics.median(column) for column in zip(*times, strict=True))  # type: ignore[return-value]


def _round(workshop: PlanWorkshop, looked_at: tuple[str, ...]) -> tuple[float, float, float]:
    start = time.perf_counter()
    workshop.take_up()
    workshop.draw(looked_at)
    drawn = time.perf_counter() - start
    draft = workshop.draft()
    drafted = time.perf_counter() - start
    if draft.html is not None:
        for _ in workshop.catch_up(draft.owed):
            pass
        assert workshop.booklet().html
    return drawn, drafted, time.perf_counter() - start


def _cold_checks() -> float:
    """Median seconds of a check in a new process, as installed: with the bytecode that a first run leaves."""
    command = [sys.executable, "-m", "drawleaf.cli", "check", str(BENCH)]
    with tempfile.TemporaryDirectory() as bytecode:
        surroundings = {**os.environ, "PYTHONPYCACHEPREFIX": bytecode}
        surroundings.pop("PYTHONDONTWRITEBYTECODE", None)
        times = []
        for _ in range(COLD_TURNS + 1):
            start = time.perf_counter()
            subprocess.run(command, check=True, cwd=ROOT, capture_output=True, env=surroundings)
            times.append(time.perf_counter() - start)
    return statistics.median(times[1:])


if __name__ == "__main__":
    for name, value in measure().items():
        print(f"{name:32} {value}")  # noqa: T201
