"""Helps: scraps that hold or guide the work. Told in the step, drawn there, listed as to make, held by clamps that are counted."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

import pytest

from drawleaf.book.words.format import Formatter
from drawleaf.book.words.wording import step_text
from drawleaf.derive.scraps import offcut_for
from drawleaf.draw.at_step.later_cuts import solids_at
from drawleaf.draw.step.drawing import draw_step
from drawleaf.model.derived import Derived
from drawleaf.model.helps import HelpKind
from drawleaf.model.steps import Step
from drawleaf.solids.build import build_solids
from drawleaf.units import Length
from small_plans import derived_from, outcome_from

BOX = """\
plan: {title: Wall box, number: W-1, date: 2026-11-30, author: A. Maker, lengths: in}
stock:
  ply: {material: birch plywood, nominal: 3/4, actual: 3/4}
assemblies:
  box:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 10, bottom: 0, top: 20, mirror: {x: 10}}
      floor: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 10, bottom: 0}
      top: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 10, top: 20}
      shelf: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 10, bottom: 6}
      rail: {stock: ply, thickness: y, grain: x, left: side.right, right: side.mirrored.left, back: 10, bottom: 12, high: 3}
    joints:
      - {rabbet: [floor, top], in: side, depth: 1/4, with: [glue]}
      - {butt: shelf, to: side, with: [{pocket_screws: {count: 3, on: bottom}}], helps: [SHELF]}
      - {butt: rail, to: side, with: [{pocket_screws: {count: 2, on: back}}], helps: [RAIL]}
"""
BENCH = """\
plan: {title: Slat rack, number: S-1, date: 2026-11-30, author: A. Maker, lengths: in}
stock:
  board: {material: pine board, size: 1x4}
assemblies:
  rack:
    parts:
      long: {stock: board, thickness: z, grain: x, left: 0, right: 24, front: 0, deep: 3-1/2, bottom: 0, mirror: {y: 6}}
      slat: {stock: board, thickness: z, grain: y, left: 0, wide: 3-1/2, front: 0, back: 12, bottom: 3/4, repeat: {along: x, count: 5, spacing: 4-1/4}}
    joints:
      - {butt: slat, to: long, with: [{screws: {count: 2, through: slat}}], helps: [{spacer: slat}]}
