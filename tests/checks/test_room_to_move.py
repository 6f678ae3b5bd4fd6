"""Solid wood that is held with room to move: slotted screws, fasteners under a top, doors between sides; and the seasonal change itself."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from markupsafe import Markup
from tests.checks.conftest import figure, found
from tests.conftest import outcome_of

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.checks.context import Bench
from drawleaf.checks.stability import Frame, _open_doors
from drawleaf.joinery.moisture import change_over, seasonal_change
from drawleaf.model.checks import CheckSettings, Verdict
from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import BoxCut
from drawleaf.solids.build import build_solids
from drawleaf.units import Length

HEATED = CheckSettings()
STILL = CheckSettings(humidity=(50.0, 50.0))

TOP = """
dimensions: {{wide: 900 mm, deep: {deep} mm}}
stock:
  ply: {{material: birch plywood, nominal: 18 mm, actual: 18 mm}}
  ply24: {{material: birch plywood, nominal: 18 mm, actual: 24 mm}}
  oak: {{material: red oak board, size: 1x6}}
assemblies:
  table:
    parts:
      rail: {{stock: ply24, thickness: y, grain: x, left: 0, right: wide, front: 0, bottom: 0, high: 80 mm, repeat: {{along: y, at: [0 mm, deep - 24 mm]}}}}
      end: {{stock: ply, thickness: x, grain: y, left: 0, front: 24 mm, back: deep - 24 mm, bottom: 0, high: 80 mm, mirror: {{x: 450 mm}}}}
    joints:
      - {{butt: rail.1, to: end, with: [glue, screws]}}
      - {{butt: rail.2, to: end, with: [glue, screws]}}
  top:
    loose: yes
    parts:
      top: {{stock: oak, thickness: z, grain: x, left: 0, right: wide, front: 0, back: deep, bottom: table.rail.1.top, glue_up: {{widest_strip: 120 mm}}}}
    hardware:
      - {{item: {fastener}, on: [table.rail.1, table.rail.2], carries: top}}
checks: {{waive: [{{check: shelf-sag, reason: It is another matter.}}, {{check: tip-over, reason: It is another matter.}}]}}
"""


def top(checked, deep: int, fastener: str = "figure-8 fastener"):
    return found(checked(TOP.format(deep=deep, fastener=fastener)), "panel-room", "top.top")


@pytest.mark.parametrize(("deep", "verdict"), [(400, Verdict.PASS), (700, Verdict.ADVICE), (1200, Verdict.STOP)])
def test_a_top_on_figure_8s(checked, deep: int, verdict: Verdict) -> None:
    """A figure-8 lets a top move 3/16 in (4.8 mm) to either side. The top settles about its middle, so half its depth counts, less
    the 24 mm of the rail that the fastener sits behind: at 0.0177 mm a millimetre 3.1 mm of 400, 5.8 mm of 700, 10.2 mm of 1200."""
    result = top(checked, deep)
    assert figure(result, "room") == pytest.approx(4.76, abs=0.01)
    assert figure(result, "swells") == pytest.approx((deep / 2 - 24) * 0.0177, rel=0.01)
    assert result.verdict is verdict


def slotted(checked, deep: int):
    text = f"""
stock:
  ply: {{material: birch plywood, nominal: 18 mm, actual: 18 mm}}
  oak: {{material: red oak board, size: 1x6}}
assemblies:
  table:
    parts:
      base: {{stock: ply, thickness: z, grain: x, left: 0, right: 600 mm, front: 0, back: {deep} mm, bottom: 0}}
      top: {{stock: oak, thickness: z, grain: x, left: 0, right: 600 mm, front: 0, back: {deep} mm, bottom: base.top, glue_up: {{widest_strip: 120 mm}}}}
    joints:
      - {{butt: top, to: base, with: [{{screws: {{item: pan-head screw 8 x 1-1/4, count: 8, through: base, slots: yes}}}}]}}
