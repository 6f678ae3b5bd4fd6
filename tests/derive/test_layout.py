"""Layouts of sheets and boards: sawn again cut by cut, cheapest to buy, errors where nothing will do."""

from __future__ import annotations

import time
from dataclasses import replace
from fractions import Fraction
from types import SimpleNamespace

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from drawleaf.derive.buying.shopping import make_shopping_list
from drawleaf.derive.cut_list.cut_list import make_cut_list
from drawleaf.derive.layout import sheets
from drawleaf.derive.layout.layouts import make_layouts
from drawleaf.derive.shop.part_words import planed
from drawleaf.model.catalogue import BoardSize, Form, SheetSize, Stock
from drawleaf.model.place import Axis
from drawleaf.model.plan import GlueUp
from drawleaf.model.tool_sets import Kit
from drawleaf.units import Length


@pytest.fixture
def s(shop) -> SimpleNamespace:
    return SimpleNamespace(**shop)


def laid(s, check, *parts):
    plan = s.plan_of(*parts)
    cut_list = make_cut_list(plan)
    layouts, problems = make_layouts(plan, cut_list)
    assert not problems
    check(plan, cut_list, layouts)
    return layouts


def bought(layouts):
    return [
        (size.name, length.inches if length else None, count)
        for need in layouts.needs
        for size, length, count in need.buy
    ]


@pytest.mark.parametrize(
    ("sizes", "buys"),
    [
        ([(20, 20)], [("quarter sheet", None, 1)]),
        ([(40, 40)], [("half sheet", None, 1)]),
        ([(60, 20)], [("full sheet", None, 1)]),
        ([(40, 40), (40, 40)], [("full sheet", None, 1)]),
        ([(40, 20), (40, 20)], [("half sheet", None, 1)]),
        ([(90, 40), (40, 20)], [("full sheet", None, 1), ("quarter sheet", None, 1)]),
        ([(90, 40), (40, 40)], [("full sheet", None, 1), ("half sheet", None, 1)]),
    ],
)
def test_buys_what_costs_least(s, check, sizes, buys) -> None:
    layouts = laid(s, check, *(s.part(f"p{at}", size) for at, size in enumerate(sizes)))
    assert bought(layouts) == buys


def test_kerf_and_trim_count(s, check) -> None:
    """Two pieces of 23-11/16 and one kerf fill the 47-1/2 that a trimmed 48 gives; a hair more does not go in."""
    fits = laid(s, check, *(s.part(f"p{at}", ("95.5", "379/16")) for at in range(2)))
    assert bought(fits) == [("full sheet", None, 1)]
    over = laid(s, check, *(s.part(f"p{at}", ("95.5", Fraction(379, 16) + Fraction(1, 64))) for at in range(2)))
    assert bought(over) == [("full sheet", None, 2)]


def test_free_grain_may_turn_and_locked_grain_may_not(s, check) -> None:
    free = laid(s, check, *(s.part(f"p{at}", (47, 31), grain=False) for at in range(3)))
    assert bought(free) == [("full sheet", None, 1)]
    locked = laid(s, check, *(s.part(f"p{at}", (47, 31)) for at in range(3)))
    assert sum(count for *_, count in bought(locked)) > 1


def test_rips_come_before_crosscuts(s, check) -> None:
    (sheet,) = laid(s, check, *(s.part(f"p{at}", (31, 15)) for at in range(9))).sheets
    kinds = [cut.kind for cut in sheet.cuts[2:]]
    assert kinds == sorted(kinds, reverse=True)
    assert kinds.count("rip") == 3
    # The sheet is too heavy for one: first it is parted after two strips and the kerf between them.
    assert [cut.setting.inches for cut in sheet.cuts[2:5]] == [Fraction(241, 8), 15, 15]


def test_offcut_comes_off_in_one_piece(s, check) -> None:
    (sheet,) = laid(s, check, *(s.part(f"p{at}", (55, 20)) for at in range(2))).sheets
    largest = max(sheet.offcuts, key=lambda offcut: offcut.length.mm * offcut.width.mm)
    assert (largest.length.inches, largest.width.inches) == (Fraction(325, 8) - Fraction(1, 4), Fraction(95, 2))


