"""What comes after a compile, on the largest booklet of a bench plan: buyers' copies, the comparison, the sample, the shelf.

``copy_cpu_ms`` is the processor time of one copy on disk, its PDF alone, from one master; ``copy_vs_compile`` the same in shares of the compile.
``sample_leak`` counts what of other pages and screens is found anywhere in the samples, PDF and HTML: longer lines of text, words for pictures,
lines of drawings. It is 0.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parent.parent / "tests"))

from drawleaf.book.output.data import plan_json
from drawleaf.compiler import Choice, check_plan, compile_plan
from drawleaf.outputs import write_set
from drawleaf.sell.comparing import compare
from drawleaf.sell.cover_picture import cover_picture
from drawleaf.sell.master import make_master, stamped
from drawleaf.sell.piece import compiled_from
from drawleaf.sell.sample import make_sample
from drawleaf.sell.sample_page import make_page_sample
from drawleaf.sell.shelf import shelf_files
from drawleaf.sell.whole_files import write_whole
from sell.leaking import leaks_of_page, leaks_of_pdf

ROOT = Path(__file__).resolve().parent.parent
PLAN = ROOT / "plans" / "boot-bench"
COPIES = 100
CHANGE = ("width: 42", "width: 42-3/4")


def measure() -> dict[str, float]:
    """All figures, by name."""
    start = time.process_time()
    outcome = compile_plan(PLAN, Choice())
    compile_seconds = time.process_time() - start
    assert outcome.files
    pdf, page = outcome.files[f"{PLAN.name}.pdf"], outcome.files[f"{PLAN.name}.html"].decode()
    with tempfile.TemporaryDirectory() as place:
        copy = _copy_seconds(pdf, Path(place))
        write_set(Path(place) / PLAN.name, outcome.files)
        start = time.perf_counter()
        for _ in shelf_files(Path(place) / PLAN.name, cover_picture(Path(place) / PLAN.name)):
            pass
        shelf = time.perf_counter() - start
    return {
        "copy_cpu_ms": round(copy * 1000, 2),
        "copy_vs_compile": round(copy / compile_seconds, 6),
        "compare_seconds": round(_compare_seconds(outcome.files["plan.json"].decode()), 3),
        "sample_leak": float(
            len(leaks_of_pdf(pdf, make_sample(pdf))) + len(leaks_of_page(page, make_page_sample(page)))
        ),
        "shelf_seconds": round(shelf, 2),
    }


def _copy_seconds(pdf: bytes, folder: Path) -> float:
    """Median processor time of one copy, written."""
    master = make_master(pdf)
    times = []
    for number in range(COPIES):
        start = time.process_time()
        base, tail = stamped(master, f"Copy for buyer {number}", {"name": f"buyer {number}"})
        write_whole(folder / "copy.pdf", base + tail)
        times.append(time.process_time() - start)
    return statistics.median(times)


def _compare_seconds(old: str) -> float:
    """The comparison of two revisions that are worked out already."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / PLAN.name
        folder.mkdir()
        for file in PLAN.iterdir():
            if file.is_file():
                (folder / file.name).write_bytes(file.read_bytes())
        source = (folder / "plan.yaml").read_text(encoding="utf-8")
        (folder / "plan.yaml").write_text(source.replace(*CHANGE, 1), encoding="utf-8")
        derived = check_plan(folder, Choice()).derived
    assert derived is not None
    new = plan_json(derived)
    start = time.perf_counter()
    assert compare(compiled_from(old), compiled_from(new))
    return time.perf_counter() - start
