"""A catalogue's file: which booklets it means, and what is said where its names lead nowhere."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.conftest import TINY

from drawleaf.catalogue.making import Libraries
from drawleaf.catalogue.reading import read_catalogue

EDITIONS = TINY + "editions:\n  metric: {units: mm}\n  long: {dimensions: {width: 30}}\n"
LIBRARIES = Libraries()


@pytest.fixture
def place(tmp_path: Path) -> Path:
    for name, text in (("tray", TINY), ("box", EDITIONS)):
        (tmp_path / "plans" / name).mkdir(parents=True)
        (tmp_path / "plans" / name / "plan.yaml").write_text(text)
    return tmp_path


def booklets(place: Path, text: str) -> list[str]:
    (place / "catalogue.yaml").write_text(text)
    known = read_catalogue(place / "catalogue.yaml", LIBRARIES)
    assert known.diagnostics == ()
    return [one.name for one in known.booklets]


def mistakes(place: Path, text: str) -> list[tuple[str, int | None, str]]:
    (place / "catalogue.yaml").write_text(text)
    known = read_catalogue(place / "catalogue.yaml", LIBRARIES)
    assert known.booklets == ()
    return [(one.code, one.position and one.position.line, one.mend) for one in known.diagnostics]


def test_a_pattern_means_all_plans_in_a_folder(place: Path) -> None:
    assert booklets(place, "plans: [{plan: plans/*}]") == ["box", "tray"]


def test_every_combination_is_made(place: Path) -> None:
    text = "plans: [{plan: plans/tray}]\npapers: [letter, a4]\nunits: [as written, mm]\ntools: [as written, full shop]"
    assert booklets(place, text) == [
        "tray-letter",
        "tray-a4",
        "tray-mm-letter",
        "tray-mm-a4",
        "tray-letter-full-shop",
        "tray-a4-full-shop",
        "tray-mm-letter-full-shop",
        "tray-mm-a4-full-shop",
    ]


def test_all_editions_and_the_plan_as_written(place: Path) -> None:
    assert booklets(place, "plans: [{plan: plans/*, editions: all}]") == ["box", "box-metric", "box-long", "tray"]


def test_an_edition_for_all_plans_is_made_of_those_that_have_it(place: Path) -> None:
    assert booklets(place, "plans: [{plan: plans/*}]\neditions: [as written, long]") == ["box", "box-long", "tray"]


def test_a_line_for_one_plan_stands_in_for_a_pattern(place: Path) -> None:
    text = "plans:\n  - {plan: plans/*}\n  - {plan: plans/tray, papers: [a4]}"
    assert booklets(place, text) == ["box", "tray-a4"]


@pytest.mark.parametrize(
    ("text", "code", "line", "mend"),
    [
        ("plans:\n  - {plan: plans/trey}", "no-such-plan", 2, "Did you mean “tray”?"),
        ("plans: [{plan: nowhere/*}]", "no-such-plan", 1, "Write the folder that holds the plans"),
        ("plans:\n  - {plan: plans/box, editions: [lang]}", "unknown-edition", 2, "Did you mean “long”?"),
        ("plans: [{plan: plans/box}]\ntools: [ful shop]", "unknown-tool-set", 2, "Did you mean “full shop”?"),
        ("plans: [{plan: plans/box}]\ntools: [mine.yaml]", "no-such-file", 2, "Check the name"),
        ("plans: [{plan: plans/box}]\npaper: [a4]", "unknown-key", 2, "Did you mean “papers”?"),
        ("plans: []", "wrong-count", 1, ""),
        ("papers: [a4]", "missing-key", 1, ""),
    ],
)
def test_what_is_wrong_is_told_at_its_place(place: Path, text: str, code: str, line: int, mend: str) -> None:
    ((told, at, cure),) = mistakes(place, text)
    assert (told, at) == (code, line)
    assert cure.startswith(mend)


def test_two_plans_of_one_name(place: Path) -> None:
    """Their booklets would stand in one folder."""
    (place / "old" / "tray").mkdir(parents=True)
    (place / "old" / "tray" / "plan.yaml").write_text(TINY)
    ((code, line, _),) = mistakes(place, "plans:\n  - {plan: plans/tray}\n  - {plan: old/tray}")
    assert (code, line) == ("same-folder", 3)
