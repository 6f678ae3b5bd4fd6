"""``drawleaf start``: both kinds compile at once; nothing is overwritten; odd names are refused."""

from __future__ import annotations

import datetime
from pathlib import Path

import pytest

from drawleaf.commands.start import StartError, parting_words, start
from drawleaf.compiler import Choice, check_plan

DAY = datetime.date(2026, 11, 25)


@pytest.mark.parametrize("kind", ["boards", "plywood-case"])
@pytest.mark.parametrize("edition", [None, "metric"])
def test_a_new_plan_is_good_at_once(tmp_path: Path, kind: str, edition: str | None) -> None:
    folder = start("my-first plan", kind, tmp_path, DAY)
    outcome = check_plan(folder, Choice(edition))
    assert outcome.diagnostics == (), "not even advice: a newcomer would wonder"
    assert outcome.derived is not None
    assert outcome.derived.steps
    about = outcome.derived.plan.about
    assert (about.title, about.date) == ("My first plan", "2026-11-25")


@pytest.mark.parametrize("kind", ["boards", "plywood-case"])
def test_every_edition_of_a_new_plan_is_good(tmp_path: Path, kind: str) -> None:
    folder = start("piece", kind, tmp_path, DAY)
    other = {"boards": "long", "plywood-case": "wide"}[kind]
    assert not check_plan(folder, Choice(other)).failed


def test_the_comments_explain(tmp_path: Path) -> None:
    for kind in ("boards", "plywood-case"):
        text = (start(kind, kind, tmp_path, DAY) / "plan.yaml").read_text()
        assert text.count("#") >= 8
        assert "@" not in text


def test_nothing_is_overwritten(tmp_path: Path) -> None:
    (tmp_path / "piece").mkdir()
    (tmp_path / "piece" / "own.txt").write_text("mine")
    with pytest.raises(StartError, match="is there already"):
        start("piece", "boards", tmp_path, DAY)
    assert [file.name for file in (tmp_path / "piece").iterdir()] == ["own.txt"]


@pytest.mark.parametrize(
    "name", ["", ".", "..", "a/b", "..\\up", "a\0b", "-option", "con:", "x" * 61, " lead", "trail.", 'q"']
)
def test_odd_names_are_refused(tmp_path: Path, name: str) -> None:
    with pytest.raises(StartError, match="folder's name"):
        start(name, "boards", tmp_path, DAY)
    assert not list(tmp_path.iterdir())


def test_a_folder_that_cannot_be_made_is_told(tmp_path: Path) -> None:
    with pytest.raises(StartError, match="Make that first"):
        start("piece", "boards", tmp_path / "nowhere", DAY)


def test_the_parting_words_say_what_to_do_next() -> None:
    words = parting_words(Path("my plan"))
    assert 'drawleaf preview "my plan"' in words
    assert 'drawleaf compile "my plan"' in words
