"""Sheets for someone whose straightedge is shorter than a sheet: crosscut first, and what is longer all the same says so."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from types import SimpleNamespace

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st

from drawleaf.derive.cut_list.cut_list import make_cut_list
from drawleaf.derive.layout.layouts import make_layouts
from drawleaf.model.tool_sets import Kit
from drawleaf.resources import shared_folders
from drawleaf.source.library import load_library
from drawleaf.units import Length

SHELVES = (*[(44, 11)] * 8, *[(30, 11)] * 3, *[(20, 9)] * 2)


@pytest.fixture
def s(shop) -> SimpleNamespace:
    return SimpleNamespace(**shop)


def laid(s, check, straightedge: int | None, sizes=SHELVES, tools: frozenset[str] = frozenset()):
    plan = s.plan_of(*(s.part(f"p{at}", size) for at, size in enumerate(sizes)))
    edge = None if straightedge is None else s.inches(straightedge)
    catalogue = replace(plan.catalogue, kits={"own": Kit("own", "own", "", tools, (), edge)})
    plan = replace(plan, catalogue=catalogue, making=replace(plan.making, kit="own"))
    cut_list = make_cut_list(plan)
    layouts, problems = make_layouts(plan, cut_list)
    assert not problems
    check(plan, cut_list, layouts)
    return layouts


def test_the_first_cuts_are_crosscuts(s, check) -> None:
    """With 50 in every cut but the trim of the factory edge runs no farther than that, on as many sheets as with a long one."""
    long, short = laid(s, check, None), laid(s, check, 50)
    assert len(short.sheets) == len(long.sheets)
    assert max(cut.run for sheet in long.sheets for cut in sheet.cuts).inches > 90
    for sheet in short.sheets:
        edge, *others = sheet.cuts
        assert edge.frees == "the rough edge"
        assert edge.guide == ("straightedge moved along" if sheet.sheet.length > s.inches(50) else "straightedge")
        assert max(cut.run for cut in others) <= s.inches(50)
        assert {cut.guide for cut in others} <= {"straightedge", "line"}


def test_a_long_part_cannot_be_ripped_in_one_go_and_says_so(s, check) -> None:
    layouts = laid(s, check, 50, [(80, 15), (80, 15)])
    runs = [(cut.run > s.inches(50), cut.guide) for sheet in layouts.sheets for cut in sheet.cuts]
    assert (True, "straightedge moved along") in runs
    assert all((guide == "straightedge moved along") == far for far, guide in runs)


def test_one_as_long_as_a_sheet_changes_nothing(s, check) -> None:
    assert laid(s, check, 96).sheets == laid(s, check, None).sheets


def test_every_kit_of_ours_reaches_along_the_sheets_that_stores_sell() -> None:
    library, problems = load_library(shared_folders(None))
    assert not [one for one in problems if one.is_error]
    kits = library.catalogue.kits.values()
    assert len(kits) >= 4
    assert all(kit.straightedge is not None and kit.straightedge >= Length.of_mm(2440) for kit in kits)


@settings(
    max_examples=6,
    deadline=None,
    derandomize=True,
    phases=[Phase.explicit, Phase.generate],
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(
    straightedge=st.sampled_from([30, 50, 70]),
    sizes=st.lists(
        st.tuples(st.integers(3, 40), st.integers(2, 30), st.sampled_from(["", "", "", "a"])), min_size=1, max_size=10
    ),
)
def test_random_orders_with_matched_parts_replay(s, check, straightedge: int, sizes) -> None:
    """Sawn again by the checker; a cut says that the straightedge is moved exactly where it runs farther; matched parts lie end to end."""
    together = sum(match == "a" for *_, match in sizes) > 1
    parts = [
        replace(s.part(f"p{at}", size, at=(at * 50, 0, 0)), match=match if together else "")
        for at, (*size, match) in enumerate(sizes)
    ]
    plan = s.plan_of(*parts)
    kit = Kit("own", "own", "", frozenset(), (), s.inches(straightedge))
    plan = replace(plan, catalogue=replace(plan.catalogue, kits={"own": kit}), making=replace(plan.making, kit="own"))
    cut_list = make_cut_list(plan)
    layouts, problems = make_layouts(plan, cut_list)
    if problems:
        assert {problem.code for problem in problems} == {"matched-too-large"}
        return
    check(plan, cut_list, layouts)
    for sheet in layouts.sheets:
        for cut in sheet.cuts:
            if cut.guide != "line":
                assert (cut.guide == "straightedge moved along") == (cut.run > s.inches(straightedge))
    places = {one.part: (sheet.number, one) for sheet in layouts.sheets for one in sheet.placed}
    row = [places[part.id] for part in parts if part.match]
    for (home, one), (other_home, other) in pairwise(row):
        assert home == other_home
        assert (other.x, other.y) == (one.x + one.length + plan.making.kerf, one.y)
