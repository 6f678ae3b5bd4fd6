"""Sentences of steps are short: the ceilings below only ever come down."""

from __future__ import annotations

import sys
from functools import cache

import pytest
from markupsafe import Markup
from tests.conftest import ROOT, outcome_of

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text

sys.path.append(str(ROOT / "bench"))
from pages import sentences, step_words, word_count

PLANS = ("boot-bench", "key-ledge", "record-cabinet", "step-stool", "tool-tote", "trestle-table")
LONGEST = 50
"""No sentence of an action has more words, in any plan. Twenty is the aim (ASD-STE100, rule for procedures, from memory)."""
LONG, LONG_SHARE = 20, 0.13
"""No larger share of the sentences of all plans has more than twenty words."""
PER_ACTION = 28.0
"""No plan has more words to an action, on average."""


@cache
def actions_of(name: str) -> tuple[tuple[Markup, ...], ...]:
    outcome = outcome_of(name)
    derived = outcome.derived
    assert derived is not None, outcome.diagnostics
    fmt = Formatter.of(derived.plan)
    return tuple(step_text(step, derived, fmt, ROOT / "plans" / name).actions for step in derived.steps)


@pytest.mark.parametrize("name", PLANS)
def test_no_sentence_is_longer_than_the_ceiling(name: str) -> None:
    long = [
        one for step in actions_of(name) for action in step for one in sentences(action) if word_count(one) > LONGEST
    ]
    assert long == []
    assert step_words(actions_of(name))["words_per_action"] <= PER_ACTION


def test_few_sentences_have_more_than_twenty_words() -> None:
    counts = [
        word_count(one) for name in PLANS for step in actions_of(name) for action in step for one in sentences(action)
    ]
    assert sum(count > LONG for count in counts) / len(counts) <= LONG_SHARE


def test_a_figure_with_its_unit_is_one_word() -> None:
    assert word_count("Set the bit 3 1/2 in deep.") == 5
    assert sentences("Clamp it. Drill 2 holes: none elsewhere.") == ["Clamp it.", "Drill 2 holes: none elsewhere."]
