"""Pictures of steps: parts as far as they are made, figures for squaring and glueing up, the line that names the marks."""

from __future__ import annotations

import re
from collections import Counter
from functools import cache

import pytest
from tests.conftest import PLANS, outcome_of, solids_of
from tests.draw.legibility import faults

from drawleaf.derive.layout.like_boards import like_runs
from drawleaf.draw.at_step.joined import pieces_at
from drawleaf.draw.at_step.so_far import part_so_far, solids_so_far
from drawleaf.draw.paper.frame import Room
from drawleaf.draw.step.cutting_drawing import draw_cutting
from drawleaf.draw.step.drawing import LOW, NARROW, TALL, draw_step
from drawleaf.draw.step.glue_up_drawing import draw_glue_up, is_glue_up
from drawleaf.draw.step.squaring import squared
from drawleaf.draw.template.subjects import template_subjects, templates_for
from drawleaf.model.derived import Derived
from drawleaf.model.place import Face

ROOM = Room(170.0, 82.0)


@cache
def derived_of(name: str) -> Derived:
    derived = outcome_of(name).derived
    assert derived is not None
    return derived


@pytest.mark.parametrize("name", PLANS)
def test_parts_are_drawn_as_far_as_they_are_made(name):
    """Before a step its cuts are not there; from then on they are."""
    derived = derived_of(name)
    seen = 0
    for step in derived.steps:
        for operation in step.operations:
            for part_id, feature in operation.features:
                part = derived.plan.part(part_id)
                before = next((one for one in derived.steps if one.number == step.number - 1), None)
                assert feature in part_so_far(derived, step, part).features
                if before is not None:
                    assert feature not in part_so_far(derived, before, part).features
                    seen += 1
    assert seen > 0


def test_the_last_step_shows_the_very_solids_of_the_plan():
    derived = derived_of("key-ledge")
    solids = solids_of("key-ledge")
    shown = [part.id for part in derived.plan.parts]
    assert solids_so_far(derived, solids, derived.steps[-1], shown) is solids
    first = solids_so_far(derived, solids, derived.steps[0], shown)
    assert first is not solids
    assert sum(first.solid(one).volume for one in shown) > sum(solids.solid(one).volume for one in shown)


def _lines(svg: str, style: str) -> int:
    """How many runs the path of a style has."""
    found = re.search(rf'<path class="{style}"[^>]* d="([^"]*)"', svg) or re.search(
        rf'd="([^"]*)"[^>]*class="{style}"', svg
    )
    return found.group(1).count("M") if found else 0


def test_squaring_has_a_figure_with_both_diagonals():
    """The parts that the step squares, whole, and two lines across them besides the one in the line below."""
    derived = derived_of("boot-bench")
    solids = solids_of("boot-bench")
    steps = [step for step in derived.steps if squared(step)]
    assert len(steps) >= 3
    for step in steps:
        assert len(squared(step)) > 2
        svg = draw_step(derived, solids, step, (TALL,))[0].svg
        assert _lines(svg, "measure") == 3
        assert "measure A and B: equal" in svg


def test_a_glue_up_shows_strips_and_clamps_in_turn():
    derived = derived_of("boot-bench")
    step = next(step for step in derived.steps if is_glue_up(step))
    (drawing,) = draw_glue_up(derived, step, (ROOM,))
    part = next(part for part in derived.plan.parts if part.glue_up is not None)
    assert part.glue_up is not None
    clamps = sum(use.count for use in step.clamps)
    assert drawing.svg.count(">under<") == (clamps + 1) // 2
    assert drawing.svg.count(">over<") == clamps // 2
    assert _lines(drawing.svg, "new-edge") == part.glue_up.strips - 1


def test_clamps_that_stand_close_are_told_apart_once_below():
    """Eleven of them in half a page: a word at each would run into the next, so that two lines say it for all."""
    derived = derived_of("boot-bench")
    step = next(step for step in derived.steps if is_glue_up(step))
    (drawing,) = draw_glue_up(derived, step, (Room(52, 90),))
    assert ">under<" not in drawing.svg
    assert ">over<" not in drawing.svg
    assert drawing.svg.count("clamp under the panel<") == drawing.svg.count("clamp over it<") == 1
    assert drawing.height_mm <= 90


@pytest.mark.parametrize("name", PLANS)
def test_marks_are_named_below_the_picture(name):
    """Where screws, brads or clamps are drawn, a line says what the sign means; nowhere else."""
    derived = derived_of(name)
    solids = solids_of(name)
    for step in derived.steps:
        if step.scene is None or not step.scene.moves:
            continue
        svg = draw_step(derived, solids, step, (TALL,))[0].svg
        kinds = {"brad" if "brad" in f.item.kind else "screw" for f in step.scene.fasteners}
        for kind in ("screw", "brad"):
            named = f">{kind}<" in svg or f">{kind} driven from behind<" in svg
            assert named == (kind in kinds), (step.number, kind)


