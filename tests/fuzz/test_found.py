"""What the fuzz found and was mended: each edit stays mended."""

from __future__ import annotations

from pathlib import Path

import pytest

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.compiler import Choice, check_plan
from fuzz.mutations import mutants
from fuzz.trying import trouble_with

ROOT = Path(__file__).resolve().parents[2]

FOUND = [
    # The word null in a list was refused, and nothing said why.
    ("key-ledge", ".plan.hard_parts[0] = null"),
    ("key-ledge", ".assemblies.ledge.joints[1].with[0] = null"),
    # A sheet with its actual thickness alone had no sheets to be cut from.
    ("boot-bench", ".stock.case.nominal dropped"),
    # Each coat was a task of the schedule, ten thousand of them.
    ("key-ledge", ".finish[1].coats = 10000"),
    # A body that no joint holds had no words for where it goes.
    ("boot-bench", ".assemblies.frame.joints dropped"),
]


@pytest.mark.parametrize(("plan", "what"), FOUND, ids=[what for _, what in FOUND])
def test_it_stays_mended(plan: str, what: str, tmp_path: Path, request: pytest.FixtureRequest) -> None:
    """No trouble, and every step has its words; with ``--long`` the whole booklet is made."""
    source = (ROOT / "plans" / plan / "plan.yaml").read_text(encoding="utf-8")
    (mutant,) = [one for one in mutants(source) if one.what == what]
    assert trouble_with(mutant.text, tmp_path, whole=request.config.getoption("--long")) is None
    derived = check_plan(tmp_path, Choice()).derived
    for step in derived.steps if derived else ():
        assert step_text(step, derived, Formatter.of(derived.plan)).actions