checks: {{waive: [{{check: shelf-sag, reason: It lies on the floor.}}]}}
"""
    return found(checked(text), "panel-room", "table.top")


def test_slots_let_go_of_a_seat_and_not_of_a_wide_table(checked) -> None:
    """A slot is four clearance holes of 11/64 in long, 17.5 mm. A #8 screw (4.17 mm) in its middle slides by (17.46 - 4.17) / 2 = 6.65 mm
    to one side, enough for a seat and not for a table over a metre wide."""
    assert slotted(checked, 400).verdict is Verdict.PASS
    assert figure(slotted(checked, 400), "room") == pytest.approx(6.65, abs=0.01)
    assert slotted(checked, 1100).verdict is Verdict.ADVICE
    # The outermost screws stand 38 mm from its edges: (550 - 38) x 0.0177.
    assert figure(slotted(checked, 1100), "swells") == pytest.approx(9.06, abs=0.1)


def test_the_cabinets_top_has_its_room_on_one_side() -> None:
    """Its top is held at the front and slides at the back: 0.21 in of it, more than the 0.18 in that a slot of three holes leaves to one
    side of a screw in its middle, less than the 0.26 in of one of four."""
    top = next(
        one
        for one in outcome_of("record-cabinet").derived.checks
        if one.check == "panel-room" and "slots" in str(one.words)
    )
    assert 0.18 < figure(top, "swells") / 25.4 < figure(top, "room") / 25.4 == pytest.approx(0.262, abs=0.002)
    assert top.verdict is Verdict.PASS


@pytest.mark.parametrize("fastener", ["z-clip", "wooden button"])
def test_a_slot_along_the_movement_is_as_long_as_the_travel_told(checked, fastener: str) -> None:
    """A rail that runs across the grain of the top: the tongue slides along its slot, and what the check tells is what the slot has."""
    outcome = checked(TOP.format(deep=400, fastener=fastener).replace("[table.rail.1, table.rail.2]", "table.end"))
    told = found(outcome, "panel-room", "top.top")
    plan = outcome.derived.plan
    clip = next(fitting for fitting in plan.fittings if fitting.item.id == fastener)
    slots = [cut for cut in plan.part("table.end").features if isinstance(cut, BoxCut) and cut.kind == "recess"]
    assert slots
    for slot in slots:
        room = (slot.box.extent(Axis.Y) - clip.item.measure("wide")) / 2
        assert room.mm == pytest.approx(figure(told, "room"), abs=0.01)
        assert room == clip.item.measure("travel")


def test_a_slot_across_the_movement_needs_no_more_than_its_tongue(checked) -> None:
    plan = checked(TOP.format(deep=400, fastener="z-clip")).derived.plan
    slots = [cut for cut in plan.part("table.rail.1").features if isinstance(cut, BoxCut) and cut.kind == "recess"]
    assert {cut.box.extent(Axis.X) for cut in slots} == {Length.of_inches(1)}


@settings(deadline=None)  # the first turn reads the catalogue
@given(st.integers(1, 2000), st.integers(1, 2000))
def test_twice_the_wood_moves_twice(one: int, other: int) -> None:
    from tests.outside.published.catalogue import catalogue

    oak = catalogue().materials["red oak board"]
    a, b, both = (change_over(Length.of_mm(n), oak, HEATED) for n in (one, other, one + other))
    assert abs(a + b - both) <= Length.of_mm(Fraction(2, 1000))
    assert not change_over(Length.of_mm(one), oak, STILL)


def test_only_across_the_grain_and_only_solid_wood(checked) -> None:
    outcome = checked(TOP.format(deep=400, fastener="z-clip"))
    assert outcome.derived is not None, outcome.diagnostics
    plan = outcome.derived.plan
    oak, ply = plan.part("top.top"), plan.part("table.rail.1")
    assert seasonal_change(oak, HEATED) == change_over(Length.of_mm(400), oak.stock.material, HEATED)
    assert not seasonal_change(oak, HEATED, Axis.X)
    assert seasonal_change(oak, HEATED, Axis.Z) < seasonal_change(oak, HEATED)
    assert not seasonal_change(ply, HEATED)
    assert not seasonal_change(replace(oak, grain=None), HEATED)


DOOR = """
dimensions: {{gap: {gap} mm}}
stock:
  ply: {{material: birch plywood, nominal: 18 mm, actual: 18 mm}}
  oak: {{material: red oak board, size: 1x6}}
assemblies:
  case:
    parts:
      side: {{stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 250 mm, bottom: 0, top: 400 mm, mirror: {{x: 168 mm}}}}
      shelf: {{stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 25 mm, back: 250 mm, bottom: 20 mm, repeat: {{along: z, at: [0 mm, 350 mm]}}}}
    joints:
      - {{butt: shelf, to: side, with: [glue, screws]}}
  door:
    loose: yes
    parts:
      leaf: {{stock: oak, thickness: y, grain: z, left: case.side.right + 2 mm, right: case.side.mirrored.left - gap, front: 0, bottom: 0, top: 400 mm, glue_up: {{widest_strip: 120 mm}}}}
    hardware:
      - {{item: butt hinge 2 in, on: case.side.original, carries: door}}
