"""Each rule of the trade is kept by one plan and broken by another, and drawleaf tells the two apart."""

from __future__ import annotations

from collections import Counter

import pytest
from tests.conftest import ROOT
from tests.small_plans import outcome_from
from tests.trade import rules, rules_of_work
from tests.trade.rule import CUSTOM, Rule

RULES = (*rules.RULES, *rules_of_work.RULES)
PAGE = ROOT / "docs" / "checks.md"
START, END = "<!-- rules: made by tests/trade/test_rules.py -->", "<!-- end of rules -->"
EACH = pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)


@EACH
def test_the_plan_that_keeps_it_is_not_told(rule: Rule) -> None:
    outcome = outcome_from(rule.kept())
    assert rule.told not in {one.code for one in outcome.diagnostics}, outcome.diagnostics
    assert not [one for one in outcome.diagnostics if one.is_error], "it is a sound plan"


@EACH
def test_the_plan_that_breaks_it_is_told(rule: Rule) -> None:
    outcome = outcome_from(rule.broken())
    assert rule.told in {one.code for one in outcome.diagnostics}, [
        (one.code, one.message) for one in outcome.diagnostics
    ]


def test_each_rule_has_its_name_its_words_and_its_source() -> None:
    assert [name for name, times in Counter(rule.name for rule in RULES).items() if times > 1] == []
    assert all(rule.words.endswith(".") and rule.source for rule in RULES)
    assert all(rule.source == CUSTOM or "from memory" in rule.source or "read" in rule.source for rule in RULES)
    assert len(RULES) >= 60


def listed() -> str:
    rows = [
        f"{len(RULES)} rules. A rule without another source is common practice.\n",
        "| Rule | In words | Told by | Source |",
        "|---|---|---|---|",
    ]
    rows += [
        f"| {rule.name[:1].upper()}{rule.name[1:]} | {rule.words} | `{rule.told}` | {rule.source} |" for rule in RULES
    ]
    return "\n".join(rows)


def test_the_page_lists_them(request: pytest.FixtureRequest) -> None:
    """``docs/checks.md`` is written anew with ``--golden``."""
    page = PAGE.read_text(encoding="utf-8")
    before, rest = page.split(START)
    _, after = rest.split(END)
    wanted = f"{before}{START}\n\n{listed()}\n\n{END}{after}"
    if request.config.getoption("--golden"):
        PAGE.write_text(wanted, encoding="utf-8")
    assert PAGE.read_text(encoding="utf-8") == wanted
