"""The tablet edition: one file, nothing from outside, no script but its own."""

from __future__ import annotations

import base64
import hashlib
import re
from dataclasses import replace
from xml.etree import ElementTree

import pytest

from drawleaf.book.output.booklet import make_html
from drawleaf.book.page.figures import picture_for_screen
from tiny_pictures import png


@pytest.fixture
def html(derived, drawings, plain_words) -> str:
    return make_html(derived, drawings, for_print=False)


def test_policy_allows_its_own_scripts_by_their_hashes(html: str):
    policy = re.search(r'Content-Security-Policy" content="([^"]+)"', html)
    scripts = re.findall(r"<script[^>]*>(.*?)</script>", html, re.DOTALL)
    assert policy
    assert len(scripts) >= 4
    allowed = policy[1].replace("&#39;", "'").split("script-src ")[1].split(";")[0].split()
    digests = [base64.b64encode(hashlib.sha256(script.encode()).digest()).decode() for script in scripts]
    assert sorted(allowed) == sorted(f"'sha256-{digest}'" for digest in digests)
    assert "default-src 'none'" in policy[1]
    assert not re.search(r"\son\w+=", html)


def test_styles_are_allowed_by_their_hash_alone(html: str):
    policy = re.search(r'Content-Security-Policy" content="([^"]+)"', html)
    styles = re.findall(r"<style[^>]*>(.*?)</style>", html, re.DOTALL)
    assert policy
    assert "unsafe-inline" not in policy[1]
    for style in styles:
        digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
        assert f"'sha256-{digest}'" in policy[1].split("style-src ")[1].split(";")[0]
    assert not re.search(r"\sstyle=\"", html)


def test_it_fetches_nothing(html: str):
    sources = re.findall(r'\b(?:src|srcset|action|poster)="([^"]*)"', html) + re.findall(r"url\(['\"]?([^'\")]+)", html)
    assert sources
    assert all(source.startswith(("data:", "#")) for source in sources)
    assert "<link" not in html
    assert "@import" not in html
    assert set(re.findall(r"https?://[^\s\"'<)]+", html)) <= {
        "http://www.w3.org/2000/svg",
        "http://www.w3.org/1999/xlink",
    }


def test_fonts_are_inside_for_upright_and_italic(html: str):
    assert html.count("data:font/woff2;base64,") == 2


def test_every_tick_has_a_key_of_its_own(html: str):
    keys = re.findall(r'data-tick="([^"]+)"', html)
    assert len(keys) > 5
    assert len(keys) == len(set(keys))
    assert 'data-booklet="T-01:B"' in html


def test_each_step_and_each_chapter_is_a_screen(html: str):
    screens = re.findall(r'<section class="[^"]*\bscreen"? ?[^>]*id="([^"]+)"', html)
    assert {"cover", "contents", "cut_list", "step-cut-case", "step-assemble", "step-trim"} <= set(screens)
    assert "steps" not in screens


def test_references_lead_somewhere_and_names_are_unique(html: str):
    ids = re.findall(r'\bid="([^"]+)"', html)
    assert len(ids) == len(set(ids))
    assert set(re.findall(r'href="#([^"]+)"', html)) <= set(ids)


def test_a_drawing_keeps_its_words_and_what_it_shows(drawings):
    root = ElementTree.fromstring(picture_for_screen(drawings.cover))
    of_the_file = ElementTree.fromstring(drawings.cover.svg)
    assert root.attrib == {
        "aria-label": "Drawing “cover” of the stool",
        "class": "drawing upto-150",
        "data-drawing": "cover",
        "data-width": "150",
        "role": "img",
        "viewBox": of_the_file.attrib["viewBox"],
    }
    assert [(one.tag, one.attrib, one.text) for one in root.iter()][1:] == [
        (one.tag, one.attrib, one.text) for one in of_the_file.iter()
    ][1:]


def test_same_plan_same_html(derived, drawings, html: str):
    assert make_html(derived, drawings, for_print=False) == html


def test_the_cover_shows_the_picture_beside_the_plan(derived, drawings, plain_words, tmp_path) -> None:
    """Its bytes stand in the page, with the drawing's words for those who cannot see it; on paper and on the screen."""
    (tmp_path / "a.png").write_bytes(png())
    about = replace(derived.plan.about, picture="a.png")
    shown = replace(derived, plan=replace(derived.plan, about=about))
    for for_print in (True, False):
        page = make_html(shown, drawings, for_print=for_print, plan_folder=tmp_path)
        cover = page.split('class="stage"', 1)[1].split("</div>", 1)[0]
        assert 'class="photo" src="data:image/png;base64,' in cover
        assert drawings.cover.alt in cover
