"""The sheet of corrections: what is on it, in what order, and in which color."""

from __future__ import annotations

import base64
import html
import re

from tests.sell.boxes import changed, compiled

from drawleaf.sell.comparing import compare
from drawleaf.sell.errata import errata_html
from drawleaf.sell.part_picture import ACCENT, GREY, picture

EDITS = (("deep: 12", "deep: 11"), ("8 x 1-1/2", "8 x 1-3/4"))


def sheet(*edits: tuple[str, str]) -> str:
    old, new = compiled(), changed(*edits)
    return errata_html(old, new, compare(old, new), for_print=True)


def test_what_is_for_safety_stands_before_all_else_and_says_so() -> None:
    page = sheet(*EDITS)
    assert (
        page.index("Safety first")
        < page.index("WARNING")
        < page.index("<h2>Parts</h2>")
        < page.index("<h2>Hardware</h2>")
    )


def test_old_and_new_figures_stand_beside_the_drawing_which_has_words_too() -> None:
    page = html.unescape(sheet(*EDITS))
    assert "Length 11 in (it was 12 in)." in page
    assert "Trim 1 in off its back side." in page
    alts = re.findall(r'<img src="data:image/svg\+xml;base64,[^"]+" alt="([^"]+)"', page)
    assert alts
    assert all("Length 11 in" in alt for alt in alts)


def test_the_old_is_grey_and_the_new_in_the_accent_and_both_are_as_long_as_they_are() -> None:
    """Twelve inches drawn in grey, eleven in the accent, in one scale."""
    change = next(one for one in compare(compiled(), changed(EDITS[0])) if "Left side" in one.name)
    svg = picture(change.old, change.new, change.verdict)
    wide = {
        color: max(float(width) for tag in re.findall(r"<rect[^>]*>", svg) if f'stroke="{color}"' in tag
                   for width in re.findall(r' width="([\d.]+)"', tag))
        for color in (GREY, ACCENT)
    }  # fmt: skip
    assert round(wide[ACCENT] / wide[GREY], 2) == round(11 / 12, 2)


def test_names_of_an_authors_are_escaped() -> None:
    page = sheet(("name: Front", "name: 'Front <b>& co'"), ("deep: 12", "deep: 11"))
    assert "<b>&amp;" not in page
    assert "Front &lt;b&gt;&amp; co" in page


def test_a_sheet_for_a_screen_stands_by_itself() -> None:
    old, new = compiled(), changed(*EDITS)
    page = errata_html(old, new, compare(old, new), for_print=False)
    assert "file:" not in page
    assert all(address.startswith("data:") for address in re.findall(r'src="([^"]+)"', page))
    svg = base64.b64decode(re.findall(r"svg\+xml;base64,([^\"]+)", page)[0]).decode()
    assert svg.startswith("<svg")
