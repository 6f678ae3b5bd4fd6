"""The numbers of pages that links name: true, set after one layout, as wide as what was laid out."""

from __future__ import annotations

import io
from collections.abc import Callable
from typing import Any

import pytest
from pypdf import PdfReader

from drawleaf.book.output import page_numbers
from drawleaf.book.output.pdf import laid_out, make_pdf
from drawleaf.resources import product_folder

NUMBERED = (
    "@page{size:120mm 80mm;margin:10mm} body{margin:0;font:10pt sans-serif;font-variant-numeric:tabular-nums} .chapter{break-before:page}"
    "a.page::after{content:target-counter(attr(href url),page)} a.page[data-page]::after{content:attr(data-page)}"
)


def booklet(chapters: int, *, of_pages: dict[int, int] | None = None) -> str:
    """A first page with a link to each chapter's page; chapters are a page long, but for those that run over more."""
    links = "".join(f'<p>{n}: page <a class="page" href="#c{n}"></a>.</p>' for n in range(2, chapters + 1))
    pages = "".join(
        f'<section class="chapter" id="c{n}">{"<p>Words.</p><div style=break-before:page></div>" * ((of_pages or {}).get(n, 1) - 1)}<p>End {n}.</p>'
        f'<p>See page <a class="page" href="#c2"></a>!</p></section>'
        for n in range(2, chapters + 1)
    )
    style = f"<style>{NUMBERED} nav{{columns:3;font-size:5pt}} p{{margin:0}}</style>"
    return f"<html lang=en><head><title>t</title>{style}</head><body><div>{links}</div>{pages}</body></html>"


@pytest.fixture
def layouts(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """The number of pages of each layout, one after the other."""
    import weasyprint

    made: list[int] = []
    render = weasyprint.HTML.render

    def kept(self: Any, *arguments: Any, **options: Any) -> Any:
        document = render(self, *arguments, **options)
        made.append(len(document.pages))
        return document

    monkeypatch.setattr(weasyprint.HTML, "render", kept)
    return made


def told(html: str) -> dict[str, int]:
    text = " ".join(page.extract_text() for page in PdfReader(io.BytesIO(make_pdf(html))).pages)
    words = text.split()
    return {
        words[at - 2].strip(":"): int(words[at].strip("."))
        for at in range(2, len(words))
        if words[at - 1] == "page" and words[at].endswith(".")
    }


def where(html: str) -> dict[str, int]:
    pages = [page.extract_text() for page in PdfReader(io.BytesIO(make_pdf(html))).pages]
    return {str(n): at for at, text in enumerate(pages, start=1) for n in range(2, 40) if f"End {n}." in text}


def test_every_number_is_that_of_its_page(layouts: list[int]):
    html = booklet(22)
    assert told(html) == where(html)
    assert len(layouts) == 2  # one for each PDF made here


def test_where_another_count_of_digits_comes_out_the_pages_are_laid_out_again(layouts: list[int]):
    """A chapter that is far longer than its words: those that follow stand beyond page 9, which nothing in the page says."""
    html = booklet(7, of_pages={2: 9})
    numbers = told(html)
    assert len(layouts) == 2
    assert (numbers["2"], numbers["3"], numbers["7"]) == (2, 11, 15)


def test_where_a_page_about_the_tenth_is_the_ninth_the_line_closes_up(layouts: list[int]):
    """Room for two digits is kept for chapters from the eighth on; the words after the number stand as they would after one digit."""
    html = booklet(9)
    assert told(html) == where(html)
    assert len(layouts) == 2
    document = laid_out(html, None)
    ends = {}
    for box in document.pages[0]._page_box.descendants():
        if getattr(box, "text", "") == ".":
            ends[box.position_x] = ends.get(box.position_x, 0) + 1
    assert list(ends.values()) == [8]


def lost(*_: object) -> float:
    return 0.0


def unknown(*_: object) -> float:
    raise AttributeError("pango_layout")


@pytest.mark.parametrize("place", [lost, unknown])
def test_where_the_boxes_are_others_the_style_sheet_sets_the_numbers(
    place: Callable[..., float], layouts: list[int], monkeypatch: pytest.MonkeyPatch
):
    """Another release of the renderer may have other boxes: no page then tells of page 00."""
    html = booklet(4)
    numbers = where(html)
    monkeypatch.setattr(page_numbers, "_narrower", place)
    assert told(html) == numbers
    assert len(layouts) == 3  # the last one by target-counter


def test_room_is_kept_for_as_many_digits_as_may_come():
    import tinyhtml5

    digits = page_numbers._expected(tinyhtml5.parse(booklet(20), namespace_html_elements=False))
    assert [digits[f"c{n}"] for n in (2, 7, 9, 10, 20)] == [1, 1, 2, 2, 2]


def test_the_style_sheet_asks_for_the_attribute():
    """Without it every page with a number of a page would be laid out twice, and nobody would notice."""
    assert (
        "a.page[data-page]::after { content: attr(data-page); }"
        in (product_folder("templates") / "css" / "print.css").read_text()
    )
