"""What cannot be cut from what is sold: an error at the part's line, with the nearest change that would do; and that change does."""

from __future__ import annotations

import itertools
from dataclasses import replace
from fractions import Fraction
from types import SimpleNamespace

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from drawleaf.derive.cut_list.cut_list import make_cut_list
from drawleaf.derive.layout.layouts import make_layouts
from drawleaf.model.place import Axis
from drawleaf.model.plan import GlueUp, Part
from drawleaf.model.position import Position

LINE = Position("plan.yaml", 23, 7)
A_LITTLE = Fraction(1, 32)


@pytest.fixture
def s(shop) -> SimpleNamespace:
    return SimpleNamespace(**shop)


def problems_of(s, *parts: Part):
    plan = s.plan_of(*parts)
    cut_list = make_cut_list(plan)
    layouts, problems = make_layouts(plan, cut_list)
    return layouts, problems, plan, cut_list


def told(s, part: Part):
    """The one error, which stands at the part that it is about, among parts that are well."""
    well = s.part("well", (10, 3), stock=part.stock)
    (problem,) = problems_of(s, well, replace(part, position=LINE))[1]
    assert problem.is_error
    assert problem.position == LINE
    assert problem.cause
    return problem


def fits(s, *parts: Part) -> bool:
    return not problems_of(s, *parts)[1]


@pytest.mark.parametrize(
    ("size", "words", "mended"),
    [
        ((96, 20), "at most 95-1/2 in long", (Fraction(191, 2), 20)),
        ((90, 48), "at most 47-1/2 in wide", (90, Fraction(95, 2))),
        ((97, 49), "at most 95-1/2 in x 47-1/2 in", (Fraction(191, 2), Fraction(95, 2))),
    ],
)
def test_larger_than_a_sheet(s, size, words, mended) -> None:
    """A sheet of 96 x 48 less 1/4 off each edge. What the mend says fits to the last 1/32, and no more does."""
    problem = told(s, s.part("p", size))
    assert problem.code == "larger-than-sheet"
    assert words in problem.mend
    assert fits(s, s.part("p", mended))
    for more in ((mended[0] + A_LITTLE, mended[1]), (mended[0], mended[1] + A_LITTLE)):
        assert fits(s, s.part("p", more)) == (more[0] <= Fraction(191, 2) and more[1] <= Fraction(95, 2))


def test_grain_the_wrong_way(s) -> None:
    """40 along the grain, 90 across it: only turned does it lie on a sheet."""
    part = s.part("p", (40, 90))
    problem = told(s, part)
    assert "`grain: any`" in problem.mend
    assert fits(s, s.part("p", (40, 90), grain=False))


def test_wider_and_longer_than_a_board(s) -> None:
    wide = told(s, s.part("p", (20, 4), stock=s.ONE_BY_FOUR))
    assert wide.code == "wider-than-board"
    assert "at most 3-1/2 in wide" in wide.mend
    assert fits(s, s.part("p", (20, "7/2"), stock=s.ONE_BY_FOUR))
    long = told(s, s.part("p", (96, 3), stock=s.ONE_BY_FOUR))
    assert long.code == "longer-than-board"
    assert "at most 95 in long" in long.mend
    assert fits(s, s.part("p", (95, 3), stock=s.ONE_BY_FOUR))
    assert not fits(s, s.part("p", (95 + A_LITTLE, 3), stock=s.ONE_BY_FOUR))


def test_wider_than_any_glue_up(s) -> None:
    """Two strips of 4 in are wider than the board; three of 3 in are not."""

    def panel(strips: int, wide: int) -> Part:
        glue_up = GlueUp(strips, s.inches(wide), Axis.Y, s.inches("1/2"))
        return s.part("top", (40, 8), stock=s.ONE_BY_FOUR, glue_up=glue_up)

    problem = told(s, panel(2, 4))
    assert problem.code == "wider-than-board"
    assert problem.message.startswith("A strip of Top")
    assert "`glue_up: {widest_strip: 3-1/2}`" in problem.mend
    assert fits(s, panel(3, 3))


@pytest.mark.parametrize("board", [False, True])
def test_matched_parts_that_one_piece_does_not_hold(s, board: bool) -> None:
    """Two of 48 in and a saw cut are 96-1/8: too long for a sheet of 95-1/2 and a board of 95. The error stands at the first of them."""
    stock, width = (s.ONE_BY_FOUR, 3) if board else (s.PLY, 10)

    def pair(long: int) -> list[Part]:
        parts = [s.part(f"p{at}", (long, width), stock=stock, at=(at * 60, 0, 0)) for at in range(2)]
        return [replace(parts[0], match="pair", position=LINE), replace(parts[1], match="pair")]

    (problem,) = problems_of(s, *pair(48))[1]
    assert (problem.code, problem.position) == ("matched-too-large", LINE)
    assert "96-1/8 in long" in problem.message
    assert fits(s, *pair(47))


def test_every_part_that_does_not_fit_is_told_at_once(s) -> None:
    parts = [replace(s.part(f"p{at}", (97, 20)), position=Position("plan.yaml", 20 + at, 7)) for at in range(3)]
    problems = problems_of(s, *parts)[1]
    assert [problem.position.line for problem in problems] == [20, 21, 22]


@settings(
    max_examples=25,
    deadline=None,
    derandomize=True,
    phases=[Phase.explicit, Phase.generate],
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(
    percent=st.integers(0, 30),
    sizes=st.lists(
        st.tuples(st.integers(3, 30), st.sampled_from(["7/2", "3", "3/2"]), st.sampled_from(["", "", "a", "b"])),
        min_size=1,
        max_size=9,
    ),
)
def test_random_boards_with_knots_and_matched_parts_replay(s, check, percent: int, sizes) -> None:
    """Sawn again by the checker; no board holds more than is left of it once the knots are counted off; matched parts lie in one row in their order."""
    stock = replace(s.ONE_BY_FOUR, defects=Fraction(percent, 100))
    alone = {word for word in "ab" if sum(match == word for *_, match in sizes) == 1}
    parts = [
        replace(s.part(f"p{at}", size, stock=stock, at=(at * 40, 0, 0)), match="" if match in alone else match)
        for at, (*size, match) in enumerate(sizes)
    ]
    layouts, problems, plan, cut_list = problems_of(s, *parts)
    if problems:
        assert {problem.code for problem in problems} == {"matched-too-large"}
        return
    check(plan, cut_list, layouts)
    end = plan.making.end_trim
    for board in layouts.boards:
        last = max(one.x + one.length for one in board.placed)
        assert last - end <= board.length - end * 2 - board.length * stock.defects
    places = {one.part: (board.number, one) for board in layouts.boards for one in board.placed}
    for word in "ab":
        row = [places[part.id] for part in parts if part.match == word]
        for (home, one), (other_home, other) in itertools.pairwise(row):
            assert home == other_home
            assert other.x == one.x + one.length + plan.making.kerf
            assert other.y == one.y
