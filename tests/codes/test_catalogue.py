"""The catalogue of diagnostics is true: it has every code, no other, and each example yields its code."""

from __future__ import annotations

from pathlib import Path

import pytest

from codes.telling import PASSING_ON, codes_told, passed_on
from codes.trying import told
from drawleaf.checks import CHECKS
from drawleaf.codes import CODES, GROUPS, Example
from drawleaf.codes.page import page
from drawleaf.codes.samples import SAMPLES
from drawleaf.commands.why import all_codes, explanation, no_such_code

ROOT = Path(__file__).resolve().parents[2]
SHOWN = [name for name, code in CODES.items() if not code.inner]
INNER = [name for name, code in CODES.items() if code.inner]


def test_every_code_is_in_the_catalogue_and_no_other() -> None:
    found = {*codes_told(), *(name for name, _ in CHECKS)}
    assert len(found) > 150
    assert sorted(found - set(CODES)) == [], "told but not in src/drawleaf/codes: write what, why and how to mend it"
    assert sorted(set(CODES) - found) == [], "in src/drawleaf/codes, but nothing tells it"


def test_no_diagnostic_hides_its_code() -> None:
    """Where a call passes a code on, it was given to a teller that is looked at."""
    assert {file: count for file, count in passed_on().items() if PASSING_ON.get(file) != count} == {}


def test_each_entry_says_all() -> None:
    assert len(CODES) == sum(len(group) for _, group in GROUPS), "a code stands twice"
    for code in CODES.values():
        for text in (code.what, code.why, code.mend):
            assert text[0].isupper() or text[0] in "“+0123456789", (code.name, text)
            assert text.rstrip().endswith((".", "?", "!", "”", "}", "3.", "]")), (code.name, text)
        assert isinstance(code.inner, str), f"{code.name} has an example in the place of words"
        assert code.inner or code.example != Example(), f"{code.name} has no example"


@pytest.mark.parametrize("name", SHOWN)
def test_the_example_yields_its_code(name: str, tmp_path: Path) -> None:
    said = []
    for one in told(CODES[name].example, tmp_path / "plan"):
        if one.code == name:
            assert one.position is not None or not one.is_error
            return
        said.append(one.code)
    pytest.fail(f"the example yields {said or 'nothing'}")


def test_the_samples_are_sound(tmp_path: Path) -> None:
    for sample in SAMPLES:
        errors = [one for one in told(Example(sample=sample), tmp_path / sample) if one.is_error]
        assert errors == []


def test_what_no_example_shows_is_tested_elsewhere() -> None:
    tests = "".join(
        file.read_text(encoding="utf-8") for file in (ROOT / "tests").rglob("test_*.py") if file != Path(__file__)
    )
    assert [name for name in INNER if f'"{name}"' not in tests] == []


def test_the_page_is_up_to_date() -> None:
    written = (ROOT / "docs" / "diagnostics.md").read_text(encoding="utf-8")
    assert written == page(), "docs/diagnostics.md is stale: run `make docs`"


@pytest.mark.parametrize("name", CODES)
def test_every_code_is_explained(name: str) -> None:
    text = explanation(name)
    assert text is not None
    assert text.startswith(name)
    assert explanation(f"({name})") == text
    assert f"  {name} " in all_codes()


def test_a_misspelt_code_is_told_the_nearest() -> None:
    assert explanation("unknwon-name") is None
    assert "“unknown-name”" in no_such_code("unknwon-name")
