"""What a buyer of the trestle table stumbled over: orders that cannot be followed, figures at odds, words that do not help."""

from __future__ import annotations

import re

import pytest
from tests.conftest import outcome_of

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text


@pytest.fixture(scope="module")
def derived():
    found = outcome_of("trestle-table").derived
    assert found is not None
    return found


@pytest.fixture(scope="module")
def actions(derived):
    """The actions of a step by the name of any of its operations, without markup."""
    fmt = Formatter.of(derived.plan)

    def of(name: str) -> list[str]:
        step = next(step for step in derived.steps if name in (step.id, *step.also))
        return [
            re.sub(r"<[^>]+>", "", str(line)).replace("\u00a0", " ") for line in step_text(step, derived, fmt).actions
        ]

    return of


def test_cheeks_are_routed_in_no_deeper_passes_than_the_caution_allows(actions) -> None:
    """15 mm of cheek take three passes of the quarter inch (6.35 mm), 12.5 mm take two."""
    assert any("in three passes" in line for line in actions("tenon-post"))
    assert any("in two passes" in line for line in actions("tenon-stretcher"))


def test_all_chamfers_are_marked_before_the_first_is_sawn(actions) -> None:
    lines = actions("clip-corner-foot")
    sawn = next(place for place, line in enumerate(lines) if line.startswith("Turn the saw"))
    marked = [place for place, line in enumerate(lines) if "along both edges" in line]
    assert len(marked) == 2
    assert max(marked) < sawn


def test_glue_is_on_before_the_breadboard_end_goes_home(actions) -> None:
    lines = actions("assemble-top-end")
    assert lines[0].startswith("Spread wood glue on the middle tenon alone")
    assert lines[1].startswith("Push the breadboard ends")


def test_buttons_go_into_their_slots_when_the_base_lies_upside_down(actions) -> None:
    lines = actions("fasten-top")
    assert "upside down" in lines[0]
    assert lines[1].startswith("Push the tongue of a wooden button")
    assert lines[1].endswith("Set it in the middle of the length of its slot: the top moves along it, to both sides.")


def test_a_rail_pierced_right_through_is_worked_from_both_sides(actions) -> None:
    """The step begins with the posts, whose mortises are blind; the rails in it are told of all the same."""
    [line] = [line for line in actions("mortise-rail") if "far side" in line]
    assert line.startswith("In both rails")
    assert "post" not in line


def test_the_board_of_the_wedges_is_squared_first(actions) -> None:
    """No longer part was cut from it, so its rough end is still on."""
    assert actions("cut-short-parts")[0].startswith("Square the end of the board first: cut off 15 mm")


def test_both_breadboard_ends_are_told_of_by_an_edge_that_both_have(actions) -> None:
    assert actions("mortise-end")[0].startswith("Mark the inner edge of the breadboard ends")


def test_sixteen_pegs_do_not_run_into_their_size(actions) -> None:
    assert any("sixteen 12 x 150 mm hardwood pegs" in line for line in actions("square-trestles"))


def test_bits_and_chisels_are_told_by_all_their_sizes(derived) -> None:
    whys = {row.tool.id: row.why for row in derived.tools}
    assert whys["drill bits"] == "Diameters: 3 mm, 8 mm, 9.5 mm, 12 mm, 15 mm and 20 mm."
    assert whys["chisel"] == "Widths: 8 mm, 15 mm and 20 mm."


def test_clamps_are_sold_in_whole_millimetres_where_the_plan_is_metric(derived) -> None:
    """And those that lie across the panel stand under bar clamps alone."""
    whys = {row.tool.id: row.why for row in derived.tools}
    assert "11 that open 900 mm (step 5)" in whys["bar clamps"]
    assert "900 mm (step 5)" not in whys["clamps"]
    opened = [use.opening for step in derived.steps for use in step.clamps]
    assert opened
    assert all(opening.mm % 10 == 0 for opening in opened)


def test_counts_in_words_reach_to_twenty() -> None:
    fmt = Formatter.of(outcome_of("trestle-table").derived.plan)
    assert [fmt.count_word(count) for count in (0, 1, 11, 20, 21)] == ["no", "one", "eleven", "twenty", "21"]


def test_what_comes_apart_again_is_knocked_home_with_the_mallet(derived) -> None:
    """Neither clamps nor a square hold it; and while one trestle stands the title does not speak of two."""
    steps = {name: step for step in derived.steps for name in (step.id, *step.also)}
    assert [tool.id for tool in steps["join-stretcher"].tools][:1] == ["mallet"]
    assert steps["join-stretcher"].title == "Fit the stretcher to one trestle"
    assert steps["join-wedges"].title == "Fit the other trestle to the stretcher, and add the wedges"


def test_two_openings_that_stand_alike_from_both_ends_are_told_once(actions) -> None:
    (line,) = [one for one in actions("cutout-stretcher") if "opening" in one]
    assert line.startswith("Mark two openings 34 mm by 20 mm on the front face of the stretcher")
    assert "one 39 mm from each end and 25 mm from either edge" in line


def test_a_wedge_is_set_against_a_face_that_can_be_found(actions) -> None:
    assert "against the outside face of both rails" in actions("join-wedges")[1]


def test_a_wedge_goes_through_its_slot(actions) -> None:
    lines = actions("join-wedges")[1:]
    assert "through the openings in the stretcher" in lines[0]
    assert "until the shoulders of the stretcher" in lines[1]
    assert "55 mm from the back edge of the front post" in lines[2]


def test_pegs_are_driven_when_the_corners_are_square(actions, derived) -> None:
    """After drawbored pegs nothing moves: the diagonals come first, and the glue is still wet."""
    lines = actions("square-trestles")
    assert [place for place, line in enumerate(lines) if "diagonal" in line][-1] < next(
        place for place, line in enumerate(lines) if "pegs in with the hammer" in line
    )
    assert "while you drive the pegs, and until the glue has set" in " ".join(lines)
    glued = next(step for step in derived.steps if step.id == "assemble-trestles-rail")
    assert not [fastener for op in glued.operations for fastener in op.fasteners]


def test_long_panels_have_cauls_in_the_middle(actions) -> None:
    assert any("across each end and across the middle" in line for line in actions("glue-up-panel"))


def test_no_mark_is_told_twice_in_one_line(derived) -> None:
    """Grooves that several joints cut in one part alike are one groove to whoever marks it."""
    fmt = Formatter.of(derived.plan)
    for step in derived.steps:
        for line in step_text(step, derived, fmt).actions:
            clauses = str(line).removeprefix("Mark ").split("; ")
            assert len(clauses) == len(set(clauses)), (step.id, line)