"""


@pytest.mark.parametrize(("gap", "verdict"), [(5.8, Verdict.PASS), (3.5, Verdict.ADVICE), (2, Verdict.STOP)])
def test_a_solid_door_between_its_sides(checked, gap: float, verdict: Verdict) -> None:
    """A slab of oak 290 mm wide grows by about 5.2 mm away from its hinges: a gap of 5.8 there takes that, 3.5 does not, and in 2 it jams."""
    result = found(checked(DOOR.format(gap=gap)), "door-fit")
    assert result.verdict is verdict
    assert figure(result, "room that way") == pytest.approx(gap, abs=0.1)
    assert figure(result, "swells") == pytest.approx((300 - 2 - gap) * 0.01768, rel=0.03)


def test_a_solid_door_is_cut_to_its_opening_and_to_its_length(checked) -> None:
    """Glued up 12.5 mm too large all round: its width comes from the opening, its length, which no opening gives, from the drawing."""
    derived = checked(DOOR.format(gap=5.8)).derived
    step = next(one for one in derived.steps if one.id == "fit-door")
    words = [str(Markup(line).striptags()) for line in step_text(step, derived, Formatter.of(derived.plan)).actions]
    assert [line.split(":")[0] for line in words[1:]] == ["Width of the leaf 4", "Length of the leaf 4"]
    assert words[2] == "Length of the leaf 4: 400 mm, square to the edges."
    (note,) = [item.note for item in derived.cut_list.items if item.part.id == "door.leaf"]
    assert "too wide" not in note


FRAME = """
stock:
  oak: {{material: red oak board, size: 1x6}}
assemblies:
  frame:
    parts:
      stile: {{stock: oak, thickness: y, grain: z, left: 0, wide: {wide} mm, front: 0, bottom: 0, top: 500 mm, mirror: {{x: 300 mm}}}}
      rail: {{stock: oak, thickness: y, grain: x, {ends}, front: 0, bottom: 0, high: {wide} mm, mirror: {{z: 250 mm}}}}
    joints:
      - {joint}
"""
MITRED = {"ends": "left: 0, right: 600 mm", "joint": "{mitre: rail, to: stile, with: [glue]}"}
BUTTED = {"ends": "left: stile.right, right: stile.mirrored.left", "joint": "{butt: rail, to: stile, with: [glue]}"}


@pytest.mark.parametrize(("wide", "verdict"), [(50, Verdict.PASS), (80, Verdict.ADVICE), (135, Verdict.STOP)])
def test_a_wide_mitre_in_solid_wood_opens(checked, wide: int, verdict: Verdict) -> None:
    """Red oak swells by 0.0177 of its width; the mitre of two such parts opens by root 2 of that: 1.25, 2.0 and 3.4 mm."""
    outcome = checked(FRAME.format(wide=wide, **MITRED))
    result = found(outcome, "mitre-movement")
    assert result.verdict is verdict
    assert figure(result, "opens") == pytest.approx(wide * 0.01769 * 2**0.5, rel=0.01)
    assert found(outcome, "wood-movement").verdict is Verdict.PASS, "the mitre is told once"


@pytest.mark.parametrize(("wide", "verdict"), [(90, Verdict.PASS), (130, Verdict.ADVICE)])
def test_the_end_of_a_rail_may_be_glued_up_to_100_mm(checked, wide: int, verdict: Verdict) -> None:
    assert found(checked(FRAME.format(wide=wide, **BUTTED)), "wood-movement", "frame.rail").verdict is verdict


def test_an_open_door_hangs_out_in_front(checked) -> None:
    """Swung square out, the weight of a door lies as far in front of its face as it lay from its hinges: half its width."""
    derived = checked(DOOR.format(gap=5.8)).derived
    assert derived is not None
    (weight,) = list(_open_doors(Bench(derived, build_solids(derived.plan)), Frame(Face.FRONT, 0.0, 0.0)))
    wide = 300 - 2 - 5.8
    assert weight.behind == pytest.approx(-wide / 2, abs=4)
    assert weight.mass == pytest.approx(wide * 400 * 19.05 / 1e9 * 705.6, rel=0.02)
