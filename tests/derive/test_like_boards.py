"""Boards that are cut alike are told once."""

from __future__ import annotations

from dataclasses import replace

from tests.conftest import outcome_of

from drawleaf.derive.layout.like_boards import like_runs, run_words


def test_seven_boards_for_one_top_are_one_run() -> None:
    """Each gives a strip of the trestle table's top and nothing else; the boards after them differ."""
    derived = outcome_of("trestle-table").derived
    assert derived is not None
    runs = like_runs(derived.layouts.boards)
    assert [one.number for run in runs for one in run] == [one.number for one in derived.layouts.boards]
    assert run_words(runs[0], "board") == "Boards 1 to 7"
    assert run_words(runs[1], "board") == "Board 8"
    assert run_words(runs[2], "board") == "Boards 9 and 10"


def test_boards_with_other_parts_in_the_same_places_stay_apart() -> None:
    """Same lengths, other numbers: the names on the drawing would be wrong for one of them."""
    derived = outcome_of("trestle-table").derived
    assert derived is not None
    one, two = derived.layouts.boards[8:10]
    other = replace(two, placed=(replace(two.placed[0], number=99), *two.placed[1:]))
    assert len(like_runs((one, two))) == 1
    assert len(like_runs((one, other))) == 2