"""


@cache
def box(shelf: str = "", rail: str = "") -> Derived:
    return derived_from(BOX.replace("SHELF", shelf).replace("RAIL", rail))


def said(step: Step, derived: Derived) -> list[str]:
    text = step_text(step, derived, Formatter.of(derived.plan))
    balloon = r' <span class="balloon">\d+</span>'
    bare = [re.sub(r"<[^>]+>", "", re.sub(balloon, "", str(one))) for one in text.actions]
    return [re.sub("[\u2009\u00a0\u202f]", " ", one).replace("⁄", "/") for one in bare]


def step_with(derived: Derived, kind: HelpKind) -> Step:
    return next(step for step in derived.steps if any(one.kind is kind for one in step.helps))


def test_a_fence_lies_along_what_the_screws_push() -> None:
    """On both sides, above the shelf, whose pockets are below: 6-3/4 in up, as long as the joint; with two clamps on each."""
    derived = box("{fence: top}")
    step = step_with(derived, HelpKind.FENCE)
    (fence,) = step.helps
    assert [(place.part, place.box.x.low.inches, place.box.x.high.inches) for place in fence.places] == [
        ("box.side", 0.75, 2.25),
        ("box.side.mirrored", 17.75, 19.25),
    ]
    assert {(place.box.z.low.inches, place.box.z.high.inches) for place in fence.places} == {(6.75, 7.5)}
    words = said(step, derived)
    assert words[0].startswith("Clamp fences, straight scraps 10 in long, to the sides")
    assert "Their edges are 6 3/4 in from the bottom end." in words[0]
    assert words[-1] == "Take off the fences when the joints hold."
    bare = next(one for one in box().steps if one.id == step.id)
    assert sum(use.count for use in step.clamps) == sum(use.count for use in bare.clamps) + 4
    assert "clamps" in {tool.id for tool in step.tools}


def test_it_is_on_the_list_of_scraps_with_the_offcut_that_gives_it() -> None:
    rows = box("{fence: top}, {stop: front}", "{spacer: [shelf, rail]}").helps
    assert [(row.count, row.name, [size.inches for size in row.size or ()], row.exact and row.exact.inches) for row in rows] == [
        (2, "fence", [10, 1.5, 0.75], None),
        (2, "stop", [2.25, 1.5, 0.75], None),
        (2, "spacer", [5.25, 0.75, 0.75], 5.25),
    ]  # fmt: skip
    assert {row.off for row in rows} == {("sheet", 1)}


def test_an_offcut_gives_what_is_no_larger_either_way_round() -> None:
    """One of 10 by 3 in, laid along the sheet or across it; a scrap a millimeter longer, wider or much thicker is not cut from it."""
    layouts = box().layouts
    thick = layouts.sheets[0].stock.thickness
    long, wide, over = Length.of_inches(10), Length.of_inches(3), Length.of_mm(1)
    for size in ((long, wide), (wide, long)):
        offcut = replace(layouts.sheets[0].offcuts[0], length=size[0], width=size[1])
        left = replace(layouts, boards=(), sheets=(replace(layouts.sheets[0], offcuts=(offcut,)),))
        assert offcut_for(left, (long, wide, thick)) == ("sheet", 1)
        assert offcut_for(left, (long, wide, thick + over)) == ("sheet", 1)
        assert offcut_for(left, (long + over, wide, thick)) is None
        assert offcut_for(left, (long, wide + over, thick)) is None
        assert offcut_for(left, (long, wide, thick + over * 3)) is None


def test_a_stop_lies_across_what_is_flush_there() -> None:
    step = step_with(box("{stop: front}"), HelpKind.STOP)
    assert [one.flush for one in step.helps] == [True]
    words = said(step, box("{stop: front}"))[0]
    assert (
        "clamp stops, short scraps, across the front edges of the sides. Bring the front edge up to them, flush"
        in words
    )


def test_a_spacer_is_as_long_as_the_room_that_it_fills() -> None:
    """From the top of the shelf (6-3/4) to the bottom of the rail (12); it follows when the rail moves."""
    moved = BOX.replace("SHELF", "").replace("RAIL", "{spacer: [shelf, rail]}").replace("bottom: 12", "bottom: 13")
    assert [row.exact and row.exact.inches for row in derived_from(moved).helps] == [6.25]
    derived = box("", "{spacer: [shelf, rail]}")
    words = said(step_with(derived, HelpKind.SPACER), derived)
    assert any(line.startswith("Set two spacers, exactly 5 1/4 in long, between the shelf") for line in words)


def test_spacers_between_slats_move_on_from_one_to_the_next() -> None:
    """Four gaps of 3/4 in (4-1/4 less 3-1/2), and two spacers to make."""
    derived = derived_from(BENCH)
    assert [(row.count, row.exact and row.exact.inches) for row in derived.helps] == [(2, 0.75)]
    steps = [step for step in derived.steps if step.helps]
    assert sum(len(step.helps) for step in steps) == 4
    assert any("between one and the next of" in line for line in said(steps[-1], derived))


def test_a_batten_and_a_jig() -> None:
    derived = box("", '{batten: side, on: front, at: {z: 15}}, {jig: drilling block, note: "Bored square."}')
    step = step_with(derived, HelpKind.BATTEN)
    words = said(step, derived)
    assert words[0].startswith("Clamp the batten, 20 in long, across the front edges of the sides")
    assert "Its edge is 4 1/4 in from the top end" in words[0]
    assert words[1] == "Use the drilling block. Bored square."
    assert [(row.name, row.size is None) for row in derived.helps] == [("batten", False), ("drilling block", True)]


def test_the_drawing_shows_them_pale_and_names_each_kind() -> None:
    derived = box("{fence: top}")
    step = step_with(derived, HelpKind.FENCE)
    solids = build_solids(derived.plan)
    (drawing,) = draw_step(derived, solids_at(derived, solids, step), step)
    assert 'class="help"' in drawing.svg
    assert "Drawn with broken lines, and taken off again: fence." in drawing.alt
    assert ">fence<" in drawing.svg
    assert not any(an_id.startswith("help") for pane in drawing.panes for an_id in pane.shown)
    bare = next(one for one in box().steps if one.id == step.id)
    (without,) = draw_step(box(), solids_at(box(), build_solids(box().plan), bare), bare)
    assert 'class="help"' not in without.svg


SLIDES = "{item: coat hook, on: side.original, face: right, at: {y: 5, z: 15}, helps: [{spacer: shelf}]}"


def test_hardware_is_set_from_a_spacer() -> None:
    """A hook 15 in up, its body from there: the spacer stands on the shelf below it."""
    derived = derived_from(BOX.replace("SHELF", "").replace("RAIL", "") + f"    hardware:\n      - {SLIDES}\n")
    (row,) = derived.helps
    step = step_with(derived, HelpKind.SPACER)
    hook = next(one for one in derived.plan.fittings)
    assert hook.body is not None
    assert row.exact == hook.body.z.low - derived.plan.part("box.shelf").seen.z.high
    assert said(step, derived)[0].startswith("Stand two spacers, exactly")
    assert "set the coat hook on them" in said(step, derived)[0].lower()


@pytest.mark.parametrize(
    ("written", "code", "cure", "typed"),
    [
        ("{fence: bottom}", "help-in-the-way", "Write “fence: top”.", "{fence: top}"),
        ("{fence: left}", "help-place", "“fence: top”", "{fence: top}"),
        ("{fence: top, on: left}", "help-key", "Leave “on” out.", "{fence: top}"),
        ("{fence: top, stop: front}", "help-kind", "each in an entry of its own", "{fence: top}, {stop: front}"),
        ("{note: Hold it.}", "help-kind", "Write “- {fence: bottom}”", "{fence: top}"),
        ("{spacer: shelf}", "help-place", "“spacer: [floor, shelf]”", "{spacer: [floor, shelf]}"),
        ("{spacer: [floor, shelf], high: 5}", "help-key", "Leave “high” out.", "{spacer: [floor, shelf]}"),
        ("{spacer: [rail, top]}", "help-place", "at the line that joins one of them", "{spacer: [shelf, top]}"),
        ("{batten: side}", "help-key", "“on: front”", "{batten: side, on: front}"),
        ("{batten: [side, shelf], on: left}", "help-place", "“on: front”", "{batten: [side, shelf], on: front}"),
        ("{jig: block, wide: 3}", "help-key", "Add “deep” and “high”", "{jig: block, wide: 3, deep: 2, high: 1}"),
        ("{jig: block, at: {x: 3}, wide: 3, deep: 2, high: 1}", "help-place", "“at: {x: …", "{jig: block, at: {x: 3, y: 3, z: 3}, wide: 3, deep: 2, high: 1}"),
        ("{fence: top, wide: 0}", "help-place", "a size above 0", "{fence: top, wide: 2}"),
        ("{spacer: [floor, self]}", "unknown-part", "shelf", "{spacer: [floor, shelf]}"),
    ],
)  # fmt: skip
def test_mistakes_and_their_cures(written: str, code: str, cure: str, typed: str) -> None:
    """The cure as it is printed, typed in, leaves nothing of the mistake."""

    def found(shelf: str):
        diagnostics = outcome_from(BOX.replace("SHELF", shelf).replace("RAIL", "")).diagnostics
        return [one for one in diagnostics if one.code.startswith("help-") or one.is_error]

    wrong = found(written)
    assert [one.code for one in wrong] == [code]
    assert cure in wrong[0].mend
    assert wrong[0].position is not None
    assert found(typed) == []


def test_a_help_that_no_step_can_set_is_told() -> None:
    """The tray comes when the finish is dry: when the shelf comes it is not there yet."""
    tray = """\
      tray:
        loose: yes
        parts:
          block: {stock: ply, thickness: z, grain: x, left: 4, right: 10, front: 1, back: 6, bottom: 8}
"""
    plan = BOX.replace("SHELF", "{spacer: [shelf, tray.block]}").replace("RAIL", "") + "    assemblies:\n" + tray
    found = [one for one in outcome_from(plan).diagnostics if one.code.startswith("help-")]
    assert [one.code for one in found] == ["help-idle"]


def test_what_lies_in_the_way_of_a_part_is_set_when_that_is_in() -> None:
    """The shelf comes from the front: a stop across the front edges would bar it, a fence along its top would not."""
    derived = box("{stop: front}")
    step = step_with(derived, HelpKind.STOP)
    assert step.scene is not None
    assert {move.direction for move in step.scene.moves if move.part == "box.shelf"} == {(0.0, 1.0, 0.0)}
    assert [one.late for one in step.helps] == [True]
    words = said(step, derived)[0]
    assert words.startswith("Set the shelf in place first. Then clamp stops")
    assert words.endswith("flush, before you fasten it.")
    assert [one.late for one in step_with(box("{fence: top}"), HelpKind.FENCE).helps] == [False]
