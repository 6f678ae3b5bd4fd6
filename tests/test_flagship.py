"""The record cabinet switched: dressed to plain, dado to butt, 3/4 to 18 mm. Everything follows, and no stale number or name is left."""

from __future__ import annotations

import json
import re
from functools import cache

from tests.conftest import ROOT, checked_source, outcome_of

from drawleaf.book.output.data import plan_json
from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.compiler import Outcome
from drawleaf.units import Length

SOURCE = (ROOT / "plans" / "record-cabinet" / "plan.yaml").read_text(encoding="utf-8")
BUTT = (
    ("{dado: bottom, in: side, depth: dado,", "{butt: bottom, to: side,"),
    ("{dado: divider, in: bottom, depth: dado,", "{butt: divider, to: bottom,"),
)
METRIC_PLY = (("nominal: 3/4, actual: 23/32", "nominal: 18 mm, actual: 18 mm"),)
DRESSING = ("cornice", "plinth", "magnet", "mitres", "mitred", "moulding", "profile")


@cache
def cabinet(changes: tuple[tuple[str, str], ...] = (), edition: str | None = None) -> Outcome:
    if not changes:
        return outcome_of("record-cabinet", edition)
    text = SOURCE
    for old, new in changes:
        assert old in text, f"{old!r} does not stand in the record cabinet"
        text = text.replace(old, new)
    outcome = checked_source(text, name="record-cabinet")
    assert not outcome.failed, outcome.diagnostics
    return outcome


def told(outcome: Outcome) -> str:
    """All that lists, steps and data say, in lower case."""
    derived = outcome.derived
    assert derived is not None
    formatter = Formatter.of(derived.plan)
    steps = [step_text(step, derived, formatter) for step in derived.steps]
    words = [str(part) for text in steps for part in (text.title, *text.setup, *text.actions, text.check, text.if_not)]
    data = json.loads(plan_json(derived))
    for section in ("about", "plan", "dimensions"):  # the author's own words and names
        data.pop(section, None)
    return " ".join([json.dumps(data), *words]).lower()


def size(outcome: Outcome, part: str) -> tuple[Length, ...]:
    assert outcome.derived is not None
    return outcome.derived.plan.part(part).size


def test_the_dressed_cabinet_has_its_mouldings_mitred_and_its_plinth_on_magnets() -> None:
    words = told(cabinet())
    assert all(word in words for word in ("cornice", "plinth", "magnet", "mitre"))


def test_the_plain_cabinet_knows_of_no_moulding() -> None:
    words = told(cabinet(edition="plain"))
    assert [word for word in DRESSING if re.search(rf"\b{word}", words)] == []


def test_the_plain_cabinet_is_told_of_in_words_of_its_own() -> None:
    """The author's summary and hard parts speak of what stands in this edition alone."""
    about = [cabinet(edition=edition).derived.plan.about for edition in (None, "plain")]
    dressed, plain = (" ".join([one.summary, *one.hard_parts]).lower() for one in about)
    assert [word for word in DRESSING if word in plain] == []
    assert "plinth" in dressed
    assert "slides" in plain


def test_butts_leave_no_dado() -> None:
    """The bottom ends at the sides: 42 less twice 23/32. It was twice 1/4 longer."""
    dadoed, butted = cabinet(), cabinet(BUTT)
    assert size(dadoed, "case.bottom")[0] - size(butted, "case.bottom")[0] == Length.of_inches(1) / 2
    assert size(butted, "case.bottom")[0] == Length.of_inches(42) - Length.of_inches(23) / 16
    words = told(butted)
    assert "dado" not in words.replace("dado set", "")
    assert "dado" in told(dadoed)


def test_metric_plywood_leaves_no_imperial_thickness() -> None:
    """The bottom is as long as the cabinet is wide, less two sides of 18 mm, plus 1/4 in dado at each end."""
    outcome = cabinet(METRIC_PLY)
    expected = Length.of_inches(42) - Length.of_mm(36) + Length.of_inches(1) / 2
    assert size(outcome, "case.bottom")[0] == expected
    assert size(outcome, "case.bottom")[2] == Length.of_mm(18)
    assert "23/32" in told(cabinet())
    derived = outcome.derived
    assert derived is not None
    assert Length.of_inches(23) / 32 not in {row.thickness for row in derived.cut_list.items}


def test_every_switch_keeps_its_books() -> None:
    for changes, edition in (((), None), ((), "plain"), (BUTT, None), (METRIC_PLY, None)):
        derived = cabinet(changes, edition).derived
        assert derived is not None
        assert derived.audit.passed
