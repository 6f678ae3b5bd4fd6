"""Our words in each English: by the lists, capitals kept, nothing of an author's touched."""

from __future__ import annotations

import ast
import re
from dataclasses import replace
from pathlib import Path

import pytest
from markupsafe import Markup
from tests.book.english_pairs import of_the_other

from drawleaf.language import BASE, Words, usual_language
from drawleaf.language.pairs import forms, pairs
from drawleaf.resources import product_folder
from drawleaf.source.library import load_library
from drawleaf.source.library_words import in_language
from drawleaf.units import Units

BRITISH = Words("en-GB")
CHECKS = Path(__file__).resolve().parents[2] / "src" / "drawleaf" / "checks"


@pytest.mark.parametrize(
    ("american", "british"),
    [
        ("Cut the rabbets along the {}", "Cut the rebates along the {}"),
        ("Lumber yard", "Timber yard"),
        ("DADO", "HOUSING"),
        ("a dado set and the miter gauge", "a grooving head and the mitre gauge"),
        ("Cut the angled dado in the {into}", "Cut the sloping housing in the {into}"),
        ("an angled dado", "a sloping housing"),
        ("have the store make the long cuts", "have the shop make the long cuts"),
        ("before you leave the shop", "before you leave the workshop"),
        ("home center", "builders' merchant"),
        ("{center} of the sled", "{center} of the sled"),
        ("The story stick, the level and the clamps stay", "The story stick, the level and the clamps stay"),
        ("a moisture meter on a meter of wood", "a moisture meter on a metre of wood"),
    ],
)
def test_a_sentence_of_ours_in_british_english(american: str, british: str) -> None:
    assert BRITISH.put(american) == british
    assert Words(BASE).put(american) == american


@pytest.mark.parametrize(
    ("written", "inch", "metric"),
    [
        ("no deeper than about 1/4 in (6 mm).", "no deeper than about 1/4 in.", "no deeper than about 6 mm."),
        ("Good brush, 2 in (50 mm)", "Good brush, 2 in", "Good brush, 50 mm"),
        ("1 x 1-3/4 x 3/4 in (25 x 45 x 19 mm).", "1 x 1-3/4 x 3/4 in.", "25 x 45 x 19 mm."),
        ("96 mm (3-25/32 in) apart", "3-25/32 in apart", "96 mm apart"),
        ("about 75 lb (35 kg); the packet says", "about 75 lb; the packet says", "about 35 kg; the packet says"),
        ("FFP2 (EN 149), in (see page 6)", "FFP2 (EN 149), in (see page 6)", "FFP2 (EN 149), in (see page 6)"),
    ],
)
def test_a_measure_in_both_systems_reads_in_the_booklets_own(written: str, inch: str, metric: str) -> None:
    assert Words(BASE, Units.INCH).put(written) == inch
    assert Words(BASE, Units.MM).put(written) == metric
    assert Words("en-GB", Units.MM).put(written) == metric
    assert Words(BASE, Units.BOTH).put(written) == written


@pytest.mark.parametrize(("units", "other"), [(Units.INCH, " mm"), (Units.MM, " in ")])
def test_no_caution_tool_or_note_of_ours_has_the_other_system_in_brackets(units: Units, other: str) -> None:
    library, _ = load_library([product_folder("shared")])
    known = in_language(library, Words(BASE, units))
    texts = [line for one in known.cautions.values() for line in (*one.avoid, one.short)]
    texts += [one.name for one in known.tools.values()] + [one.note for one in known.hardware.values()]
    assert any("router" in text for text in texts)
    assert not [text for text in texts if re.search(r"\d" + other + r".*\)|\(\d[^)]*" + other.strip() + r"\)", text)]


def test_what_is_filled_in_stays_as_its_author_wrote_it() -> None:
    assert BRITISH.tell("Trim the {} flush with the molding", "Center molding") == (
        "Trim the Center molding flush with the moulding"
    )


def test_of_html_only_the_words_are_put_into_a_language() -> None:
    html = Markup('<a class="center" title="gray side">color <b>gray</b></a>')
    assert BRITISH.put(html) == Markup('<a class="center" title="grey side">colour <b>grey</b></a>')
    assert isinstance(BRITISH.tell(Markup("<i>{}</i>"), "<"), Markup)
    assert BRITISH.tell(Markup("<i>{}</i>"), "<") == Markup("<i>&lt;</i>")


def test_the_two_lists_have_the_same_words_in_the_same_forms() -> None:
    ours, theirs = forms(BASE), forms("en-GB")
    assert ours.keys() == theirs.keys()
    assert {key: len(words) for key, words in ours.items()} == {key: len(words) for key, words in theirs.items()}
    assert len(ours) >= 120


def test_no_british_word_of_the_lists_would_be_changed_once_more() -> None:
    """Text that is British already comes through as it is, but for words that mean another thing on the other side."""
    changed = {word for word in pairs().values() if BRITISH.put(word) != word}
    assert {word for word in changed if not re.search(r"\bshops?\b", word)} == set()


def test_inches_are_told_in_american_and_millimetres_in_british_english() -> None:
    assert [usual_language(units) for units in (Units.INCH, Units.BOTH, Units.MM)] == ["en-US", "en-US", "en-GB"]


class Heard(Words):
    """Notes every text that it is asked to put into a language, and leaves it as it is."""

    def put(self, text):
        HEARD.add(str(text))
        return text


HEARD: set[str] = set()


def sentences_of_checks() -> list[str]:
    """The first argument of each call of ``sentence``."""
    trees = [ast.parse(file.read_text(encoding="utf-8")) for file in sorted(CHECKS.glob("*.py"))]
    calls = [node for tree in trees for node in ast.walk(tree) if isinstance(node, ast.Call)]
    named = [call.args[0] for call in calls if isinstance(call.func, ast.Name) and call.func.id == "sentence"]
    return [one.value for one in named if isinstance(one, ast.Constant)]


def test_what_shared_and_the_checks_say_is_all_in_the_one_english_or_the_other() -> None:
    """Whether or not an example plan comes to print it."""
    library, _ = load_library([product_folder("shared")])
    in_language(replace(library), Heard("en-GB"))  # another test may have had it put into British English
    ours = {*HEARD, *sentences_of_checks()}
    assert len(ours) > 800
    british, american = of_the_other("en-US"), of_the_other("en-GB")
    assert [text for text in ours if british.search(text)] == []
    assert [text for text in map(BRITISH.put, ours) if american.search(text)] == []
