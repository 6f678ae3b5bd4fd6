"""Mitres: any corner along its diagonal, with the settings of the saw, the room to creep up on the fit, splines and pins."""

from __future__ import annotations

from itertools import pairwise
from math import atan2, degrees

import numpy as np
import pytest

from drawleaf.checks.proportions import verdict_of
from drawleaf.draw.sight.hidden_lines import project
from drawleaf.draw.sight.view import FRONT
from drawleaf.joinery import family_called
from drawleaf.joinery.proportion import Made
from drawleaf.model.checks import Verdict
from drawleaf.setting_out.mitres import mitre_waste, mitres, spline_size, spline_slots
from drawleaf.solids.build import build_solids
from drawleaf.units import Length
from shape_trials import BOX, CASE, FRAME, derived_of, outcome_of, words_of

UNEVEN = FRAME.replace("stile: {stock: strip", "stile: {stock: wide")


def test_a_frame_is_mitred_at_45_degrees_and_keeps_its_outside_lengths() -> None:
    derived = derived_of(FRAME)
    rail = derived.plan.part("frame.rail")
    assert [(float(one.mitre), float(one.tilt), one.sort) for one in mitres(rail)] == [(45, 0, "end")] * 2
    assert derived.cut_list.item_of("frame.rail").length == Length.of_inches(20)
    assert "from long point to long point" in derived.cut_list.item_of("frame.rail").note


@pytest.mark.parametrize(("part", "across", "along"), [("frame.rail", 1.5, 3.5), ("frame.stile", 3.5, 1.5)])
def test_unlike_widths_meet_along_the_diagonal(part: str, across: float, along: float) -> None:
    """A mitre from square is the angle whose tangent is the other part's width over the part's own; the two make 90 degrees."""
    found = mitres(derived_of(UNEVEN).plan.part(part))
    assert [float(one.mitre) for one in found] == pytest.approx([degrees(atan2(along, across))] * 2, abs=0.05)


@pytest.mark.parametrize("text", [FRAME, UNEVEN])
def test_the_parts_fill_the_frame_and_share_no_wood(text: str) -> None:
    derived = derived_of(text)
    solids = build_solids(derived.plan)
    wide = 3.5 if text is UNEVEN else 1.5
    ring = 20 * 16 - (20 - 2 * wide) * (16 - 3)
    total = sum(solids.solid(part.id).volume for part in derived.plan.parts) / 25.4**3
    assert total == pytest.approx(ring * 0.75, rel=1e-9)


def test_the_seam_is_drawn_from_corner_to_corner() -> None:
    """Seen from the front, a line runs from the outer to the inner corner of the frame."""
    derived = derived_of(FRAME)
    work = project(build_solids(derived.plan), FRONT, tuple(part.id for part in derived.plan.parts))
    ends = [pair for line in work.visible for pair in pairwise(np.array(line.points))]
    outer, inner = np.array([0.0, 0.0]), np.array([1.5, 1.5]) * 25.4

    def joins(a: np.ndarray, b: np.ndarray) -> bool:
        return bool(np.allclose(a, outer, atol=0.01) and np.allclose(b, inner, atol=0.01))

    assert any(joins(a, b) or joins(b, a) for a, b in ends)


def test_boards_are_laid_out_with_room_at_each_mitre() -> None:
    """Half an inch at each end, for creeping up; and the crosscut stops there."""
    derived = derived_of(FRAME)
    assert mitre_waste(derived.plan.part("frame.rail")) == Length.of_inches(1)
    placed = {one.part: one.length for board in derived.layouts.boards for one in board.placed}
    assert placed["frame.rail"] == Length.of_inches(21)
    assert any("Stop 21" in line for line in words_of(FRAME, "cut-boards"))


def test_the_step_cuts_one_end_and_creeps_up_on_the_other() -> None:
    said = words_of(FRAME, "mitre-rail")
    assert said[0] == "Miter 45°"
    assert any(line.startswith("Miter one end of every piece.") for line in said)
    assert any("creep up on the mark" in line for line in said)


def test_a_case_corner_lies_flat_under_a_tilted_blade_or_stands_where_it_is_narrow() -> None:
    assert words_of(BOX, "mitre-long")[0] == "Blade tilt 45°"
    crown = words_of(CASE.replace("STOCK", "crown"), "mitre-front-crown")
    assert crown[0] == "Miter 45°"
    assert any("Stand the molding at the saw, its flat back against the fence" in line for line in crown)


def test_splines_have_slots_in_both_parts() -> None:
    derived = derived_of(BOX)
    slots = spline_slots(derived.plan.part("box.long"))
    assert [spline_size(slot) for slot in slots] == [(Length.of_inches(1) / 8, Length.of_inches(1) / 2)] * 2


def test_slots_take_what_they_say() -> None:
    """Each slot is 1/8 wide and 1/4 deep in each part, 5 in long; the mitred ring of 14 x 10 holds the rest."""
    solids = build_solids(derived_of(BOX).plan)
    parts = [part for part in derived_of(BOX).plan.parts if not part.brought]
    total = sum(solids.solid(part.id).volume for part in parts) / 25.4**3
    ring = (14 * 10 - 12.5 * 8.5) * 5
    assert total == pytest.approx(ring - 4 * (1 / 8) * (1 / 2) * 5, rel=1e-6)


@pytest.mark.parametrize(
    ("thick", "verdict"), [("1/8", Verdict.PASS), ("5/16", Verdict.ADVICE), ("7/16", Verdict.STOP)]
)
def test_a_thick_spline_is_advised_against(thick: str, verdict: Verdict) -> None:
    plan = outcome_of(BOX.replace("{thickness: 1/8", f"{{thickness: {thick}")).derived
    if plan is None:
        assert verdict is Verdict.STOP
        return
    joint = plan.plan.joints[0]
    made = Made(joint, plan.plan.part(joint.insert), plan.plan.part(joint.receiver))
    rules = family_called("mitre").proportions(made)  # type: ignore[attr-defined]
    assert {verdict_of(rule) for rule in rules} == {verdict}


def test_pins_go_through_one_part_into_the_other() -> None:
    """Two to a corner of this frame, through the stiles' outer edges into the rails' ends, each held by both."""
    derived = derived_of(FRAME.replace("with: [glue]", "with: [glue, {brads: {count: 2}}]"))
    pins = [pin for joint in derived.plan.joints for pin in joint.fasteners]
    assert len(pins) == 8
    assert {pin.through.removesuffix(".mirrored") for pin in pins} == {"frame.stile"}
    through = derived_of(FRAME.replace("with: [glue]", "with: [glue, {brads: {count: 2, through: rail}}]"))
    turned = [pin for joint in through.plan.joints for pin in joint.fasteners]
    assert {pin.direction[2] for pin in turned} == {1.0, -1.0}
