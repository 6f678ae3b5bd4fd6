"""The example plans in every edition, and a plan that is wrong on purpose."""

from __future__ import annotations

import pytest
from tests.checks.conftest import found
from tests.conftest import ROOT, outcome_of

from drawleaf.checks import CHECKS
from drawleaf.compiler import Choice, check_plan
from drawleaf.model.checks import Verdict

EDITIONS = [
    *(("boot-bench", edition) for edition in (None, "metric", "metric_stock", "both", "open", "wide")),
    *(("key-ledge", edition) for edition in (None, "metric", "both", "long")),
]
TROUBLE = ROOT / "tests" / "plans" / "tall-trouble"


@pytest.mark.parametrize(("name", "edition"), EDITIONS)
def test_examples_pass_or_say_why_not(name: str, edition: str | None) -> None:
    derived = outcome_of(name, edition).derived
    assert derived is not None
    assert derived.checks
    assert [one.words for one in derived.checks if one.open] == []


def test_the_bad_plan_is_told_each_fault() -> None:
    outcome = check_plan(TROUBLE, Choice())
    assert outcome.failed
    stops = {one.code: one for one in outcome.diagnostics if one.is_error}
    assert {"shelf-sag", "wood-movement", "tip-over", "joint-proportions"} <= set(stops)
    for one in stops.values():
        assert one.position is not None
        assert one.position.file.endswith("plan.yaml")
        assert one.mend, one.message
    assert "splits" in stops["wood-movement"].message
    assert "anti-tip strap" in stops["tip-over"].mend
    shelf = found(outcome, "shelf-sag", "case.shelf")
    assert shelf.verdict is Verdict.STOP


def test_screws_too_long_are_told(edited_plan) -> None:
    """A 2 in screw through 3/4 in of spacer comes out of a 23/32 in side."""
    long = "- {butt: spacer, to: side.mirrored, with: [{screws: {item: wood screw 8 x 2, count: 3}}]}"
    folder = edited_plan("boot-bench", ("- {butt: spacer, to: side.mirrored, with: [{screws: {count: 3}}]}", long))
    told = [one for one in check_plan(folder, Choice()).diagnostics if one.code == "screw-pokes-through"]
    assert told
    assert "or less" in told[0].mend


def test_every_check_is_on_the_page() -> None:
    page = (ROOT / "docs" / "checks.md").read_text(encoding="utf-8")
    assert [name for name, _ in CHECKS if f"| `{name}` |" not in page] == []
