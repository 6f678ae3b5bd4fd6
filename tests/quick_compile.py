"""The commands without the two slow ends of a compile, for tests of what is written and where: the PDF is no PDF, fonts are empty."""

from __future__ import annotations

import sys
from pathlib import Path

PROGRAM = """
from drawleaf.book.output import pdf
from drawleaf.book.page import fonts
pdf.make_pdf = lambda html, plan_folder=None: b"%PDF-" + html.encode()
fonts._subset = lambda file, characters: b""
from drawleaf.cli import main
main()
"""


def quickly(*arguments: str | Path, first: str = "") -> list[str]:
    """The command line of such a command; ``first`` is what its process does before."""
    return [sys.executable, "-c", first + PROGRAM, *map(str, arguments)]
