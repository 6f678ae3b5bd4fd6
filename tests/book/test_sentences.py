"""Sentences of steps are short: the ceilings below only ever come down."""

from __future__ import annotations

import re
import sys
from functools import cache
from pathlib import Path

import pytest
from markupsafe import Markup
from tests.conftest import ROOT, outcome_of

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text

sys.path.append(str(ROOT / "bench"))
from pages import sentences, step_words, word_count

PLANS = ("boot-bench", "key-ledge", "record-cabinet", "step-stool", "tool-tote", "trestle-table")
LONGEST = 25
"""No sentence of an action has more words, in any plan. Twenty is the aim (ASD-STE100, rule for procedures, from memory)."""
LONG, LONG_SHARE = 20, 0.05
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


@pytest.mark.parametrize("file", sorted((ROOT / "templates" / "steps").glob("*.j2")), ids=lambda file: file.stem)
def test_no_branch_of_a_template_has_a_longer_one(file: Path) -> None:
    """Every line of every template, whatever plan takes it: what it fills in counts as one word."""
    lines = re.sub(r"\{#.*?#\}|\{%.*?%\}", " ", file.read_text(encoding="utf-8"), flags=re.DOTALL).splitlines()
    told = (line.partition(": ")[2] for line in lines if line.startswith(("do: ", "check: ", "if not: ")))
    long = [one for line in told for one in sentences(re.sub(r"\{\{.*?\}\}", "It", line)) if word_count(one) > LONGEST]
    assert long == []


def test_parts_of_a_sort_are_named_together() -> None:
    """Two that differ in a word in one phrase, and all legs as such: with each balloon once, in small letters."""
    said = " ".join(action for step in actions_of("step-stool") for action in step)
    words = re.sub(r"<[^>]+>", "", said).replace("\u00a0", " ")
    assert "the left and right front legs 1 2" in words
    assert "all four legs 1 2" in words
    assert not re.search(r"\b(?:the|both) (?!U|M)[A-Z]", words)


def test_few_sentences_have_more_than_twenty_words() -> None:
    counts = [
        word_count(one) for name in PLANS for step in actions_of(name) for action in step for one in sentences(action)
    ]
    assert sum(count > LONG for count in counts) / len(counts) <= LONG_SHARE


def test_a_figure_with_its_unit_is_one_word() -> None:
    assert word_count("Set the bit 3 1/2 in deep.") == 5
    assert sentences("Clamp it. Drill 2 holes: none elsewhere.") == ["Clamp it.", "Drill 2 holes: none elsewhere."]