@pytest.mark.parametrize("name", PLANS)
def test_templates_name_their_hole_and_serve_their_steps(name):
    derived = derived_of(name)
    subjects = template_subjects(derived)
    assert subjects
    served = templates_for(derived)
    assert {number for numbers in served.values() for number in numbers} == set(range(1, len(subjects) + 1))
    for subject in subjects:
        if subject.title == "shelf-pin holes":
            assert subject.first == "bottom hole"
            # The named hole is the lowest on the standing piece.
            toward = next(face for face in (subject.lay.right, subject.lay.up) if face.axis is Face.TOP.axis)
            heights = [hole.across if toward is subject.lay.right else hole.up for hole in subject.holes]
            lowest = min(heights) if toward is Face.TOP else max(heights)
            assert heights[0] == lowest


def test_every_piece_cut_in_a_step_has_its_number_in_the_picture():
    """The rails in their stack on a sheet and the thin edgings on a board have theirs outside, all others inside; one of several
    boards that are cut alike stands for all."""
    derived = derived_of("boot-bench")
    runs = (*like_runs(derived.layouts.sheets), *like_runs(derived.layouts.boards))
    layouts = [run[0] for run in runs]
    steps = [step for step in derived.steps if step.scene is not None and step.scene.layout is not None]
    assert steps
    for step in steps:
        cut = Counter(piece.number for one in layouts for piece in one.placed if piece.part in step.parts)
        for drawing in draw_cutting(derived, step, (ROOM, Room(170.0, 60.0))):
            shown = Counter(int(text) for text in re.findall(r">(\d+)</text>", drawing.svg))
            assert all(shown[number] >= count for number, count in cut.items()), (step.title, cut, shown)


def test_a_chamfer_is_tinted_and_the_holes_beside_it_are_not():
    """The walls of a peg hole slant as a chamfer does: where the step saws chamfers they are no work of it."""
    derived = outcome_of("trestle-table").derived
    assert derived is not None
    step = next(step for step in derived.steps if step.id == "clip-corner-foot")
    (drawing,) = draw_step(derived, solids_of("trestle-table"), step, (ROOM,))
    # One chamfer of each of the two parts looks at the viewer.
    assert _lines(drawing.svg, "new-outline") == 2


@pytest.mark.parametrize(("name", "sizes"), [("step-stool", [12, 1]), ("trestle-table", [5, 5, 1, 1, 1, 3])])
def test_what_is_glued_is_coated_and_drawn_in_one(name: str, sizes: list[int]):
    """The stool's base stands and its top is loose; the table has two trestles, a stretcher, two wedges and a top with its ends."""
    derived = derived_of(name)
    coat = next(step for step in derived.steps if step.operations[0].kind == "coat")
    assert [len(piece) for piece in pieces_at(derived, coat)] == sizes
    sand = next(step for step in derived.steps if step.operations[0].kind == "sand-parts")
    assert pieces_at(derived, sand) == ()
    (drawing,) = draw_step(derived, solids_of(name), coat, (ROOM,))
    assert "on its own" not in drawing.alt


def test_a_frame_with_dowels_alone_is_not_said_to_be_screwed():
    titles = [step.title for step in derived_of("step-stool").steps]
    assert "Glue the front frame together" in titles
    assert [title for title in titles if title.startswith("Glue and screw")] == []


@pytest.mark.parametrize("name", ["boot-bench", "tool-tote"])
def test_parts_that_are_still_loose_lie_by_themselves_however_many(name: str) -> None:
    """Fourteen kinds of parts were sanded in a picture of the finished bench, in which half of them could not be seen. No caption lies upon
    another."""
    derived = derived_of(name)
    step = next(step for step in derived.steps if step.title == "Sand the parts")
    assert step.scene is not None
    items = {derived.cut_list.item_of(part).number for part in step.scene.new}
    assert len(items) > 8
    for room in (TALL, LOW, NARROW):
        (drawing,) = draw_step(derived, solids_of(name), step, (room,))
        shown = [pane.shown for pane in drawing.panes]
        assert {derived.cut_list.item_of(part).number for (part,) in shown} == items
        assert len(shown) == len(items)
        assert all(f">{number}<" in drawing.svg for number in items)
        assert faults(drawing.svg) == []


@pytest.mark.parametrize("name", ["boot-bench", "tool-tote"])
def test_many_parts_in_too_little_room_are_small_and_all_there(name: str) -> None:
    """Captions as wide as the column left nothing for the parts, and the drawing failed."""
    derived = derived_of(name)
    step = next(step for step in derived.steps if step.title == "Sand the parts")
    (drawing,) = draw_step(derived, solids_of(name), step, (Room(30.0, 40.0),))
    assert len(drawing.panes) == len({derived.cut_list.item_of(part).number for part in step.scene.new})
    assert all(pane.box[2] > pane.box[0] for pane in drawing.panes)
