"""The printed page: breaks, margins, sizes of type, references."""

from __future__ import annotations

import io
import re
from collections import defaultdict
from collections.abc import Iterator
from functools import cache
from typing import Any

import pytest
from pypdf import PdfReader
from tests.conftest import printed_pdf

from drawleaf.book.output.booklet import make_html
from drawleaf.units import Units

CSS_MM = 96 / 25.4
CSS_POINT = 96 / 72


@pytest.fixture
def html(derived, drawings, plain_words) -> str:
    return make_html(derived, drawings, for_print=True)


def boxes(box: Any) -> Iterator[Any]:
    yield box
    for child in getattr(box, "children", ()):
        yield from boxes(child)


@cache
def laid_out(html: str) -> list[Any]:
    """The pages as boxes, before they are painted."""
    import weasyprint

    from drawleaf.book.output.pdf import _fetcher

    return [page._page_box for page in weasyprint.HTML(string=html, url_fetcher=_fetcher(None)).render().pages]


def test_every_reference_leads_somewhere(html: str):
    anchors = set(re.findall(r' id="([^"]+)"', html))
    references = set(re.findall(r'href="#([^"]+)"', html))
    assert references
    assert references <= anchors


def test_ids_are_unique(html: str):
    ids = re.findall(r' id="([^"]+)"', html)
    assert len(ids) == len(set(ids))


def test_a_step_stands_on_one_page_and_tables_keep_their_rows(html: str):
    pages_of: dict[int, set[int]] = defaultdict(set)
    for number, page in enumerate(laid_out(html)):
        for box in boxes(page):
            element = box.element
            is_step = element is not None and (element.get("class") or "").startswith("step screen")
            if is_step or box.element_tag == "tr":
                pages_of[id(element)].add(number)
    assert len(pages_of) > 20
    assert all(len(pages) == 1 for pages in pages_of.values())


def test_no_visible_type_is_under_eight_points(html: str):
    sizes = set()
    for page in laid_out(html):
        for box in boxes(page):
            text = getattr(box, "text", "").strip() if type(box).__name__ == "TextBox" else ""
            unseen = box.element is not None and box.element.get("class") == "unseen"
            if text and not unseen and box.style["visibility"] == "visible":
                sizes.add(round(box.style["font_size"] / CSS_POINT, 2))
    assert min(sizes) >= 8
    assert 11.5 in sizes


@pytest.mark.parametrize(("paper", "width", "height"), [("letter", 215.9, 279.4), ("a4", 210, 297)])
def test_both_papers_keep_the_binding_edge_free(
    derive_stool, drawings, plain_words, paper: str, width: float, height: float
):
    pages = laid_out(make_html(derive_stool(Units.MM, paper), drawings, for_print=True))
    for page in pages:
        assert page.margin_width() == pytest.approx(width * CSS_MM, abs=0.5)
        assert page.margin_height() == pytest.approx(height * CSS_MM, abs=0.5)
    lefts = [box.content_box_x() for page in pages for box in boxes(page) if type(box).__name__ == "TextBox" and box.style["visibility"] == "visible"]  # fmt: skip
    assert min(lefts) >= 20 / 25.4 * 96 - 1


def test_contents_name_the_page_on_which_each_chapter_stands(html: str):
    reader = PdfReader(io.BytesIO(printed_pdf(html)[0]))
    listed = reader.pages[2].extract_text()
    found = {
        entry.title: reader.get_destination_page_number(entry) + 1
        for entry in reader.outline
        if not isinstance(entry, list)
    }  # type: ignore[union-attr]
    for title, page in list(found.items())[3:]:
        line = next(line for line in listed.splitlines() if line.startswith(title))
        assert re.search(r"(\d+)$", line)[1] == str(page)  # type: ignore[index]


def test_a_caution_is_printed_in_full_once_then_short(html: str):
    assert html.count('id="caution-kickback"') == 1
    assert html.count("Use the riving knife.") == 1
    assert html.count("Kickback: riving knife on, stand aside.") == 1, "the third step is of the second's stage"
    assert html.index("Use the riving knife.") < html.index("Kickback: riving knife on")


def test_the_graver_caution_comes_first(html: str):
    step = html[html.index('id="step-cut-case"') :]
    assert step.index("The saw can throw") < step.index("Wood dust harms") < step.index("Drive the screws")


def test_what_the_plan_says_is_never_markup(html: str):
    assert "A seat &amp; two legs" in html
    assert "<b>pages</b>" not in html
    assert "<em>testing</em>" in html