def test_a_board_too_short_or_too_narrow_is_an_error_at_the_part(s) -> None:
    long = s.part("long", (96, 2), stock=s.ONE_BY_FOUR)
    plan = s.plan_of(long)
    _, (problem,) = make_layouts(plan, make_cut_list(plan))
    assert (problem.code, problem.position) == ("longer-than-board", s.HERE)
    assert "at most 95 in long" in problem.mend
    wide = s.part("wide", (40, 5), stock=s.ONE_BY_FOUR)
    plan = s.plan_of(wide)
    _, (problem,) = make_layouts(plan, make_cut_list(plan))
    assert problem.code == "wider-than-board"
    assert "3-1/2 in wide" in problem.mend


@pytest.mark.parametrize(
    ("size", "mend"),
    [
        ((96, 40), "at most 95-1/2 in long"),
        ((90, 48), "at most 47-1/2 in wide"),
        ((100, 50), "95-1/2 in x 47-1/2 in"),
        ((40, 90), "grain"),
    ],
)
def test_a_part_larger_than_any_sheet_is_an_error(s, size, mend) -> None:
    plan = s.plan_of(s.part("panel", size))
    layouts, (problem,) = make_layouts(plan, make_cut_list(plan))
    assert problem.code == "larger-than-sheet"
    assert mend in problem.mend
    assert not layouts.sheets


def test_boards_are_bought_in_the_lengths_that_cost_least(s, check) -> None:
    """Three 30s and one 60 come from a 6 ft and an 8 ft (14) or two 8 ft (16): 95 holds 30+60, 71 holds 30+30."""
    parts = [s.part(f"p{at}", (30, "7/2"), stock=s.ONE_BY_FOUR) for at in range(3)]
    layouts = laid(s, check, *parts, s.part("q", (60, "7/2"), stock=s.ONE_BY_FOUR))
    assert bought(layouts) == [("1x4", 96, 1), ("1x4", 72, 1)]
    (need,) = layouts.needs
    assert need.board_feet == Fraction(4 * 168, 144)


def test_narrow_strips_share_a_board(s, check) -> None:
    layouts = laid(s, check, *(s.part(f"p{at}", (90, "3/2"), stock=s.ONE_BY_FOUR) for at in range(4)))
    assert bought(layouts) == [("1x4", 96, 2)]
    assert [cut.kind for cut in layouts.boards[0].cuts][:1] == ["crosscut"]


def test_a_glue_up_is_laid_out_as_strips_with_extra(s, check) -> None:
    panel = s.part("top", (40, 17), stock=s.ONE_BY_FOUR, glue_up=GlueUp(6, s.inches(3), Axis.Y, s.inches("1/2")))
    layouts = laid(s, check, panel)
    placed = [one for board in layouts.boards for one in board.placed]
    assert sorted(one.strip for one in placed) == [1, 2, 3, 4, 5, 6]
    assert {(one.length.inches, one.width.inches) for one in placed} == {(41, 3)}
    assert bought(layouts) == [("1x4", 96, 3)]


def test_strips_are_sawn_wider_by_what_is_planed_off_their_edges(s) -> None:
    panel = s.part("top", (40, 17), stock=s.ONE_BY_FOUR, glue_up=GlueUp(6, s.inches(3), Axis.Y, s.inches("1/2")))
    plan = s.plan_of(panel)
    plan = replace(plan, making=replace(plan.making, jointing=s.inches("1/16")))
    layouts, _ = make_layouts(plan, make_cut_list(plan))
    placed = [one for board in layouts.boards for one in board.placed]
    assert {one.width.inches for one in placed} == {Fraction(25, 8)}
    assert len(placed) == 6


def test_the_same_order_gives_the_same_layout(s) -> None:
    def once():
        sheets._cheapest.cache_clear()
        sheets._tidied.cache_clear()
        plan = s.plan_of(*(s.part(f"p{at}", (13 + 7 * at % 40, 9 + 5 * at % 17)) for at in range(14)))
        return make_layouts(plan, make_cut_list(plan))

    assert once() == once()


def test_an_order_that_was_laid_out_is_not_searched_again(s) -> None:
    """As in the editions of a plan: other names, the same pieces; one piece more is another order."""

    def layouts(name: str, count: int) -> None:
        plan = s.plan_of(*(s.part(f"{name}{at}", (13 + 7 * at, 9)) for at in range(count)))
        make_layouts(plan, make_cut_list(plan))

    layouts("a", 3)
    before = sheets._cheapest.cache_info()
    layouts("b", 3)
    after = sheets._cheapest.cache_info()
    assert (after.misses, after.hits) == (before.misses, before.hits + 1)
    layouts("c", 4)
    assert sheets._cheapest.cache_info().misses == after.misses + 1


