"""Plurals, lists, articles, first letters and numbers in words, as a workshop says them."""

from __future__ import annotations

import pytest
from markupsafe import Markup

from drawleaf.english import (
    capitalized,
    count_words,
    counted,
    counted_thing,
    definite,
    listed,
    lower_first,
    plural,
    with_article,
    with_articles,
)


@pytest.mark.parametrize(
    ("one", "many"),
    [
        ("slot", "slots"),
        ("shelf", "shelves"),
        ("Fixed shelf", "Fixed shelves"),
        ("Foot", "Feet"),
        ("dado", "dadoes"),
        ("brush", "brushes"),
        ("stop batch", "stop batches"),
        ("box of 50", "boxes of 50"),
        ("quart (946 ml)", "quarts (946 ml)"),
        ("pair of 12 in slides", "pairs of 12 in slides"),
        ("end assembly", "end assemblies"),
        ("tray", "trays"),
        ("half", "halves"),
        ("gusset", "gussets"),
        ("Door stile A", "Door stiles A"),
        ("Shelf B", "Shelves B"),
    ],
)
def test_plurals(one, many):
    assert plural(one) == many


def test_counts():
    assert counted(1, "sheet") == "1 sheet"
    assert counted(0, "sheet") == "0 sheets"
    assert counted(3, "caul", "long cauls", space="_") == "3_long cauls"


def test_lists():
    assert listed([]) == ""
    assert listed(["a"]) == "a"
    assert listed(iter("ab")) == "a and b"
    assert listed("abc", "or") == "a, b or c"
    assert listed("abcd", most=4) == "a, b, c and d"
    assert listed("abcde", most=3) == "a, b, c and 2 more"


@pytest.mark.parametrize(
    ("alone", "inside"),
    [
        ("Seat top", "seat top"),
        ("A pair of clamps", "a pair of clamps"),
        ("MDF panel", "MDF panel"),
        ("T-nut", "T-nut"),
        ("M6 bolt", "M6 bolt"),
        ("A-frame", "A-frame"),
        ("Danish oil", "Danish oil"),
        ("Forstner bit", "Forstner bit"),
        ("8 mm dowel", "8 mm dowel"),
        ("", ""),
    ],
)
def test_first_letters(alone, inside):
    assert lower_first(alone) == inside
    assert capitalized(inside) == alone


def test_markup_stays_markup():
    assert isinstance(lower_first(Markup("Top &amp; side")), Markup)
    assert isinstance(capitalized(Markup("top &amp; side")), Markup)


@pytest.mark.parametrize(
    "words",
    [
        "a sheet",
        "an offcut",
        "an 8 oz can",
        "an 18 mm hole",
        "an 11/16 in bit",
        "a 10 mm hole",
        "a 1-1/8 in bit",
        "an MDF panel",
        "a PVA glue",
        "an L-bracket",
        "a T-nut",
        "a unit",
        "a U-bolt",
        "a one-way screw",
    ],
)
def test_articles(words):
    assert with_article(words.split(" ", 1)[1]) == words


def test_numbers_in_words():
    assert [count_words(one) for one in (0, 1, 12, 20, 21, -1)] == ["no", "one", "twelve", "twenty", "21", "-1"]


@pytest.mark.parametrize(
    ("thing", "asked_for"),
    [
        ("table saw", "a table saw"),
        ("auger bit for the brace", "an auger bit for the brace"),
        ("pair of sawhorses", "a pair of sawhorses"),
        ("hand drill or brace", "a hand drill or brace"),
        ("drill press", "a drill press"),
        ("brad nailer, 18 gauge", "a brad nailer, 18 gauge"),
        ("bar clamps", "bar clamps"),
        ("cove and round-over bits with bearings", "cove and round-over bits with bearings"),
        ("pliers that cut wire", "pliers that cut wire"),
        ("hearing protection", "hearing protection"),
        ("a second pair of hands", "a second pair of hands"),
    ],
)
def test_a_thing_is_asked_for_with_its_article(thing: str, asked_for: str) -> None:
    assert counted_thing(thing) == asked_for


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("crate", "the crate"),
        ("crate 2", "crate 2"),
        ("bay 1 and bay 2", "bay 1 and bay 2"),
        ("bay 1 to bay 5", "bay 1 to bay 5"),
        ("case and bay 2", "the case and bay 2"),
        ("board 1x4", "the board 1x4"),
        ("rod 1/2", "the rod 1/2"),
    ],
)
def test_what_has_a_number_takes_no_article(name: str, told: str) -> None:
    """A number says already which one it is, in a pattern too."""
    assert definite(name) == told
    assert with_articles("Build the {} on the {}", (name, "base")).format(name, "base") == f"Build {told} on the base"
    assert isinstance(with_articles(Markup("the {}"), (name,)), Markup)
