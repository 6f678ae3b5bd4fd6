"""The printed page: breaks, margins, sizes of type, references."""

from __future__ import annotations

import io
import re
from collections import defaultdict

import pytest
from pypdf import PdfReader
from tests.conftest import ROOT
from tests.laid_pages import LaidPage, laid_out, printed

from drawleaf.book.output.booklet import make_html
from drawleaf.units import Units

CSS_MM = 96 / 25.4
CSS_POINT = 96 / 72
STYLE = (ROOT / "templates" / "css" / "print.css").read_text(encoding="utf-8")


@pytest.fixture
def html(derived, drawings, plain_words) -> str:
    return make_html(derived, drawings, for_print=True)


def test_every_reference_leads_somewhere(html: str):
    anchors = set(re.findall(r' id="([^"]+)"', html))
    references = set(re.findall(r'href="#([^"]+)"', html))
    assert references
    assert references <= anchors


def test_ids_are_unique(html: str):
    ids = re.findall(r' id="([^"]+)"', html)
    assert len(ids) == len(set(ids))


def test_a_step_stands_on_one_page_and_tables_keep_their_rows(html: str):
    pages_of: dict[int | None, set[int]] = defaultdict(set)
    for number, page in enumerate(printed(html).pages):
        for box in page.box.all():
            if box.classes[:2] == ["step", "screen"] or box.tag == "tr":
                pages_of[box.element].add(number)
    assert len(pages_of) > 20
    assert all(len(pages) == 1 for pages in pages_of.values())


def test_no_visible_type_is_under_eight_points(html: str):
    sizes = {
        round(box.font_size / CSS_POINT, 2)
        for page in printed(html).pages
        for box in page.box.all()
        if box.text.strip() and box.classes != ["unseen"] and box.visible
    }
    assert min(sizes) >= 8
    assert 11.5 in sizes


def is_bound(pages: tuple[LaidPage, ...], width: float, height: float) -> None:
    """Pages of that size in mm, with no word in the 20 mm of the binding edge."""
    for page in pages:
        assert page.width == pytest.approx(width * CSS_MM, abs=0.5)
        assert page.height == pytest.approx(height * CSS_MM, abs=0.5)
    assert min(page.text_from for page in pages if page.text_from) >= 20 / 25.4 * 96 - 1


def test_letter_keeps_the_binding_edge_free(html: str):
    is_bound(printed(html).pages, 215.9, 279.4)


def test_a4_keeps_the_binding_edge_free(derive_stool, drawings, plain_words):
    is_bound(laid_out(make_html(derive_stool(Units.MM, "a4"), drawings, for_print=True)), 210, 297)


def test_contents_name_the_page_on_which_each_chapter_stands(html: str):
    reader = PdfReader(io.BytesIO(printed(html).pdf))
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


def test_the_printed_page_has_at_most_seven_sizes_of_type():
    """What is hidden, at 1 pt, is not seen; nothing that is seen is under 8 pt."""
    sizes = {float(one) for one in re.findall(r"font-size: ([\d.]+)pt", STYLE)} - {1.0}
    assert len(sizes) <= 7
    assert min(sizes) >= 8.0


def test_cautions_are_not_smaller_than_actions():
    sizes = dict(re.findall(r"^\.(panel|reminder|actions) \{[^}]*?font-size: ([\d.]+)pt", STYLE, re.MULTILINE))
    assert sorted(sizes) == ["actions", "panel", "reminder"]
    assert min(float(sizes["panel"]), float(sizes["reminder"])) >= float(sizes["actions"])
    assert ".tight-step .panel" in STYLE
    assert re.findall(r"tight-step \.(?:panel|reminder)[^}]*font-size", STYLE) == []
