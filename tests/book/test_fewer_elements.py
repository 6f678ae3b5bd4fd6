"""Fewer elements for the renderer: the same words, broken into lines at the same places."""

from __future__ import annotations

import io
import re
from pathlib import Path

import pytest
from pypdf import PdfReader

from drawleaf.book.output import pdf
from drawleaf.book.output.fewer_elements import with_fewer_elements
from drawleaf.book.output.pdf import make_pdf
from drawleaf.resources import product_folder

NAMED = '<b>Back </b><span class="whole"><b>rail</b> <span class="balloon">4</span>:</span>'


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ('<span class="len">12\u00a0in</span>', "12\u00a0in"),
        ('<span class="len">1\u2009<span class="frac">3/4</span>\u00a0in</span>', '1\u2009\u2060<span class="frac">3/4</span>\u00a0in'),
        ('<span class="len">4<span class="slot"></span></span>', '4<span class="slot"></span>'),
        (NAMED, '<b>Back rail\u00a0</b><span class="balloon short">4</span>:'),
        ('<span class="whole"><b>Divider</b> <span class="balloon">2</span></span>', '<b>Divider\u00a0</b><span class="balloon short">2</span>'),
        ('<span class="whole"><a href="#a">7</a>–<a href="#b">9</a>,</span>', '<a href="#a">7</a>–\u2060<a href="#b">9</a>,'),
        ('<span class="whole"><a href="#a">7</a>, <a href="#b">8</a></span>', '<a href="#a">7</a>,\u00a0<a href="#b">8</a>'),
        ('<span class="need-part"><span class="balloon">6</span> Shelf × 2</span>', '<span class="balloon short">6</span> Shelf × 2'),
        ('<span class="balloon new">21</span>', '<span class="balloon new short">21</span>'),
    ],
)  # fmt: skip
def test_what_only_keeps_words_together_becomes_characters(before: str, after: str):
    assert with_fewer_elements(before) == after


@pytest.mark.parametrize(
    "kept",
    [
        '<span class="len">1 in <span class="second">(25 mm)</span></span>',
        '<b>Back </b><span class="whole"><strong>rail</strong> <span class="balloon short">4</span></span>',
        '<span class="soft">a word</span>',
        '<img alt="a 3 in hole" src="x">',
        '<span class="balloon">121</span>',
    ],
)
def test_what_has_a_look_of_its_own_stays(kept: str):
    assert with_fewer_elements(kept) == kept


def test_no_style_is_lost():
    """The classes whose elements go have one style on paper, that which their characters have now."""
    css = (product_folder("templates") / "css" / "print.css").read_text()
    assert ".len, .money, .whole { white-space: nowrap; }" in css
    assert not re.findall(
        r"\.(?:len|money|whole|need-part|step-title)\b(?!-)", css.replace(".len, .money, .whole {", "")
    )


def test_a_short_balloon_is_as_wide_as_it_was():
    """Every rule that gives a balloon its least width gives the short one just that width."""
    css = (product_folder("templates") / "css" / "print.css").read_text()
    least = re.findall(r"([^{}]*)span\.balloon \{[^}]*min-width: ([\d.]+mm)", re.sub(r"/\*.*?\*/", "", css, flags=re.S))
    short = re.findall(r"([^{}]*)span\.balloon\.short \{ width: ([\d.]+mm)", re.sub(r"/\*.*?\*/", "", css, flags=re.S))
    assert [(where.strip(), width) for where, width in least] == [(where.strip(), width) for where, width in short]
    assert len(short) == 3


SENTENCE = (
    '<span class="len">1\u2009<span class="frac">3/4</span>\u00a0in</span> from the <b>Back </b><span class="whole"><b>rail</b> <span class="balloon">4</span>:</span> '
    'steps <span class="whole"><a href="#s">17</a>–<a href="#s">19</a>,</span> <span class="whole"><a href="#s">21</a></span> and <span class="money">$4.50</span> each. '
)  # fmt: skip
STYLE = ".len,.money,.whole{white-space:nowrap} .balloon{display:inline-block;width:5mm} body{font:11pt 'Source Sans 3',sans-serif} p{margin:0 0 6pt}"


def paragraphs(html: str) -> list[list[str]]:
    text = "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(make_pdf(html))).pages)
    return [[" ".join(line.split()) for line in one.splitlines()] for one in text.split("END")]


def test_lines_end_where_they_ended(monkeypatch: pytest.MonkeyPatch):
    """At thirty widths, so that each of these words comes to stand at a line's end. One may differ: letters that stood in two elements are
    kerned in one, and a line that fitted by a hair no longer does."""
    words = "".join(f'<p style="width:{width}mm">{SENTENCE * 2}END</p>' for width in range(40, 70))
    html = (
        f"<html lang=en><head><title>t</title><style>{STYLE}</style></head><body><h1 id=s>S</h1>{words}</body></html>"
    )
    fewer = paragraphs(html)
    monkeypatch.setattr(pdf, "with_fewer_elements", lambda html: html)
    before = paragraphs(html)
    assert len(fewer) == len(before) == 31
    assert sum(one != other for one, other in zip(fewer, before, strict=True)) <= 1
    assert [len(one) for one in fewer] == [len(one) for one in before]


def test_an_authors_own_templates_find_every_element(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    own = tmp_path / "plan" / "templates" / "css"
    own.mkdir(parents=True)
    (own / "print.css").write_text(".len { color: red }")
    (tmp_path / "plan" / "plan.yaml").write_text("")

    def never(html: str) -> str:
        raise AssertionError(html)

    monkeypatch.setattr(pdf, "with_fewer_elements", never)
    make_pdf(
        "<html lang=en><head><title>t</title></head><body><p>Words.</p></body></html>", plan_folder=tmp_path / "plan"
    )
