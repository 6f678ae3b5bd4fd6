"""Bars in the margin: a booklet compiled with an older revision marks what changed since, and says so in its history."""

from __future__ import annotations

import html
import re
from dataclasses import replace

import pytest
from tests.sell.boxes import BOX, changed, compiled
from tests.small_plans import outcome_from

from drawleaf.book.output.booklet import make_html
from drawleaf.draw.drawings import draw_all
from drawleaf.model.revised import Revised
from drawleaf.sell.marking import revised
from drawleaf.solids.build import build_solids

EDITS = (("{x: 8}", "{x: 7-1/2}"), ("8 x 1-1/2", "8 x 1-3/4"))


def marks(*edits: tuple[str, str]) -> Revised:
    return revised(compiled(), changed(*edits))


def test_what_changed_is_marked_and_nothing_else() -> None:
    found = marks(*EDITS)
    assert (found.since, found.parts, found.stocks) == ("A", {"box.front", "box.shelf"}, {"board"})
    assert found.hardware == {"wood screw 8 x 1-3/4"}
    assert found.line == (
        "Since revision A: changed: Front, Shelf; added: #8 x 1-3/4 in flat-head wood screw; dropped: #8 x 1-1/2 in flat-head wood screw."
    )


def test_only_words_changed() -> None:
    found = marks(("summary: A small open box for pegs.", "summary: A box."))
    assert not (found.parts | found.steps | found.stocks | found.hardware)
    assert found.line == "Since revision A: nothing of the piece."


@pytest.fixture(scope="module")
def page() -> str:
    text = BOX.replace("revision: A", "revision: B")
    for old, new in EDITS:
        text = text.replace(old, new)
    derived = outcome_from(text).derived
    assert derived is not None
    drawings = draw_all(derived, build_solids(derived.plan))
    return make_html(replace(derived, revised=marks(*EDITS)), drawings, for_print=True)


def test_the_page_has_its_bars(page: str) -> None:
    barred = re.findall(r'<(?:tr|section)[^>]*class="[^"]*revised[^"]*"[^>]*>', page)
    rows = sum('<tr id="cut-' in one for one in barred)
    assert rows == 2, "of four parts two changed"
    assert sum('class="part' in one for one in barred) + sum('<tr id="part-' in one for one in barred) == 2
    steps = re.findall(r'<section class="(step [^"]*)"', page)
    assert 0 < sum("revised" in one for one in steps) < len(steps)


def test_the_history_says_it_where_the_author_does_not(page: str) -> None:
    assert "Since revision A: changed: Front, Shelf" in html.unescape(page)
    assert "what changed since revision A" in page
