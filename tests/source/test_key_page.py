"""The page of every key follows the models."""

from __future__ import annotations

from pathlib import Path

from drawleaf.source.expected import keys_of
from drawleaf.source.key_page import key_page
from drawleaf.source.models import ComponentSource, PartEntry, PlanSource

ROOT = Path(__file__).resolve().parents[2]


def test_the_page_is_up_to_date() -> None:
    """``make docs`` writes it."""
    assert (ROOT / "docs" / "source-keys.md").read_text(encoding="utf-8") == key_page()


def test_every_key_has_a_row_with_words() -> None:
    rows = [line for line in key_page().splitlines() if line.startswith(("| `", "| **`"))]
    told = {row.split("`")[1] for row in rows}
    for model in (PlanSource, PartEntry, ComponentSource):
        assert set(keys_of(model)) <= told
    assert [row for row in rows if row.endswith("|  |")] == []


def test_what_may_be_written_is_told() -> None:
    page = key_page()
    assert "| **`stock`** | text |" in page
    assert "| `left` | length |" in page
    assert "| **`thickness`** | `x`, `y`, `z` |" in page