SIDES = st.integers(2, 46)
# The same examples every run, and no shrinking: a layout takes too long to try hundreds.
QUIETLY = settings(
    max_examples=12,
    deadline=None,
    derandomize=True,
    phases=[Phase.explicit, Phase.generate],
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)


@QUIETLY
@given(sizes=st.lists(st.tuples(st.integers(2, 95), SIDES, st.booleans(), st.integers(1, 3)), min_size=1, max_size=8))
def test_random_sheet_orders_replay(s, check, sizes) -> None:
    parts = [
        s.part(f"p{at}_{copy}", (length, width), grain=locked)
        for at, (length, width, locked, copies) in enumerate(sizes)
        for copy in range(copies)
    ]
    laid(s, check, *parts)


@QUIETLY
@given(
    sizes=st.lists(
        st.tuples(st.integers(2, 95), st.sampled_from(["7/2", "3", "3/2", "1", "3/4"])), min_size=1, max_size=14
    )
)
def test_random_board_orders_replay(s, check, sizes) -> None:
    laid(s, check, *(s.part(f"p{at}", size, stock=s.ONE_BY_FOUR) for at, size in enumerate(sizes)))


def test_a_furniture_order_takes_a_moment(s, check) -> None:
    """A generous limit, against a search that runs away."""
    parts = [s.part(f"p{at}", (10 + 11 * at % 60, 5 + 3 * at % 20)) for at in range(30)]
    started = time.process_time()
    laid(s, check, *parts)
    assert time.process_time() - started < 10


def test_a_heavy_sheet_is_parted_near_its_middle(s, check) -> None:
    """The test sheet weighs 600 x 0.01826 = 11 kg a square metre, 33 kg in all: it is parted after two of the three strips."""
    (sheet,) = laid(s, check, *(s.part(f"p{at}", (31, 15)) for at in range(9))).sheets
    first = sheet.cuts[2]
    assert first.heavy
    assert first.setting.inches == 30 + Fraction(1, 8)
    assert not any(cut.heavy for cut in sheet.cuts[3:])


@pytest.mark.parametrize(
    ("saws", "guides"),
    [({"circular saw"}, {"straightedge"}), ({"circular saw", "table saw"}, {"straightedge", "fence"})],
)
def test_cuts_run_on_what_the_kit_has(s, saws, guides) -> None:
    """The table saw rips what one person carries, up to its fence's reach; all else is sawn along a straightedge."""
    parts = [s.part(f"p{at}", (31, 15)) for at in range(9)]
    plan = s.plan_of(*parts)
    catalogue = replace(plan.catalogue, kits={"own": Kit("own", "own", "", frozenset(saws))})
    plan = replace(plan, catalogue=catalogue, making=replace(plan.making, kit="own"))
    layouts, _ = make_layouts(plan, make_cut_list(plan))
    (sheet,) = layouts.sheets
    assert {cut.guide for cut in sheet.cuts} == guides
    for cut in sheet.cuts:
        if cut.guide == "fence":
            assert cut.kind == "rip"
            assert not cut.heavy
            assert cut.setting.inches <= 24


def test_matched_fronts_lie_in_order_in_one_strip(s, check) -> None:
    """Three drawer fronts side by side, grain along them: end to end in the order in which they stand, though their lengths differ."""
    fronts = [
        replace(s.part(f"f{at}", (length, 6), at=(x, 0, 0)), match="fronts")
        for at, (length, x) in enumerate([(12, 40), (20, 0), (16, 22)])
    ]
    layouts = laid(s, check, *fronts, *(s.part(f"p{at}", (30, 12)) for at in range(4)))
    placed = {one.part: one for sheet in layouts.sheets for one in sheet.placed}
    kerf = s.inches("1/8")
    assert placed["f1"].y == placed["f2"].y == placed["f0"].y
    assert placed["f2"].x == placed["f1"].x + placed["f1"].length + kerf
    assert placed["f0"].x == placed["f2"].x + placed["f2"].length + kerf


def test_matched_doors_lie_side_by_side(s, check) -> None:
    """Two doors with upright grain, side by side: edge to edge across the sheet."""
    axes = (Axis.Z, Axis.X, Axis.Y)
    doors = [
        replace(s.part(f"d{at}", (30, width), axes=axes, at=(x, 0, 0)), match="doors")
        for at, (width, x) in enumerate([(14, 15), (14, 0)])
    ]
    layouts = laid(s, check, *doors)
    placed = {one.part: one for sheet in layouts.sheets for one in sheet.placed}
    assert placed["d1"].x == placed["d0"].x
    assert placed["d0"].y == placed["d1"].y + placed["d1"].width + s.inches("1/8")


