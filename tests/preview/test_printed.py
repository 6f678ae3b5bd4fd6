"""The printed pages of the preview: the newest booklet alone is printed, and what goes wrong is told in plain words."""

from __future__ import annotations

import io
import sys
import threading
from pathlib import Path

import pytest
from pypdf import PdfReader, PdfWriter

from drawleaf.preview import printed
from drawleaf.preview.printed import Pages, Printer


class Told:
    """Hears what a printer tells."""

    def __init__(self) -> None:
        self.all: list[Pages] = []
        self._heard = threading.Event()

    def __call__(self, pages: Pages) -> None:
        self.all.append(pages)
        if not pages.busy:
            self._heard.set()

    def at_rest(self) -> Pages:
        assert self._heard.wait(60), "nothing was told"
        self._heard.clear()
        return self.all[-1]


@pytest.fixture
def told() -> Told:
    return Told()


def printer(told: Told, monkeypatch: pytest.MonkeyPatch, script: str) -> Printer:
    """One whose process runs this script, which has read its job."""
    words = "import sys; sys.stdin.buffer.read(); " + script
    monkeypatch.setattr(printed, "COMMAND", (sys.executable, "-S", "-c", words))
    return Printer(told)


def begin(one: Printer, version: int) -> None:
    one.begin(version, None, None, Path())  # type: ignore[arg-type]


def two_pages() -> bytes:
    writer = PdfWriter()
    for _ in range(2):
        writer.add_blank_page(width=612, height=792)
    writer.add_named_destination("step-rip", 1)
    stream = io.BytesIO()
    writer.write(stream)
    return stream.getvalue()


def test_pages_are_counted_places_found_and_drawn(told: Told, monkeypatch: pytest.MonkeyPatch) -> None:
    one = printer(told, monkeypatch, f"sys.stdout.buffer.write({two_pages()!r})")
    begin(one, 7)
    pages = one.now if not one.now.busy else told.at_rest()
    assert told.all[0].busy
    assert (pages.version, pages.count, dict(pages.places), pages.why) == (7, 2, {"step-rip": 1}, "")
    assert pages.shape == pytest.approx(792 / 612)
    assert (one.picture(1) or b"").startswith(b"\x89PNG")
    assert one.picture(2) is None
    assert one.picture(-1) is None


def test_what_the_plan_or_the_computer_lacks_is_told(told: Told, monkeypatch: pytest.MonkeyPatch) -> None:
    one = printer(told, monkeypatch, f"sys.stderr.write('Pango is missing.'); sys.exit({printed.NO_PAGES})")
    begin(one, 1)
    assert told.at_rest().why == "Pango is missing."


def test_a_failure_of_our_own_is_told_without_a_traceback(told: Told, monkeypatch: pytest.MonkeyPatch) -> None:
    one = printer(told, monkeypatch, "raise RuntimeError('a screw loose')")
    begin(one, 1)
    why = told.at_rest().why
    assert "a screw loose" in why
    assert "Traceback" not in why


def test_a_save_ends_what_is_being_printed_and_the_last_pages_stay(told: Told, monkeypatch: pytest.MonkeyPatch) -> None:
    one = printer(told, monkeypatch, f"sys.stdout.buffer.write({two_pages()!r})")
    begin(one, 1)
    told.at_rest()
    slow = printer(told, monkeypatch, "import time; time.sleep(600)")
    slow.now = one.now
    begin(slow, 2)
    process = slow._process
    assert process is not None
    slow.give_up()
    assert process.wait(60) != 0
    pages = told.at_rest()
    assert (pages.version, pages.count, pages.busy) == (1, 2, False)


def test_the_process_prints_a_plan_as_a_compile_does(tmp_path: Path) -> None:
    """Its words and places, from the drawings of a screen; the drawings for paper are its own."""
    from tests.small_plans import outcome_from

    from drawleaf.draw.drawings import draw_all
    from drawleaf.preview.printing import printed as printed_pages
    from drawleaf.solids.build import build_solids

    derived = outcome_from(ONE_BOARD).derived
    assert derived is not None
    drawings = draw_all(derived, build_solids(derived.plan), for_print=False)
    assert not drawings.steps_low
    reader = PdfReader(io.BytesIO(printed_pages(derived, drawings, tmp_path)))
    assert "One board" in reader.pages[0].extract_text()
    assert f"step-{derived.steps[-1].id}" in reader.named_destinations


ONE_BOARD = """
plan: {title: One board, number: T-1, date: 2026-11-24, author: A, lengths: in}
stock: {board: {material: pine board, size: 1x4}}
assemblies:
  box:
    parts:
      end: {stock: board, thickness: x, full_width: z, grain: y, left: 0, front: 0, back: 11, bottom: 0}
"""
