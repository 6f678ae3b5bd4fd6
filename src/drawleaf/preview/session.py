"""The work behind the preview: compiles after each save, in a thread of its own, and sends the page what is new."""

from __future__ import annotations

import os
import threading
import time
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from drawleaf.book.page.figures import picture_for_screen
from drawleaf.compiler import Choice, Outcome
from drawleaf.model.diagnostic import Diagnostic
from drawleaf.model.drawings import Drawing
from drawleaf.preview.other_editions import tried
from drawleaf.preview.places import Places
from drawleaf.preview.pointing import part_at
from drawleaf.preview.printed import Pages, Printer
from drawleaf.preview.turning_view import turning_view
from drawleaf.resources import shared_folders, template_folders
from drawleaf.source.report import in_order
from drawleaf.source.stamps import Stamp, stamp_of
from drawleaf.source.text_files import lines_of
from drawleaf.workers import spare_cores
from drawleaf.workshop import Booklet, Editions

News = Callable[[str, dict[str, Any]], None]
_BATCH_SECONDS = 0.4
_RETRY_SECONDS = 1.0
IDLE_SECONDS = 3.0
"""So long without a save, and the other editions are tried."""
_RUN = f"{os.getpid()}-{time.time_ns()}"
"""Tells this preview from another that answers under the same address later."""


@dataclass(frozen=True, slots=True)
class Shown:
    """What the page shows: the last good booklet, and the state of the source since."""

    version: int = 0
    booklet: Booklet | None = None
    owed: tuple[str, ...] = ()
    busy: bool = True
    failed: bool = False
    remarks: tuple[dict[str, Any], ...] = ()
    seconds: float = 0.0
    named: str = ""
    """The plan's own title, number and revision; empty until it was read."""

    def state(self) -> dict[str, Any]:
        """For the page."""
        return {
            "run": _RUN,
            "version": self.version,
            "owed": list(self.owed),
            "busy": self.busy,
            "failed": self.failed,
            "remarks": list(self.remarks),
            "seconds": round(self.seconds, 2),
            "named": self.named,
        }


@dataclass(frozen=True, slots=True)
class Asked:
    """What the page wants the source lines of. ``what``, ``said`` and ``upright`` as for ``Places.find``; ``at`` is the place in a drawing,
    in mm on its paper; ``whole``: where nothing smaller is meant, the parts of the whole page will do."""

    what: str
    said: str = ""
    upright: bool = False
    at: tuple[float, float] | None = None
    whole: bool = False


