"""Without the slow ends of a compile: the PDF is no PDF, fonts are empty. Loaded by a Dask worker before it starts (``--preload``); one with the environment variable
``DEADLY`` ends itself over the first booklet that it is given."""

from __future__ import annotations

import os
import signal
from pathlib import Path
from typing import NoReturn

from drawleaf.book.output import pdf
from drawleaf.book.page import fonts
from drawleaf.catalogue import making


def no_pdf(html: str, plan_folder: Path | None = None) -> bytes:
    """Stands in for ``make_pdf``."""
    return b"%PDF-" + html.encode()


def die(*_: object, **__: object) -> NoReturn:
    """As a process ends that the system kills."""
    os.kill(os.getpid(), signal.SIGKILL)
    raise AssertionError


def quicken() -> None:
    """From here on, in this process."""
    pdf.make_pdf = no_pdf
    fonts._subset = lambda file, characters: b""
    if os.environ.get("DEADLY"):
        making.compile_plan = die


def dask_setup(worker: object) -> None:
    """What Dask calls in a worker that loads this file."""
    quicken()