def test_matched_boards_come_from_one_board(s, check) -> None:
    sides = [
        replace(s.part(f"s{at}", (30, "7/2"), stock=s.ONE_BY_FOUR, at=(x, 0, 0)), match="sides")
        for at, x in ((0, 0), (1, 40))
    ]
    others = [s.part(f"o{at}", (40, "7/2"), stock=s.ONE_BY_FOUR) for at in range(3)]
    layouts = laid(s, check, *sides, *others)
    homes = {one.part: board.number for board in layouts.boards for one in board.placed}
    assert homes["s0"] == homes["s1"]


def test_the_grain_runs_on_round_a_box(s, check) -> None:
    """Front, right, back, left of a box of 20 x 10 in, written in another order: end to end on one board as one passes them, from the front."""
    stock = s.ONE_BY_FOUR
    long, deep = (Axis.X, Axis.Z, Axis.Y), (Axis.Y, Axis.Z, Axis.X)
    sides = [
        replace(s.part(name, (length, "7/2"), stock=stock, axes=axes, at=at), match="box")
        for name, length, axes, at in (
            ("front", 20, long, (0, 0, 0)),
            ("back", 20, long, (0, 10, 0)),
            ("left", 10, deep, (0, 0, 0)),
            ("right", 10, deep, (19, 0, 0)),
        )
    ]
    layouts = laid(s, check, *sides, s.part("other", (20, "7/2"), stock=stock))
    homes = [[one.part for one in sorted(board.placed, key=lambda one: one.x)] for board in layouts.boards]
    (home,) = [home for home in homes if "front" in home]
    assert [part for part in home if part != "other"] == ["front", "right", "back", "left"]


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        ([{"match": "a"}, {}], "match-alone"),
        ([{"match": "a"}, {"match": "a", "grain": None}], "match-without-grain"),
        ([{"match": "a"}, {"match": "a", "grain": Axis.Y}], "match-differs"),
    ],
)
def test_what_cannot_match_is_an_error(s, changes, code) -> None:
    parts = [replace(s.part(f"p{at}", (20, 10)), **change) for at, change in enumerate(changes)]
    plan = s.plan_of(*parts)
    _, problems = make_layouts(plan, make_cut_list(plan))
    assert [problem.code for problem in problems] == [code]
    assert problems[0].position == s.HERE


def test_matched_parts_longer_than_a_sheet_are_an_error(s) -> None:
    parts = [replace(s.part(f"p{at}", (50, 10), at=(at * 50, 0, 0)), match="a") for at in range(2)]
    plan = s.plan_of(*parts)
    _, problems = make_layouts(plan, make_cut_list(plan))
    assert [problem.code for problem in problems] == ["matched-too-large"]


RARE = SheetSize("5 x 5 ft", Length.of_inches(60), Length.of_inches(60), Fraction(50))


def with_rare(s, stock_changes, *sizes):
    stock = replace(s.PLY, sheets=(*s.PLY.sheets, replace(RARE, uncommon=True)), **stock_changes)
    plan = s.plan_of(*(s.part(f"p{at}", size, stock=stock) for at, size in enumerate(sizes)))
    layouts, problems = make_layouts(plan, make_cut_list(plan))
    return bought(layouts), problems


def test_sheets_that_few_stores_keep_are_bought_only_where_allowed(s) -> None:
    """A part of 58 x 40 in: the 5 x 5 ft sheet at 50 is cheaper than the full one at 60, but only the author may take it."""
    assert with_rare(s, {}, (58, 40))[0] == [("full sheet", None, 1)]
    assert with_rare(s, {"uncommon": True}, (58, 40))[0] == [("5 x 5 ft", None, 1)]


def test_what_only_an_uncommon_sheet_gives_is_an_error_that_says_so(s) -> None:
    found, (problem,) = with_rare(s, {}, (55, 55))
    assert found == []
    assert problem.code == "larger-than-sheet"
    assert "`special_order: yes`" in problem.mend
    assert with_rare(s, {"uncommon": True}, (55, 55)) == ([("5 x 5 ft", None, 1)], ())


