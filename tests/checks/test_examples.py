"""The example plans in every edition, and a plan that is wrong on purpose."""

from __future__ import annotations

from collections import Counter

import pytest
from tests.checks.conftest import found
from tests.conftest import ROOT, outcome_of

from drawleaf.checks import CHECKS
from drawleaf.compiler import Choice, Outcome, check_plan, compile_plan
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


# What tall-trouble does wrong, the code that tells it, words of the message, words of the mend.
FAULTS = [
    ("a 12 mm shelf over 1.5 m", "shelf-sag", "The shelf, 1500 mm clear", "Divide it by uprights into 3 spans"),
    ("a screw too long", "fastener-comes-out", "comes out of Left side", "no longer than 34.5 mm"),
    ("a solid panel glued in", "wood-movement", "6.9 mm of movement has nowhere to go", "free in a groove"),
    ("a tall narrow case with a deep drawer", "tip-over", "a child of 60 lb (27 kg) hangs", "anti-tip strap"),
    ("a dado almost through", "joint-proportions", "83% of its thickness", "Make “depth” no more than 9.5 mm"),
]


@pytest.fixture(scope="module")
def trouble() -> Outcome:
    return check_plan(TROUBLE, Choice())


@pytest.mark.parametrize(("fault", "code", "message", "mend"), FAULTS, ids=[fault for fault, *_ in FAULTS])
def test_the_bad_plan_is_told_each_fault(trouble: Outcome, fault: str, code: str, message: str, mend: str) -> None:
    """In one run, each at its line, with what to do about it."""
    told = [one for one in trouble.diagnostics if one.code == code and one.is_error and message in one.message]
    assert len(told) == 1, [one.message for one in trouble.diagnostics]
    assert told[0].position is not None
    assert told[0].position.file.endswith("plan.yaml")
    assert mend in told[0].mend


def test_nothing_in_the_bad_plan_is_told_twice(trouble: Outcome) -> None:
    # Screws through a side may both come out of the shelf and show their heads: two faults.
    checks = {"fastener-comes-out", *(name for name, _ in CHECKS)} - {"screw-heads"}
    lines = Counter(one.position.line for one in trouble.diagnostics if one.position and one.code in checks)
    assert [line for line, times in lines.items() if times > 1] == []
    assert found(trouble, "shelf-sag", "case.shelf").verdict is Verdict.STOP


def test_the_bad_plan_is_not_printed() -> None:
    assert not compile_plan(TROUBLE, Choice()).files


def test_pocket_screws_too_long_are_told(edited_plan) -> None:
    """A 2-1/2 in pocket screw enters by 1-7/32 in; the side that it enters is 23/32 in."""
    rails = "- {butt: [front_rail, back_rail], to: side, with: [glue, {pocket_screws: {"
    long = rails + "item: pocket screw 2-1/2 coarse, "
    told = check_plan(edited_plan("boot-bench", (rails, long)), Choice()).diagnostics
    told = tuple(one for one in told if one.code == "screw-pokes-through")
    assert told
    assert all("shorter" in one.mend for one in told)


def test_every_check_is_on_the_page() -> None:
    page = (ROOT / "docs" / "checks.md").read_text(encoding="utf-8")
    assert [name for name, _ in CHECKS if f"| `{name}` |" not in page] == []
