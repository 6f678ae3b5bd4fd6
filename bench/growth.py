"""How drawing and printing grow with a plan, and what a wall of twenty bays takes: processor seconds, one process.

The exponent is that of the parts: 1 where twice the parts take twice as long. A booklet grows with what is different, so the pages of a
long wall are few.
"""

from __future__ import annotations

import os
import sys
import tempfile
import time
from pathlib import Path

from bays import write
from order import growth
from pypdf import PdfReader

from drawleaf.book.output.booklet import make_html
from drawleaf.book.output.pdf import make_pdf
from drawleaf.compiler import Choice, check_plan
from drawleaf.draw.audit import audit_drawings
from drawleaf.draw.drawings import draw_all
from drawleaf.solids.build import build_solids

SIZES = (2, 6, 20)
LARGE = 20
MEGABYTE = 1e6


def _stages(folder: Path) -> tuple[int, float, float]:
    """Parts of a plan, and the processor seconds of its drawings and of its pages."""
    outcome = check_plan(folder, Choice())
    if outcome.derived is None or outcome.failed:
        raise SystemExit(f"{folder.name} does not compile: {outcome.diagnostics[:3]}")
    plan = outcome.derived.plan
    solids = build_solids(plan)
    start = time.process_time()
    drawings = draw_all(outcome.derived, solids)
    drawn = time.process_time()
    derived, _ = audit_drawings(outcome.derived, drawings)
    make_pdf(make_html(derived, drawings, for_print=True, plan_folder=folder), plan_folder=folder)
    return len(plan.parts), drawn - start, time.process_time() - drawn


def _compiled(folder: Path, out: Path) -> tuple[float, float, int]:
    """A whole compile as a user starts it: wall-clock seconds, largest memory in MB, pages."""
    command = [sys.executable, "-m", "drawleaf.cli", "compile", str(folder), "--out", str(out)]
    start = time.perf_counter()
    pid = os.posix_spawn(
        command[0], command, os.environ, file_actions=[(os.POSIX_SPAWN_OPEN, 1, os.devnull, os.O_WRONLY, 0)]
    )
    _, status, usage = os.wait4(pid, 0)
    taken = time.perf_counter() - start
    if os.waitstatus_to_exitcode(status):
        raise SystemExit(f"{folder.name} does not compile")
    scale = 1 if sys.platform == "darwin" else 1024
    (pdf,) = out.rglob("*.pdf")
    return taken, usage.ru_maxrss * scale / MEGABYTE, len(PdfReader(pdf).pages)


def measure() -> dict[str, float]:
    """The figures of ``make bench``."""
    with tempfile.TemporaryDirectory() as place:
        stages = [_stages(write(size, Path(place))) for size in SIZES]
        seconds, megabytes, pages = _compiled(write(LARGE, Path(place)), Path(place) / "out")
    parts, drawing, printing = zip(*stages, strict=True)
    return {
        "growth_drawing_exponent": growth(parts, drawing),
        "growth_printing_exponent": growth(parts, printing),
        f"bays_{LARGE}_seconds": seconds,
        f"bays_{LARGE}_mb": megabytes,
        f"bays_{LARGE}_pages": float(pages),
    }


if __name__ == "__main__":
    for name, value in measure().items():
        sys.stdout.write(f"{name:32} {value:10.3f}\n")