def test_a_smaller_sheet_must_be_clearly_cheaper(s) -> None:
    """Half and quarter at 36 and 22 are 2 cheaper than the full sheet at 60: not worth a hunt. At 50 in all they are."""
    parts = [(40, 40), (40, 20)]

    def bought_at(half: int) -> list:
        sheets = (s.PLY.sheets[0], replace(s.PLY.sheets[1], price=Fraction(half)), s.PLY.sheets[2])
        stock = replace(s.PLY, sheets=sheets)
        plan = s.plan_of(*(s.part(f"p{at}", size, stock=stock) for at, size in enumerate(parts)))
        return sorted(name for name, *_ in bought(make_layouts(plan, make_cut_list(plan))[0]))

    assert bought_at(36) == ["full sheet"]
    assert bought_at(28) == ["half sheet", "quarter sheet"]


def test_whole_sheets_stand_in_for_smaller_ones(s, check) -> None:
    """Two half sheets' worth go on one full sheet where no halves are in stock; what fits beside them still does."""
    layouts = laid(s, check, s.part("a", (40, 40)))
    (need,) = layouts.needs
    assert need.substitute is not None
    size, _, count = need.substitute
    assert (size.name, count) == ("full sheet", 1)
    layouts = laid(s, check, s.part("a", (90, 40)))
    assert layouts.needs[0].substitute is None


def test_eight_foot_boards_stand_in_for_others(s, check) -> None:
    stock = s.board_stock("1x4", "7/2", ((48, 4), (96, 9)))
    layouts = laid(s, check, *(s.part(f"p{at}", (40, "7/2"), stock=stock) for at in range(3)))
    (need,) = layouts.needs
    assert [(length.inches, count) for _, length, count in need.buy] == [(48, 3)]
    assert need.substitute is not None
    _, length, count = need.substitute
    # Two pieces of 40 in and their kerfs in 95 in; the third takes another board.
    assert (length.inches, count) == (96, 2)


def lumber(s):
    foot = Fraction(8)
    board = BoardSize("4/4", s.inches("13/16"), s.inches(6), (s.inches(96),), (), s.inches(4), foot, Fraction(30, 100))
    board = replace(board, prices=(foot * board.board_feet(s.inches(96), s.inches(6)),))
    return Stock("oak", "oak lumber", s.ONE_BY_FOUR.material, "4/4", s.inches("13/16"), None, (), (board,))


def test_lumber_is_bought_by_the_board_foot(s, check) -> None:
    """An 8 ft board 6 in wide and 4/4 thick holds 4 board feet. Four parts of 40 x 2-3/4 in are 3.06; with 30 % on top 3.97: one board.
    Six are 4.58, 5.96 with the waste, and take two boards as laid: 8."""
    stock = lumber(s)
    assert stock.boards[0].board_feet(s.inches(96), s.inches(6)) == 4
    for count, feet in ((4, 4), (6, 8)):
        layouts = laid(s, check, *(s.part(f"p{at}", (40, "11/4"), stock=stock) for at in range(count)))
        (need,) = layouts.needs
        assert need.board_feet == feet
    plan = s.plan_of(*(s.part(f"p{at}", (40, "11/4"), stock=stock) for at in range(6)))
    layouts, _ = make_layouts(plan, make_cut_list(plan))
    (row,) = make_shopping_list(plan, layouts, (), (), ()).rows
    assert (row.quantity, row.unit, row.each, row.cost) == (8, "board feet", 8, 64)
    assert "30% for waste" in row.detail


def test_wider_than_lumber_is_an_error_that_asks_for_a_glue_up(s) -> None:
    plan = s.plan_of(s.part("wide", (40, 9), stock=lumber(s)))
    _, (problem,) = make_layouts(plan, make_cut_list(plan))
    assert (problem.code, problem.position) == ("wider-than-board", s.HERE)
    assert "glue_up" in problem.mend


def test_mouldings_are_cut_longer_for_their_mitres(s) -> None:
    """Two pieces of 47 in fit an 8 ft length (95 in after trims) square; with 1-1/2 in for mitres on each they do not."""
    for extra, count in ((0, 1), ("3/2", 2)):
        material = replace(s.ONE_BY_TWO.material, form=Form.MOULDING, extra=s.inches(extra))
        stock = replace(s.board_stock("round", "3/4", ((96, 8),)), material=material)
        plan = s.plan_of(*(s.part(f"p{at}", (47, "3/4"), stock=stock) for at in range(2)))
        layouts, problems = make_layouts(plan, make_cut_list(plan))
        assert not problems
        assert len(layouts.boards) == count
        (row,) = make_shopping_list(plan, layouts, (), (), ()).rows
        assert row.unit == ("length" if count == 1 else "lengths")


