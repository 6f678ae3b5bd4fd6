"""Every example plan is good: it fits together, can be built in each kit, counts agree in both places, and its source stays short.

The two plans of ``conftest.PLANS`` are looked at much more closely elsewhere; here is what all of them must keep.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from tests.conftest import KITS, ROOT

from drawleaf.compiler import Choice, Outcome, check_plan
from drawleaf.model.diagnostic import Severity

PLANS = sorted(folder.name for folder in (ROOT / "plans").iterdir() if (folder / "plan.yaml").is_file())
MOST_LINES = 120
CLOSE_LOOK = ("key-ledge", "boot-bench")


def checked(folder: Path, **choice) -> Outcome:
    return check_plan(folder, Choice(**choice))


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
@pytest.mark.parametrize("name", [name for name in PLANS if name not in CLOSE_LOOK])
def test_it_can_be_built_with_each_kit(name: str, kit: str) -> None:
    outcome = checked(ROOT / "plans" / name, kit=kit)
    assert errors(outcome) == []
    assert outcome.derived is not None
    assert len(outcome.derived.steps) > 5


@pytest.mark.parametrize(
    ("name", "edition"), [(name, one) for name in PLANS if name not in CLOSE_LOOK for one in editions_of(name)]
)
def test_each_edition_is_good(name: str, edition: str) -> None:
    assert errors(checked(ROOT / "plans" / name, edition=edition)) == []
