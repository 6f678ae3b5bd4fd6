"""What a reader found in two pieces that nobody had tuned for, rule by rule on small plans."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from tests.shape_trials import words_in
from tests.small_plans import derived_from, plan_from

from drawleaf.checks.proportions import _settable
from drawleaf.compiler import Choice, read_and_resolve
from drawleaf.joinery.mortise_and_tenon.geometry import _length
from drawleaf.model.derived import Derived
from drawleaf.model.fitted import FittedAs
from drawleaf.model.place import Face
from drawleaf.units import Length, Units

HEAD = "plan: {title: T, number: T-1, date: 2026-11-30, author: A. Maker, lengths: mm}\n"
CHEST = (
    HEAD
    + """
stock:
  board: {material: beech board, size: 20x120}
assemblies:
  box:
    parts:
      side: {stock: board, thickness: x, full_width: z, grain: y, left: 10, front: 0, deep: 420, bottom: 0, mirror: {x: 300}}
      back: {stock: board, thickness: y, full_width: z, grain: x, between: side, back: side.back, bottom: 0}
      front: {like: back, front: 0}
    joints: [{butt: [front, back], to: side, with: [glue, {dowels: 2}]}]
  lid:
    parts:
      panel: {stock: board, thickness: z, grain: x, left: end.right, right: end.mirrored.left, front: 0, deep: 420, bottom: box.side.top, glue_up: {widest_strip: 110}}
      end: {stock: board, thickness: z, grain: y, left: 0, wide: 70, front: 0, deep: 420, bottom: box.side.top, mirror: {x: 300}}
    joints: [{breadboard: panel, in: end, with: [glue]}]
    hardware:
      - {item: butt hinge 2 in, on: box.back, carries: lid}
      - {item: lid stay, on: box.side.original, other_half_on: end.original, at: {y: 200}}
"""
)
DRAWER = (
    HEAD
    + """
stock:
  board: {material: beech board, size: 20x90}
assemblies:
  box:
    parts:
      side: {stock: board, thickness: x, full_width: z, grain: y, left: 0, front: 0, deep: 180, bottom: 0, mirror: {x: 250}}
      end: {stock: board, thickness: y, full_width: z, grain: x, left: 0, right: 500, front: 0, bottom: 0, mirror: {y: 90}}
    joints: [{dovetail: side, in: end, with: [glue]}]
"""
)


def all_words(derived: Derived, *ids: str) -> str:
    return " ".join(line for step in derived.steps if step.id.startswith(ids) for line in words_in(derived, step.id))


def test_a_stay_sits_inside_of_its_box_whichever_part_of_the_lid_takes_it() -> None:
    """The breadboard end lies over the side and beyond it: by its own middle the stay went on the outside of the box."""
    stay = next(one for one in plan_from(CHEST).fittings if one.item.kind == "lid stay")
    assert stay.face is Face.RIGHT


def test_glue_on_a_breadboard_is_glue_on_its_middle_tenon() -> None:
    """An author who writes glue there means the joint's own glue. Glued all along, the lid would split."""
    derived = derived_from(CHEST)
    assert not any(joint.glued for joint in derived.plan.joints if joint.family.caps_end)
    words = all_words(derived, "assemble-lid", "join-lid")
    assert "middle tenon alone" in words
    assert "glue in the breadboard" not in words


def test_clamps_press_tails_home_the_way_they_come() -> None:
    """Along the ends with the sockets, from side to side; along the sides nothing would close, as the tails hold there."""
    derived = derived_from(DRAWER)
    words = all_words(derived, "assemble-box")
    assert "clamps along both ends" in words or "clamps along the front and back ends" in words, words
    uses = [use for step in derived.steps if step.id.startswith("assemble-box") for use in step.clamps]
    assert max(use.opening for use in uses) >= Length.of_mm(500)


PANELS = (
    HEAD
    + """
stock:
  board: {material: beech board, size: 20x90}
  ply: {material: birch plywood, nominal: 6 mm}
assemblies:
  rack:
    parts:
      base: {stock: board, thickness: z, full_width: y, grain: x, left: 0, right: 400, front: 0, bottom: 0}
      low: {stock: ply, thickness: y, grain: x, left: 0, right: 400, front: 15, bottom: base.top, high: 60}
      tall: {stock: ply, thickness: y, grain: x, left: 0, right: 400, front: 60, bottom: base.top, high: 120}
    joints: [{groove: [low, tall], in: base, depth: 6, clearance: 1}]
"""
)


def test_a_step_that_only_slides_panels_in_spreads_no_glue() -> None:
    """Two panels that come alone were told with “spread wood glue joint by joint”, before lines that said “no glue here”."""
    words = all_words(derived_from(PANELS), "assemble-rack")
    assert "Use no glue" in words
    assert "wood glue" not in words


