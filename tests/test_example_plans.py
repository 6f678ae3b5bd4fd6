"""Every example plan is good: it fits together, can be built in each kit, counts agree in both places, and its source stays short.

The two plans of ``conftest.PLANS`` are looked at much more closely elsewhere; here is what all of them must keep.
"""

from __future__ import annotations

import re
from functools import cache

import pytest
from tests.conftest import KITS, ROOT, outcome_of

from drawleaf.compiler import Choice, Given, Outcome, read_and_resolve, work_out
from drawleaf.model.diagnostic import Severity
from drawleaf.model.plan import Plan
from drawleaf.solids.build import build_solids
from drawleaf.solids.proofs import prove

PLANS = sorted(folder.name for folder in (ROOT / "plans").iterdir() if (folder / "plan.yaml").is_file())
MOST_LINES = 120
CLOSE_LOOK = ("key-ledge", "boot-bench")


@cache
def body_of(name: str) -> tuple[Plan, Given]:
    """The plan with its solids and what their proofs found, which are the same whatever tools it is built with."""
    _, plan = read_and_resolve(ROOT / "plans" / name, Choice())
    assert plan is not None
    solids = build_solids(plan)
    return plan, Given(solids, prove(plan, solids))


def errors(outcome: Outcome) -> list[str]:
    return [f"{one.code}: {one.message}" for one in outcome.diagnostics if one.severity is Severity.ERROR]


def editions_of(name: str) -> list[str]:
    text = (ROOT / "plans" / name / "plan.yaml").read_text(encoding="utf-8")
    _, found, rest = text.partition("\neditions:\n")
    return re.findall(r"^  (\w+):", rest, re.MULTILINE) if found else []


@pytest.mark.parametrize("name", [name for name in PLANS if name != "boot-bench"])
def test_a_source_is_short(name: str) -> None:
    """A plan that takes more lines is a fault of the language. The boot bench is older than the components that would shorten it."""
    lines = (ROOT / "plans" / name / "plan.yaml").read_text(encoding="utf-8").splitlines()
    assert len(lines) <= MOST_LINES


@pytest.mark.parametrize("kit", KITS)
@pytest.mark.parametrize("name", PLANS)
def test_it_can_be_built_with_each_kit(name: str, kit: str) -> None:
    outcome, plan = read_and_resolve(ROOT / "plans" / name, Choice(kit=kit))
    assert plan is not None
    assert plan.making.kit == kit
    known, given = body_of(name)
    assert (plan.parts, plan.joints, plan.fittings) == (known.parts, known.joints, known.fittings)
    outcome, _ = work_out(outcome, plan, tidy=False, given=given)
    assert errors(outcome) == []
    assert outcome.derived is not None
    assert len(outcome.derived.steps) > 5


@pytest.mark.parametrize(
    ("name", "edition"), [(name, one) for name in PLANS if name not in CLOSE_LOOK for one in editions_of(name)]
)
def test_each_edition_is_good(name: str, edition: str) -> None:
    assert errors(outcome_of(name, edition)) == []
