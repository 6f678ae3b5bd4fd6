"""The film of the build: a code and the time at each step on paper, a link on a screen, and nothing where no film is."""

from __future__ import annotations

from urllib.parse import unquote

import pytest
from tests.small_plans import derived_from, outcome_from

from drawleaf.book.chapters.context import Book
from drawleaf.book.chapters.steps import _film
from drawleaf.book.page.qr import qr_picture
from drawleaf.model.film import Film, FilmTime
from drawleaf.model.position import Position

BOX = """
plan: {title: T, number: T-1, date: 2026-11-24, author: A, lengths: in}
stock: {board: {material: pine board, size: 1x4}}
assemblies:
  box:
    parts:
      end: {stock: board, thickness: x, full_width: z, grain: y, left: 0, front: 0, back: 11, bottom: 0}
"""
FILM = "film: {address: 'https://films.example/box', steps: {crosscut: '4:05'}}\n"


def time_of(text: str) -> int:
    plan = derived_from(BOX + FILM.replace("4:05", text).replace("crosscut", _first_step())).plan
    assert plan.film is not None
    return plan.film.times[0].seconds


def _first_step() -> str:
    return derived_from(BOX).steps[0].id


def test_a_time_is_minutes_and_seconds_with_hours_where_there_are_any() -> None:
    assert time_of("4:05") == 245
    assert time_of("1:04:05") == 3845


def test_the_time_goes_behind_the_address_or_where_the_author_wants_it() -> None:
    time = FilmTime("rip", 245, Position("plan.yaml", 1, 1))
    assert Film("https://films.example/box", (time,)).at(time) == "https://films.example/box#t=245"
    assert Film("https://films.example/box?t={seconds}&x=1", (time,)).at(time) == "https://films.example/box?t=245&x=1"
    assert (time.text, FilmTime("rip", 3845, time.position).text) == ("4:05", "1:04:05")


@pytest.mark.parametrize(
    ("right", "wrong", "code"),
    [
        ("https://", "ftp://", "film-address"),
        ("https://films.example/box", "javascript:alert(1)", "film-address"),
        ("4:05", "4:65", "film-time"),
        ("crosscut", "crosscat", "unknown-step"),
    ],
)
def test_what_is_wrong_with_a_film_is_told_at_its_line(right: str, wrong: str, code: str) -> None:
    source = BOX + FILM.replace("crosscut", _first_step() if code != "unknown-step" else "crosscut").replace(
        right, wrong
    )
    found = next(one for one in outcome_from(source).diagnostics if one.code == code)
    assert found.position is not None
    assert found.position.line == source.count("\n")


def test_paper_has_a_code_and_a_screen_has_none() -> None:
    derived = derived_from(BOX + FILM.replace("crosscut", _first_step()))
    pages = {
        paper: _film(Book.of(derived, None, for_print=paper, plan_folder=None), derived.steps[0])  # type: ignore[arg-type]
        for paper in (True, False)
    }
    assert all(line is not None and line.address == "https://films.example/box#t=245" for line in pages.values())
    assert pages[True] is not None
    assert pages[True].code == qr_picture("https://films.example/box#t=245")
    assert pages[False] is not None
    assert pages[False].code == ""


def test_the_code_is_the_same_each_time_and_has_its_quiet_zone() -> None:
    """Version 3: 29 modules, and 4 of white at either side."""
    picture = qr_picture("https://films.example/box#t=245")
    assert picture == qr_picture("https://films.example/box#t=245")
    assert "viewBox='0 0 37 37'" in unquote(picture)
