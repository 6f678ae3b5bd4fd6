"""Writes the pages and schemas that are made from the code: ``make docs``. A test fails while one of them is stale."""

from __future__ import annotations

import sys
from pathlib import Path

from drawleaf.codes.page import page
from drawleaf.source.key_page import key_page
from drawleaf.source.schema import schemas

DOCS = Path(__file__).resolve().parent.parent / "docs"


def made() -> dict[Path, str]:
    """Each file with what should stand in it."""
    return {
        DOCS / "diagnostics.md": page(),
        DOCS / "source-keys.md": key_page(),
        **{DOCS / "schema" / name: text for name, text in schemas().items()},
    }


def main() -> None:
    for file, text in made().items():
        file.parent.mkdir(parents=True, exist_ok=True)
        if not file.is_file() or file.read_text(encoding="utf-8") != text:
            file.write_text(text, encoding="utf-8")
            sys.stdout.write(f"{file.relative_to(DOCS.parent)} written\n")


if __name__ == "__main__":
    main()
