"""What of the rest of a booklet is found inside a sample of it: an oracle that knows nothing of how samples are cut."""

from __future__ import annotations

import io
import re

import pikepdf
from pypdf import PdfReader

LONG = 25
"""A line of text of fewer letters may stand on many pages."""


def leaks_of_pdf(pdf: bytes, sample: bytes) -> list[str]:
    """Longer lines of text of other pages, and words for their pictures, that stand anywhere in the sample."""
    whole, part = PdfReader(io.BytesIO(pdf)), PdfReader(io.BytesIO(sample))
    kept = {int(label) for label in part.page_labels}
    shown = "\n".join(page.extract_text() for page in part.pages)
    with pikepdf.open(io.BytesIO(sample)) as document:
        inside = "\n".join([shown, *(repr(one) for one in document.objects)])
    with pikepdf.open(io.BytesIO(pdf)) as document:
        own = {page.obj.objgen for at, page in enumerate(document.pages, start=1) if at in kept}
        told = [
            (one.Pg.objgen in own, str(one.Alt))
            for one in document.objects
            if isinstance(one, pikepdf.Dictionary) and "/Alt" in one and "/Pg" in one
        ]
    # The words for the sample's own pictures name parts too, as lists on other pages do.
    shown += "".join(f"\n{alt}" for kept_page, alt in told if kept_page)
    alts = {alt for kept_page, alt in told if not kept_page and alt not in shown}
    lines = {
        line
        for number, page in enumerate(whole.pages, start=1)
        if number not in kept
        for line in page.extract_text().splitlines()
        if len(line) > LONG and re.search(r"[a-z]{4}", line) and line not in shown
    }
    return sorted(words for words in (*lines, *alts) if words in inside)


def leaks_of_page(page: str, sample: str) -> list[str]:
    """Longer words, lines of drawings and bodies of other screens that stand anywhere in the sample.

    What the sample's own screens have as well, as the whole edition shows them, is theirs.
    """
    screens = re.split(r'(?=<section class="[^"]*\bscreen\b)', page.partition("</main>")[0])
    kept = [screen for screen in screens[1:] if (found := re.search(r'\bid="[^"]+"', screen)) and found[0] in sample]
    own = screens[0] + "".join(kept)
    others = "".join(screen for screen in screens[1:] if screen not in kept)
    words = {text.strip() for text in re.findall(r">([^<>]+)<", others) if len(text.strip()) > LONG}
    drawn = {line for line in re.findall(r'\b(?:d|points)="([^"]+)"', others) if len(line) > LONG}
    spoken = {
        line for line in re.findall(r'\b(?:aria-label|alt|title|id|data-drawing)="([^"]+)"', others) if len(line) > 5
    }
    return sorted(one for one in words | drawn | spoken if one not in own and one in sample)
