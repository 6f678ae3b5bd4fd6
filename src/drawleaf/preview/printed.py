"""The printed pages beside the tablet edition: made by a process of its own, shown page by page as pictures."""

from __future__ import annotations

import contextlib
import io
import os
import pickle
import subprocess
import sys
import threading
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

import drawleaf
from drawleaf.model.derived import Derived
from drawleaf.model.drawings import Drawings
from drawleaf.preview.printing import NO_PAGES

PIXELS_WIDE = 1000
"""How wide the picture of a page is."""
COMMAND = (sys.executable, "-m", "drawleaf.preview.printing")
_DRAWING = threading.Lock()
"""PDFium draws one page at a time."""


@dataclass(frozen=True, slots=True)
class Pages:
    """A printed booklet: its ``pdf``, how many pages it has, and on which page (from 0) each named place stands. ``version`` is that of the
    booklet on the screen. Without pages ``why`` says the reason, or they are still being made."""

    version: int = 0
    pdf: bytes = field(default=b"", repr=False)
    count: int = 0
    shape: float = 1.3
    """How high a page is for its width."""
    places: Mapping[str, int] = field(default_factory=dict)
    why: str = ""
    busy: bool = False

    def told(self) -> dict[str, Any]:
        """For the page."""
        return {
            "version": self.version,
            "count": self.count,
            "shape": self.shape,
            "places": dict(self.places),
            "why": self.why,
            "busy": self.busy,
        }


class Printer:
    """Makes pages in the background, the newest booklet only. ``news`` hears each change, from another thread."""

    def __init__(self, news: Callable[[Pages], None]) -> None:
        self.now = Pages()
        self._news = news
        self._process: subprocess.Popen[bytes] | None = None
        self._lock = threading.Lock()

    def begin(self, version: int, derived: Derived, drawings: Drawings, folder: Path) -> None:
        """Print this booklet; what is being printed otherwise is given up."""
        self.give_up()
        job = pickle.dumps((derived, drawings, folder))
        # The child finds the package that this process runs, wherever that lies.
        source = str(Path(drawleaf.__file__).parent.parent)
        paths = os.pathsep.join(filter(None, (source, os.environ.get("PYTHONPATH", ""))))
        process = subprocess.Popen(
            COMMAND,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            env={**os.environ, "PYTHONPATH": paths},
        )
        with self._lock:
            self._process = process
        self._tell(replace(self.now, why="", busy=True))
        threading.Thread(target=self._wait, args=(process, job, version), name="print", daemon=True).start()

    def give_up(self) -> None:
        """End what is being printed."""
        with self._lock:
            process, self._process = self._process, None
        if process is not None:
            process.kill()
            self._tell(replace(self.now, busy=False))

    def _wait(self, process: subprocess.Popen[bytes], job: bytes, version: int) -> None:
        with contextlib.suppress(OSError, ValueError):  # it was ended while it was told its job
            pdf, words = process.communicate(job)
            with self._lock:
                mine = self._process is process
                self._process = None if mine else self._process
            if not mine:
                return
            if process.returncode == 0:
                self._tell(_read(pdf, version))
            elif process.returncode == NO_PAGES:
                self._tell(Pages(version, why=words.decode(errors="replace")[:1000]))
            else:
                last = words.decode(errors="replace").strip().rpartition("\n")[2][:300]
                self._tell(Pages(version, why=f"drawleaf itself failed to print this plan ({last}); please report it."))

    def _tell(self, pages: Pages) -> None:
        self.now = pages
        self._news(pages)

    def picture(self, number: int) -> bytes | None:
        """A page (from 0) as a PNG; None where there is no such page."""
        pages = self.now
        return picture_of(pages.pdf, number) if 0 <= number < pages.count else None


def _read(pdf: bytes, version: int) -> Pages:
    import pikepdf

    from drawleaf.book.output.named_places import pages_of_places

    with pikepdf.open(io.BytesIO(pdf)) as document:
        places = {name: page - 1 for name, page in pages_of_places(document).items()}
        left, low, right, high = map(float, document.pages[0].mediabox)
        return Pages(version, pdf, len(document.pages), (high - low) / (right - left), places)


def picture_of(pdf: bytes, number: int) -> bytes:
    """A page (from 0) of a PDF as a PNG."""
    import pypdfium2

    with _DRAWING:
        document = pypdfium2.PdfDocument(pdf)
        try:
            page = document[number]
            image = page.render(scale=PIXELS_WIDE / page.get_width()).to_pil()
        finally:
            document.close()
    stream = io.BytesIO()
    image.save(stream, "PNG")
    return stream.getvalue()
