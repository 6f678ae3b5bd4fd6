"""A small finished booklet: pages with text, links, bookmarks and tags, printed as booklets are."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from drawleaf.book.output.pdf import make_pdf

TITLES = ("Cover", "At a glance", "Tools", "Exploded view", "Step one", "Step two", "Templates")
PAGE = """<!DOCTYPE html><html lang="en-US"><head><meta charset="utf-8"><title>Peg box (PB-1, revision A)</title>
<meta name="author" content="R. Quill"><meta name="dcterms.created" content="2026-11-24">
<style>section {{ break-after: page }} @page {{ size: letter }}</style></head><body>{}</body></html>"""
SCREEN = "<!DOCTYPE html><html><head><title>Peg box</title></head><body><h1>Peg box</h1></body></html>"


def section(number: int, title: str) -> str:
    """A page that says a word of its own and points to the next page."""
    after = (number + 1) % len(TITLES)
    return (
        f'<section id="p{number}"><h1>{title}</h1><p>Secret{number:03} of page {number + 1}.</p>'
        f'<p><a href="#p{after}">On to {TITLES[after]}</a></p></section>'
    )


@cache
def pdf() -> bytes:
    return make_pdf(PAGE.format("".join(section(number, title) for number, title in enumerate(TITLES))))


def compiled_folder(folder: Path) -> Path:
    """A folder as compile writes it."""
    folder.mkdir()
    (folder / "peg-box.pdf").write_bytes(pdf())
    (folder / "peg-box.html").write_text(SCREEN, encoding="utf-8")
    return folder