def planed_plan(s, kit: str):
    stock = replace(s.ONE_BY_FOUR, thickness=s.inches("1/2"))
    plan = s.plan_of(s.part("thin", (20, 3), stock=stock))
    planers = Kit("own", "own", "", frozenset({"thickness planer"}))
    catalogue = replace(plan.catalogue, kits={"own": planers})
    return replace(plan, catalogue=catalogue, making=replace(plan.making, kit=kit))


def test_thinner_than_its_board_needs_a_planer(s) -> None:
    plan = planed_plan(s, "common power tools")
    _, (problem,) = make_layouts(plan, make_cut_list(plan))
    assert (problem.code, problem.position) == ("needs-planing", s.HERE)
    assert "3/4 in" in problem.mend


def test_a_kit_with_a_planer_planes(s) -> None:
    plan = planed_plan(s, "own")
    cut_list = make_cut_list(plan)
    layouts, problems = make_layouts(plan, cut_list)
    assert not problems
    assert cut_list.items[0].note.startswith("Plane the board to 1/2 in first.")
    (row,) = make_shopping_list(plan, layouts, (), (), ()).rows
    assert "to be planed to 1/2 in" in row.detail
    assert planed(plan.stocks[0], plan.stocks[0].boards)


def test_a_panel_longer_than_any_board_is_told_its_own_limit(s) -> None:
    """Boards of 96 in give strips of 95; with 1/2 in to trim at each end that is a panel of 94."""
    panel = s.part("top", (95, 16), stock=s.ONE_BY_FOUR, glue_up=GlueUp(6, s.inches(3), Axis.Y, s.inches("1/2")))
    plan = s.plan_of(panel)
    _, (problem,) = make_layouts(plan, make_cut_list(plan))
    assert (problem.code, problem.position) == ("longer-than-board", s.HERE)
    assert "Make the panel at most 94 in long" in problem.mend


def test_a_cut_tells_how_long_it_is(s, check) -> None:
    (sheet,) = laid(s, check, s.part("p", (90, 40))).sheets
    assert sheet.cuts[0].run.inches == 96
    assert sheet.cuts[1].run.inches == Fraction(191, 4)


def test_oversize_parts_are_laid_out_larger_and_say_so(s, check) -> None:
    """20 x 10 with 1/4 in to trim along each edge is sawn 20-1/2 x 10-1/2; its cut-list row keeps the finished size."""
    part = replace(s.part("panel", (20, 10)), oversize=s.inches("1/4"))
    plan = s.plan_of(part, s.part("other", (20, 10)))
    cut_list = make_cut_list(plan)
    layouts, problems = make_layouts(plan, cut_list)
    assert not problems
    check(plan, cut_list, layouts)
    sizes = {one.part: (one.length.inches, one.width.inches) for sheet in layouts.sheets for one in sheet.placed}
    assert sizes["panel"] == (Fraction(41, 2), Fraction(21, 2))
    assert sizes["other"] == (20, 10)
    notes = {item.key: item.note for item in cut_list.items}
    assert notes["panel"].startswith("Cut 1/4 in larger along every edge")
    assert notes["other"] == ""


def test_short_pieces_are_ripped_while_they_are_part_of_a_long_one(s, check) -> None:
    """Two brackets of 3 in: the rest of the board is ripped along a straightedge, then they are cut off."""
    layouts = laid(s, check, *(s.part(f"b{at}", (3, "11/4"), stock=s.ONE_BY_FOUR) for at in range(2)))
    (board,) = layouts.boards
    assert [cut.kind for cut in board.cuts] == ["crosscut", "rip", "crosscut", "crosscut"]
    rip = board.cuts[1]
    assert rip.guide == "straightedge"
    assert rip.run.inches >= 12


def test_short_pieces_without_a_long_rest_are_ripped_to_a_line(s, check) -> None:
    """A shelf takes nearly all of the board: what is left is no work for a fence or a straightedge."""
    longest = max(length for board in s.ONE_BY_FOUR.boards for length in board.lengths)
    shelf = s.part("shelf", (longest.inches - 8, "7/2"), stock=s.ONE_BY_FOUR)
    brackets = [s.part(f"b{at}", (3, "11/4"), stock=s.ONE_BY_FOUR) for at in range(2)]
    layouts = laid(s, check, shelf, *brackets)
    rips = [cut for board in layouts.boards for cut in board.cuts if cut.kind == "rip"]
    assert len(layouts.boards) == 1
    assert {cut.guide for cut in rips} == {"line"}
