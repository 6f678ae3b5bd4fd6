"""What WeasyPrint takes for our pages: against the same booklet as it was, against a browser, and how often it lays a page out.

``fixtures/boot-bench-before.html.xz`` is the boot bench's HTML as it went to WeasyPrint on 30 November 2026, in 69 pages, before anything was
done for the renderer's sake; only the font files are named anew. It is printed as it was then, with one call.
"""

from __future__ import annotations

import logging
import lzma
import shutil
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PLAN = "boot-bench"
BEFORE = ROOT / "bench" / "fixtures" / f"{PLAN}-before.html.xz"
FONTS = "/* fonts */"
"""Stands in the fixture where the fonts of this installation are named."""
TURNS = 3

_TIMED = """
import pathlib, sys, time
html = pathlib.Path(sys.argv[1]).read_text(encoding="utf-8")
folder = pathlib.Path(sys.argv[2])
import drawleaf.book.output.pdf as pdf, weasyprint
start = time.process_time()
{}
print(time.process_time() - start)
"""
NOW = _TIMED.format("pdf.make_pdf(html, plan_folder=folder)")
THEN = _TIMED.format(
    "weasyprint.HTML(string=html, base_url=folder.as_uri() + '/', url_fetcher=pdf._fetcher(folder))"
    ".write_pdf(pdf_variant='pdf/ua-1', pdf_identifier=b'0' * 32)"
)


def cpu_seconds(code: str, html: Path) -> float:
    """Processor time of the printing alone, in a process of its own."""
    command = [sys.executable, "-c", code, str(html), str(ROOT / "plans" / PLAN)]
    return float(subprocess.run(command, check=True, capture_output=True, text=True).stdout.split()[-1])


def page_of_now() -> str:
    """The HTML that is printed today."""
    from drawleaf.book.output.booklet import make_html
    from drawleaf.compiler import Choice, read_and_resolve, work_out
    from drawleaf.draw.drawings import draw_all

    folder = ROOT / "plans" / PLAN
    outcome, plan = read_and_resolve(folder, Choice())
    assert plan is not None
    outcome, solids = work_out(outcome, plan)
    assert outcome.derived is not None
    assert solids is not None
    return make_html(outcome.derived, draw_all(outcome.derived, solids), for_print=True, plan_folder=folder)


def page_of_before() -> str:
    """The HTML that was printed before."""
    from drawleaf.book.page.fonts import font_faces_for_print

    return lzma.decompress(BEFORE.read_bytes()).decode().replace(FONTS, font_faces_for_print(), 1)


@contextmanager
def pages_laid_out() -> Iterator[list[str]]:
    """What WeasyPrint tells of each page that it lays out, again and again where it does."""
    told: list[str] = []
    ear = logging.Handler(logging.INFO)
    ear.emit = lambda record: told.append(record.getMessage())
    progress = logging.getLogger("weasyprint.progress")
    level = progress.level
    progress.addHandler(ear)
    progress.setLevel(logging.INFO)
    try:
        yield told
    finally:
        progress.removeHandler(ear)
        progress.setLevel(level)
        told[:] = [one for one in told if "Creating layout - Page" in one and "up-to-date" not in one]


def layouts_per_page(html: str) -> float:
    """How often a page is laid out, on the whole."""
    from drawleaf.book.output.pdf import laid_out

    with pages_laid_out() as told:
        document = laid_out(html, ROOT / "plans" / PLAN)
    return len(told) / len(document.pages)


def browser() -> str | None:
    """A headless browser, where there is one."""
    return next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)


def browser_seconds(chromium: str, html: Path) -> float:
    """Processor time in which a browser, all its processes, starts, prints the page and ends."""
    import resource

    pdf = html.with_suffix(".browser.pdf")
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run(
        [
            chromium,
            "--headless",
            "--no-sandbox",
            "--disable-gpu",
            "--no-pdf-header-footer",
            f"--print-to-pdf={pdf}",
            html.as_uri(),
        ],
        check=True,
        capture_output=True,
    )
    assert pdf.stat().st_size > 100_000
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def measure() -> dict[str, float]:
    """``pages_laid_out_per_page``; ``weasyprint_gain``, processor time now over that of before; ``pdf_vs_browser``, over a browser's."""
    now = page_of_now()
    figures = {"pages_laid_out_per_page": layouts_per_page(now)}
    with tempfile.TemporaryDirectory() as folder:
        new, old = Path(folder, "now.html"), Path(folder, "before.html")
        new.write_text(now, encoding="utf-8")
        old.write_text(page_of_before(), encoding="utf-8")
        pairs = [(cpu_seconds(NOW, new), cpu_seconds(THEN, old)) for _ in range(TURNS)]
        figures["weasyprint_gain"] = statistics.median(one / other for one, other in pairs)
        figures["printing_seconds"] = statistics.median(one for one, _ in pairs)
        if chromium := browser():
            theirs = statistics.median(browser_seconds(chromium, new) for _ in range(TURNS))
            figures["pdf_vs_browser"] = figures["printing_seconds"] / theirs
    return figures


if __name__ == "__main__":
    for name, value in measure().items():
        print(f"{name:32} {value:10.3f}")  # noqa: T201
