"""Sizes in names stand on the page as all other sizes do: true fractions, never ``1-1/4`` or an ``x``."""

from __future__ import annotations

import re

import pytest
from tests.conftest import PLANS, ROOT, drawn

from drawleaf.book.output.booklet import make_html
from drawleaf.book.output.figures_in_names import with_figures_set


@pytest.mark.parametrize(
    ("written", "printed"),
    [
        (
            "<b>#8 x 1-1/4 in screw</b>",
            '<b>#8 × <span class="len">1\u2009<span class="frac">1/4</span></span> in screw</b>',
        ),
        ("12 x 150 mm peg", "12 × 150 mm peg"),
        ("18 gauge x 2 in brad", "18 gauge × 2 in brad"),
        ("Birch plywood, 3/4, 4 x 8 ft", 'Birch plywood, <span class="frac">3/4</span>, 4 × 8 ft'),
    ],
)
def test_a_size_in_a_name_is_set_as_a_size(written: str, printed: str):
    assert with_figures_set(written) == printed


@pytest.mark.parametrize(
    "kept",
    [
        '<span class="frac">3/4</span>',
        '<a href="a/1/4">28/32</a>',
        "<svg><text>1-1/4 x 2</text></svg>",
        "<script>a = 1/2</script>",
        "from 1x4, 2026-11-25, and/or 3/5",
    ],
)
def test_what_is_no_size_or_is_set_already_stays(kept: str):
    assert with_figures_set(kept) == kept


@pytest.mark.parametrize("for_print", [True, False])
def test_no_page_has_a_fraction_of_plain_letters_or_an_x_for_times(for_print: bool):
    for name in PLANS:
        html = make_html(*drawn(name), for_print=for_print, plan_folder=ROOT / "plans" / name)
        bare = re.sub(r"<(style|script|svg|title)\b.*?</\1>", "", html, flags=re.DOTALL)
        bare = re.sub(r'<span class="frac[^"]*">[^<]*</span>', "", bare)
        words = re.sub(r"<[^>]*>", " ", bare)
        assert re.findall(r".{20}\d[- ]\d+/\d+ in.{5}|.{20}\d x \d.{5}", words) == []
