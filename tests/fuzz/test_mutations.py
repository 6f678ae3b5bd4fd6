"""A share of all edits of the example sources, and random texts: no traceback, no hang, and every error has a place.

`make fuzz` tries them all.
"""

from __future__ import annotations

import time
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, seed, settings
from hypothesis import strategies as st
from tests.conftest import examples

from drawleaf.codes.samples import CHEST, CRATE, HEAD
from drawleaf.source.yaml_tree import read_yaml
from fuzz.mutations import mutants
from fuzz.trying import trouble_with

ROOT = Path(__file__).resolve().parents[2]
SOURCES = {
    "crate": CRATE,
    "chest": CHEST,
    **{plan.parent.name: plan.read_text(encoding="utf-8") for plan in sorted((ROOT / "plans").glob("*/plan.yaml"))},
}
SHORT = ("crate", "chest", "record-cabinet", "trestle-table")
"""Here two tiny plans, and of the examples one of sheets with hardware and one of solid wood: an edit of theirs takes seconds."""
SECONDS = examples(1, 20) / 2
STRIDE = 101


def test_the_edits_are_edits() -> None:
    made = list(mutants(CRATE))
    assert len(made) > 1500
    assert all(one.text != CRATE for one in made if not one.what.endswith(("= 0", "→ 0")))
    for word in ("dropped", "doubled", "misspelt", "= [1, 2]", "= -3"):
        assert any(word in one.what for one in made), word


@pytest.mark.parametrize("name", SOURCES if examples(0, 1) else SHORT)
def test_edits_of_a_source(name: str, tmp_path: Path) -> None:
    """Edits far apart first, then those between, for as long as the test may take; the order is always the same."""
    every = list(mutants(SOURCES[name]))
    began, tried = time.monotonic(), 0
    for at in range(len(every)):
        mutant = every[at * STRIDE % len(every)] if len(every) % STRIDE else every[at]
        assert trouble_with(mutant.text, tmp_path) is None, mutant.what
        tried += 1
        if tried > 1 and time.monotonic() - began > SECONDS:
            break
    assert tried > 1


_WORDS = st.sampled_from(
    [
        "side",
        "crate",
        "left",
        "width",
        "1/2",
        "3' 6\"",
        "-",
        "+",
        "*",
        "(",
        ")",
        ",",
        ".",
        "max",
        "mirrored",
        "stock",
        "é",
        "“",
        "0",
        "7 in",
    ]
)


@seed(20261120)
@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck))
@given(st.lists(_WORDS, max_size=8).map("".join))
def test_any_expression(tmp_path: Path, written: str) -> None:
    text = CRATE.replace("height: 12,", "height: '" + written.replace("'", "''") + "',")
    assert trouble_with(text, tmp_path) is None


@seed(20261120)
@settings(max_examples=examples(100, 400), deadline=None)
@given(st.text(alphabet="ab:-[]{},&*!|>'\"#%@`? \n\t0\\x~", max_size=60))
def test_any_yaml(text: str) -> None:
    _, _, found = read_yaml("plan.yaml", HEAD + text)
    assert all(one.position is not None and one.message for one in found)