POSTS = (
    HEAD
    + """
stock:
  rail: {material: beech board, size: 20x60}
  post: {material: beech board, size: 45x70}
  ply: {material: birch plywood, nominal: 6 mm}
assemblies:
  frame:
    parts:
      post: {stock: post, thickness: y, grain: z, left: 0, wide: 45, front: 0, bottom: 0, top: 400, mirror: {x: 200}}
      rail: {stock: rail, thickness: y, full_width: z, grain: x, between: post, front: 12, top: 400}
      foot: {like: rail, top: 160}
      panel: {stock: ply, thickness: y, grain: z, between: post, front: 19, bottom: foot.top, top: rail.bottom}
    joints:
      - {mortise_and_tenon: [rail, foot], in: post, depth: 25, with: [glue]}
      - {groove: panel, in: [rail, foot], depth: 9, clearance: 1}
      - {groove: panel, in: post, depth: 9, clearance: 1%s}
"""
)


def test_a_groove_that_stays_open_in_a_foot_is_told_with_where_to_stop_it() -> None:
    """It is 100 mm long below the lower rail. The rails cover the rest; what the advice says to write ends it."""
    found = [one for one in derived_from(POSTS % "").checks if one.check == "open-groove"]
    assert [round(figure.value.mm) for one in found for figure in one.figures] == [100]
    told = dict(found[0].remedy.values)
    assert (told["id"], told["end"]) == ("frame.post", "bottom")
    stopped = derived_from(POSTS % f", stopped: {{bottom: {told['stop'].mm:g}}}")
    assert not [one for one in stopped.checks if one.check == "open-groove"]


def test_an_advised_depth_keeps_its_rule_when_it_is_typed_as_printed() -> None:
    """9/20 of 3 in is 1.35 in: “1-11/32 in or more” was a hair too little, and the same advice came again."""
    lengths = plan_from(CHEST).lengths
    inches = replace(lengths, units=Units.INCH, inch_step=Fraction(1, 32))
    low = Length.of_inches(Fraction(27, 20))
    assert _settable(low, inches, up=True) == Length.of_inches(Fraction(11, 8))
    assert _settable(low, inches, up=False) == Length.of_inches(Fraction(43, 32))
    assert _settable(Length.of_inches(1), inches, up=True) == Length.of_inches(1)


def test_a_muntin_in_a_broad_rail_needs_no_tenon_half_as_long_as_the_rail_is_wide() -> None:
    """Four times its thickness holds it; a shorter one is advised against."""
    rail, thick = Length.of_mm(76), Length.of_mm(6)
    assert _length(Length.of_mm(25), rail, thick).sound
    assert not _length(Length.of_mm(20), rail, thick).sound


def test_a_slow_glue_is_bought_once() -> None:
    """Joints asked for it by the name of the usual one, steps by its own: two bottles stood on the list."""
    slow = DRAWER.replace("stock:", "shop: {glue: slow wood glue}\nstock:", 1)
    rows = [row for row in derived_from(slow).consumables if "glue" in row.item.id]
    assert [row.item.id for row in rows] == ["slow wood glue"]


STACK = (
    HEAD
    + """
stock:
  board: {material: beech board, size: 20x90}
assemblies:
  beam:
    parts:
      lam: {stock: board, thickness: y, full_width: z, grain: x, left: 0, right: 600, front: 0, bottom: 0, repeat: {along: y, count: 5, spacing: 20}}
    joints: [{butt: lam, to: lam, with: [glue]}]
"""
)


def test_a_clamp_presses_through_a_whole_stack() -> None:
    """Five strips face to face, 600 mm long: one about every 150 mm and one at the end, over all five; they were counted for each seam."""
    steps = [step for step in derived_from(STACK).steps if step.id.startswith("assemble-beam")]
    most = max(use.count for step in steps for use in step.clamps)
    assert most == 5
    assert max(use.opening for step in steps for use in step.clamps) >= Length.of_mm(100)


def test_a_table_top_is_not_made_to_the_opening_between_the_legs_of_another_table() -> None:
    """Its fasteners carry it, as slides carry a drawer; but nothing that stands beside it says how long it is."""
    plan = read_and_resolve(Path(__file__).parent.parent / "plans" / "nesting-tables", Choice())[1]
    assert plan is not None
    assert plan.part("small.top.board").fitted_as is not FittedAs.OPENING


SCREWED = (
    HEAD
    + """
stock:
  board: {material: WOOD, size: 1x4}
assemblies:
  rack:
    parts:
      side: {stock: board, thickness: x, full_width: y, grain: z, left: 0, front: 0, bottom: 0, high: 400, mirror: {x: 300}}
      shelf: {stock: board, thickness: z, full_width: y, grain: x, left: side.original.right, right: side.mirrored.left, front: 0, bottom: 100}
    joints:
      - {butt: shelf, to: side, with: [WITH]}
"""
)


@pytest.mark.parametrize(
    ("wood", "closed", "waxed"),
    [("red oak board", "glue, screws", True), ("pine board", "glue, screws", False), ("red oak board", "glue", False)],
)
def test_screws_go_into_hardwood_with_wax_on_them(wood: str, closed: str, waxed: bool) -> None:
    """A dry thread may shear there. The wax lies ready, and is bought."""
    derived = derived_from(SCREWED.replace("WOOD", wood).replace("WITH", closed))
    said = " ".join(line for step in derived.steps for line in words_in(derived, step.id))
    assert said.count("Rub candle wax on the threads") == waxed
    assert ("Candle wax" in [one.item.name for one in derived.consumables]) is waxed
