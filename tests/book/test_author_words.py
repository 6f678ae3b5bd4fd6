"""What an author says to himself stays with him: waivers, mends, how a figure is known. `check` tells it, the booklet does not."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

import pytest
from tests.conftest import PLANS, outcome_of

from drawleaf.book.output.booklet import make_html
from drawleaf.book.words.references import told
from drawleaf.checks.plain import report_line
from drawleaf.model.checks import CheckResult, Sentence, Verdict

WORKSHOP_TALK = (
    "from memory",
    "invented",
    "Invented",
    "Accepted by",
    "looked up again",
    "no source",
    "pulls the joint apart",
)
REMEDY = "Fasten it with screws through slots."
REASON = "Two inches of maple on plywood is daily practice."


def finding(**more) -> CheckResult:
    """A finding whose mend is a change of the plan."""
    words = Sentence("The rail moves by 0.04 in: it splits, or pulls the joint apart.")
    source = "Wood Handbook 13-2 (from memory); limits: common practice, no source"
    return replace(
        CheckResult("wood-movement", "Wood movement", Verdict.ADVICE, "Rail", (), (), Sentence("the limit"), source, words, Sentence(REMEDY), None),
        **more,
    )  # fmt: skip


@cache
def words_of(html: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", html))


@pytest.mark.parametrize("more", [{"waived": REASON}, {}], ids=["waived", "open"])
def test_a_finding_that_only_the_author_can_mend_stays_with_him(derived, drawings, plain_words, more) -> None:
    step = derived.steps[0].id
    one = finding(steps=(step,), **more)
    page = words_of(make_html(replace(derived, checks=(one,)), drawings, for_print=True))
    for talk in (*WORKSHOP_TALK, REMEDY, REASON):
        assert talk not in page
    assert "By the maker’s practice, not by this sum: Rail." in page
    assert "Wood Handbook 13-2" in page


def test_what_a_buyer_can_do_is_told_with_its_cause(derived, drawings, plain_words) -> None:
    one = finding(steps=(derived.steps[0].id,), words=Sentence("The gap closes."), at_step=Sentence("Plane it to fit."))
    page = words_of(make_html(replace(derived, checks=(one,)), drawings, for_print=True))
    assert page.count("The gap closes. Plane it to fit.") == 2


def test_check_tells_the_author_why_he_accepted_it(derived) -> None:
    assert report_line(finding(waived=REASON), derived.plan.lengths).endswith(f"Accepted: {REASON}")


@pytest.mark.parametrize(
    ("source", "words"),
    [
        ("NDS eq. 12.2-2 (read in a reprint); G 0.42: Table 12.3.3A (read in public code)", "NDS eq. 12.2-2; G 0.42: Table 12.3.3A"),
        ("the NIOSH lifting equation (1994), from memory", "the NIOSH lifting equation (1994)"),
        ("IEC 60335-1, 20.1 (for household appliances, from memory)", "IEC 60335-1, 20.1 (for household appliances)"),
        ("Eurocode 5 Table 3.2 (in dry rooms)", "Eurocode 5 Table 3.2 (in dry rooms)"),
    ],
)  # fmt: skip
def test_a_source_is_told_without_how_it_is_known(source: str, words: str) -> None:
    assert told(source) == words


@pytest.mark.parametrize("name", [*PLANS, "record-cabinet", "step-stool", "tool-tote", "trestle-table"])
def test_no_plan_prints_workshop_talk(name: str, drawings) -> None:
    derived = outcome_of(name).derived
    assert derived is not None
    page = words_of(make_html(derived, drawings, for_print=True))
    assert [talk for talk in WORKSHOP_TALK if talk in page] == []
    for result in derived.checks:
        assert not result.waived or result.waived not in page