class Session:
    """One plan in one edition, compiled on each save. ``look_at`` and ``now`` may be called from other threads."""

    def __init__(self, folder: Path, choice: Choice, news: News) -> None:
        self.folder = folder
        self.now = Shown()
        self._news = news
        self._choice = choice
        self._editions = Editions(folder, workers=spare_cores())
        self._workshop = self._editions.of(choice)
        self._saved = threading.Event()
        self._saved.set()
        self._stopped = False
        self._looked_at: tuple[str, ...] = ("cover",)
        self._drawn: dict[str, Drawing] = {}
        self._read: Stamp = stamp_of(drawn_on(folder))
        self.printer = Printer(self._tell_pages)
        self._prints = False

    @property
    def edition(self) -> str | None:
        return self._choice.edition

    def stands(self, stamp: Stamp) -> None:
        """How the plan's folder, and what it draws on, stands now: where that is not what was read last, it is read again."""
        if stamp != self._read:
            self._read = stamp
            self._saved.set()

    def look_at(self, drawings: Iterable[str]) -> None:
        """Which drawings the reader has in view: they come first."""
        self._looked_at = tuple(drawings)

    def change_edition(self, edition: str | None) -> None:
        """Show another edition from now on."""
        self._choice = replace(self._choice, edition=edition)
        self._saved.set()

    def want_pages(self, wanted: bool) -> None:
        """Whether the printed pages are shown: only then are they made."""
        self._prints = wanted
        if not wanted:
            self.printer.give_up()
        elif not self.now.busy:
            self._print()

    def _print(self) -> None:
        booklet, version = self.now.booklet, self.now.version
        outcome = booklet.outcome if booklet and not self.now.failed else None
        if not self._prints or outcome is None or outcome.derived is None or outcome.drawings is None:
            return
        if self.printer.now.version != version or self.printer.now.why:
            self.printer.begin(version, outcome.derived, outcome.drawings, self.folder)

    def _tell_pages(self, pages: Pages) -> None:
        self._news("printed", pages.told())

    def stop(self) -> None:
        self._stopped = True
        self.printer.give_up()
        self._saved.set()

    def run(self) -> None:
        """Compile after each save until stopped. For a thread of its own."""
        again: float | None = None
        while True:
            self._saved.wait(again)
            again = None
            if self._stopped:
                self._editions.close()
                return
            self._saved.clear()
            try:
                self._round()
                if not self._saved.is_set():
                    self._print()
                self.try_other_editions()
            except Exception as error:
                if not isinstance(error, OSError):
                    # Our own fault, not the author's. The last good version stays and the next save is a new chance.
                    words = f"drawleaf itself failed ({type(error).__name__}: {error}). Your plan may be fine; please report it."
                    self._tell_failure("internal", words)
                    continue
                again = _RETRY_SECONDS  # it may only be away while it is saved
                self._tell_failure("unreadable", f"{error.filename or self.folder}: cannot be read: {error.strerror}")

    def find(self, asked: Asked) -> dict[str, Any]:
        """The source lines behind something on the page."""
        book = self.now.booklet
        if book is None or book.outcome.derived is None:
            return {"title": "", "places": []}
        places = Places(book.outcome.derived, book.outcome.texts)
        body = self._seen(book, asked.what, asked.at)
        found = places.find(asked.what, asked.said, asked.upright, body)
        if found["places"] or not asked.whole:
            # By its id the part is found again after a change, wherever it then is drawn.
            return found | {"body": body if body and found["title"] == places.name_of(body) else None}
        drawing = self._drawn.get(asked.what.partition(":")[2])
        shown = {one for pane in drawing.panes for one in pane.shown} if drawing else None
        return places.of_all(drawing.title if drawing else "The whole piece", shown)

    def name_at(self, drawing: str, at: tuple[float, float]) -> str:
        """What is seen at a place of a drawing, by its number and name; empty where there is nothing."""
        book = self.now.booklet
        body = self._seen(book, f"drawing:{drawing}", at) if book else None
        if book is None or book.outcome.derived is None or body is None:
            return ""
        return Places(book.outcome.derived, book.outcome.texts).name_of(body)

    def _seen(self, book: Booklet, what: str, at: tuple[float, float] | None) -> str | None:
        kind, _, name = what.partition(":")
        drawing = self._drawn.get(name)
        if kind != "drawing" or at is None or drawing is None or book.solids is None:
            return None
        return part_at(drawing, book.solids, *at)

    def shapes(self) -> dict[str, Any]:
        """The piece for the turning view."""
        book = self.now.booklet
        if book is None or book.outcome.derived is None or book.solids is None:
            return {"bodies": []}
        cover = self._drawn.get("cover")
        sight = next((pane.sight for pane in cover.panes if pane.sight), None) if cover else None
        view = turning_view(book.outcome.derived, book.solids)
        return view | {"toward": list(sight.axes[2])} if sight else view

    def _round(self) -> None:
        begun = time.perf_counter()
        self.printer.give_up()
        self._workshop = self._editions.of(self._choice)
        read = self._read
        self._show(busy=True)
        outcome = self._workshop.take_up()
        if self._workshop.plan is not None:
            about = self._workshop.plan.about
            self.now = replace(self.now, named=f"{about.title} ({about.number}, revision {about.revision})")
        else:
            self._changed_since(read)
            self._show_remarks(outcome, begun, failed=True)
            return
        self._send(self._workshop.draw(self._looked_at))
        self._changed_since(read)
        if self._saved.is_set():
            return
        draft = self._workshop.draft()
        if draft.html is None:
            self._show_remarks(draft.outcome, begun, failed=True)
            return
        self._show_booklet(draft, begun, busy=bool(draft.owed))
        self._draw_owed(draft.owed)
        if self._saved.is_set():
            return
        whole = self._workshop.booklet()
        if whole.html is None:
            self._show_remarks(whole.outcome, begun, failed=True)
        elif whole.html != draft.html:
            self._show_booklet(whole, begun, busy=False)
        else:
            # Its drawings may have been shown already with a save that went wrong: nothing is owed any more.
            self._show(busy=False, owed=())

    def try_other_editions(self) -> None:
        """Once the page is up to date and the author reads on, the editions of a plan that is shown as it stands are tried as well."""
        outcome = self.now.booklet.outcome if self.now.booklet and not self.now.failed else None
        if outcome is None or not outcome.editions or self._choice.edition is not None:
            return
        if self._saved.wait(IDLE_SECONDS):
            return
        remarks = tried(self.folder, self._saved.wait)
        if remarks:
            texts = outcome.texts
            self._show(remarks=(*self.now.remarks, *(_with_line(one, texts) for one in remarks)))

    def _changed_since(self, read: Stamp) -> None:
        """What came while the plan was read may be gone before it is noticed otherwise: then the plan is read again."""
        now = stamp_of(drawn_on(self.folder))
        if now != read:
            self.stands(now)
            self._saved.set()

    def _draw_owed(self, owed: tuple[str, ...]) -> None:
        """The drawings that the page still waits for, those nearest to the reader first, a handful at a time."""
        nearest = list(owed)
        if self._looked_at and self._looked_at[0] in owed:
            at = owed.index(self._looked_at[0])
            nearest.sort(key=lambda one: abs(owed.index(one) - at))
        ready: dict[str, Drawing] = {}
        sent = time.perf_counter()
        for drawn in self._workshop.catch_up(nearest):
            ready |= drawn
            if self._saved.is_set():
                break
            if time.perf_counter() - sent > _BATCH_SECONDS:
                self._send(ready)
                ready, sent = {}, time.perf_counter()
        self._send(ready)

    def _send(self, drawings: Mapping[str, Drawing]) -> None:
        if not drawings:
            return
        self.now = replace(self.now, owed=tuple(one for one in self.now.owed if one not in drawings))
        self._drawn |= drawings
        self._news("drawings", {an_id: str(picture_for_screen(drawing)) for an_id, drawing in drawings.items()})

    def _show_booklet(self, booklet: Booklet, begun: float, busy: bool) -> None:
        drawings = booklet.outcome.drawings
        self._drawn = {one.id: one for one in drawings.all()} if drawings else {}
        self.now = replace(self.now, version=self.now.version + 1, booklet=booklet, owed=booklet.owed)
        self._show_remarks(booklet.outcome, begun, failed=False, busy=busy)

    def _show_remarks(self, outcome: Outcome, begun: float, failed: bool, busy: bool = False) -> None:
        if failed:
            self._take_back()
        told = tuple(told_on_page(one, outcome.texts) for one in in_order(outcome.diagnostics))
        self._show(remarks=told, failed=failed, busy=busy, seconds=time.perf_counter() - begun)

    def _take_back(self) -> None:
        """The drawings of a plan that proves to be no good give way to those of the last good one."""
        good = self.now.booklet.outcome.drawings if self.now.booklet else None
        last = {one.id: one for one in good.all()} if good else {}
        self._send(
            {an_id: last[an_id] for an_id, one in self._drawn.items() if an_id in last and last[an_id] is not one}
        )
        self._drawn = last

    def _tell_failure(self, code: str, words: str) -> None:
        self._take_back()
        self._show(remarks=(told_on_page(Diagnostic(code, words, None), {}),), failed=True, busy=False)

    def _show(self, **changes: Any) -> None:
        self.now = replace(self.now, **changes)
        self._news("state", self.now.state())


def drawn_on(folder: Path) -> list[Path]:
    """The folders that a plan is read and printed from: its own, and the shared ones and templates, ours and the author's."""
    return [folder, *shared_folders(folder), *template_folders(folder)]


def _with_line(remark: dict[str, Any], texts: Mapping[str, str]) -> dict[str, Any]:
    """A remark with the line of the source that it is about."""
    lines = lines_of(texts.get(remark["file"], ""))
    return remark | {"text": lines[remark["line"] - 1] if 0 < remark["line"] <= len(lines) else ""}


def told_on_page(diagnostic: Diagnostic, texts: Mapping[str, str]) -> dict[str, Any]:
    """A diagnostic with the line that it is about."""
    position = diagnostic.position
    text = lines_of(texts.get(position.file, "")) if position else []
    return {
        "severity": diagnostic.severity.value,
        "code": diagnostic.code,
        "message": diagnostic.message,
        "cause": diagnostic.cause,
        "mend": diagnostic.mend,
        "file": position.file if position else "",
        "line": position.line if position else 0,
        "column": position.column if position else 0,
        "length": position.length if position else 0,
        "text": text[position.line - 1] if position and position.line <= len(text) else "",
    }
