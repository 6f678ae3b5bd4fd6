"""Splines are parts that their mitre brings along: cut, laid out, slid in along their slots, trimmed flush, proven as solids."""

from __future__ import annotations

import pytest

from drawleaf.solids.build import build_solids
from drawleaf.units import Length
from shape_trials import BOX, FRAME, derived_of, outcome_of, words_of

SPLINED = FRAME.replace("with: [glue]", "spline: {thickness: 1/8, depth: 3/8}, with: [glue]")
UNEVEN = SPLINED.replace("stile: {stock: strip", "stile: {stock: wide")
LYING = """\
assemblies:
  frame:
    parts:
      rail: {stock: strip, thickness: z, full_width: y, grain: x, left: 0, right: 20, bottom: 0, front: 0, mirror: {y: 8}}
      stile: {stock: strip, thickness: z, full_width: x, grain: y, front: 0, back: 16, bottom: 0, left: 0, mirror: {x: 10}}
    joints:
      - {mitre: rail, in: stile, spline: {thickness: 1/8, depth: 3/8}, with: [glue]}
"""
SIDEWAYS = """\
assemblies:
  frame:
    parts:
      rail: {stock: strip, thickness: x, full_width: z, grain: y, front: 0, back: 20, left: 0, bottom: 0, mirror: {z: 8}}
      stile: {stock: strip, thickness: x, full_width: y, grain: z, bottom: 0, top: 16, left: 0, front: 0, mirror: {y: 10}}
    joints:
      - {mitre: rail, in: stile, spline: {thickness: 1/8, depth: 3/8}, with: [glue]}
"""
INCH = 25.4


def test_splines_stand_on_the_cut_list_with_their_stock() -> None:
    """Four of plywood, as long as the corner is high and twice as wide as a slot is deep."""
    item = derived_of(BOX).cut_list.item_of("box.spline.1")
    assert (item.quantity, item.name, item.grain) == (4, "Spline", "any")
    assert [size.inches for size in (item.length, item.width, item.thickness)] == [5, 0.5, 0.125]
    assert (item.stock.material.id, item.stock.nominal) == ("birch plywood", "1/8")


def test_their_sheet_is_laid_out_and_bought() -> None:
    derived = derived_of(BOX)
    laid = [placed.part for sheet in derived.layouts.sheets for placed in sheet.placed]
    assert sorted(laid) == [f"box.spline.{number}" for number in (1, 2, 3, 4)]
    assert any("birch plywood" in row.name.lower() for row in derived.shopping.rows)


@pytest.mark.parametrize("text", [BOX, SPLINED, UNEVEN, LYING, SIDEWAYS])
def test_the_books_balance(text: str) -> None:
    """Every spline is cut, laid out, used once, and closes its two joints in a step."""
    derived = derived_of(text)
    assert [line.name for line in derived.audit.lines if not line.agrees] == []
    assert sum(bool(part.brought) for part in derived.plan.parts) == 4


@pytest.mark.parametrize("text", [BOX, SPLINED, UNEVEN, LYING, SIDEWAYS])
def test_splines_fill_their_slots_and_share_no_wood(text: str) -> None:
    """Where both parts and the spline meet, the corner is as full as without a slot: the same frame, mitred plain, weighs the same."""
    plain = text.replace("spline: {thickness: 1/8, depth: 3/8}, ", "").replace(
        "spline: {thickness: 1/8, depth: 1/4}, ", ""
    )
    volumes = []
    for one in (text, plain):
        plan = derived_of(one).plan
        solids = build_solids(plan)
        volumes.append(sum(solids.solid(part.id).volume for part in plan.parts))
    assert volumes[0] == pytest.approx(volumes[1], rel=1e-7)


def test_a_case_takes_its_splines_from_the_top() -> None:
    derived = derived_of(BOX)
    step = next(step for step in derived.steps if step.id == "splines-box")
    assert {move.direction for move in step.scene.moves} == {(0.0, 0.0, -1.0)}
    assert any("from the top" in line for line in words_of(BOX, "splines-box"))


def test_a_frame_takes_its_splines_from_outside_and_they_are_trimmed() -> None:
    """Along the mitre, inwards; what stands out at both ends is sawn off when the glue is dry."""
    derived = derived_of(SPLINED)
    step = next(step for step in derived.steps if step.id == "splines-frame")
    assert {tuple(round(abs(one), 6) for one in move.direction) for move in step.scene.moves} == {
        (0.707107, 0.0, 0.707107)
    }
    middle = (10 * INCH, 8 * INCH)
    for move in step.scene.moves:
        x, _, z = derived.plan.part(move.part).body.center.mm
        assert (middle[0] - x) * move.direction[0] + (middle[1] - z) * move.direction[2] > 0
    after = derived.steps[step.number]
    assert [operation.kind for operation in after.operations] == ["trim-splines"]
    assert after.title == "Trim the splines flush"


def test_a_trimmed_spline_is_cut_longer_than_its_mitre() -> None:
    """A mitre 1-1/2 in wide is 2.12 in long; with the swallow's tail of 3/8 that is 2.5 in, and an eighth more at each end."""
    item = derived_of(SPLINED).cut_list.item_of("frame.spline.1")
    assert max(item.length, item.width) == Length.of_inches(11) / 4
    assert "trimmed flush" in item.note


def test_a_spline_of_solid_wood_has_its_grain_across_the_mitre() -> None:
    derived = derived_of(BOX.replace("thickness: 1/8, depth: 1/4", "thickness: 3/16, depth: 1/4"))
    part = derived.plan.part("box.spline.1")
    assert part.stock.material.id == "red oak board"
    assert part.body.extent(part.grain) == Length.of_inches(1) / 2
    assert "across the mitre" in derived.cut_list.item_of("box.spline.1").note


def test_a_named_stock_gives_the_thickness() -> None:
    derived = derived_of(
        BOX.replace("thickness: 1/8, depth: 1/4", "stock: ply, depth: 1/8").replace("high: 5", "high: 4")
    )
    assert derived.plan.part("box.spline.1").size[2] == Length.of_inches(1) / 2


@pytest.mark.parametrize(
    ("spline", "code"),
    [
        ("{depth: 1/4}", "spline-stock"),
        ("{thickness: 1/8, depth: 1/4, stock: ply}", "spline-thickness"),
        ("{depth: 1/4, stock: plyy}", "unknown-stock"),
    ],
)
def test_what_cannot_be_cut_is_told(spline: str, code: str) -> None:
    outcome = outcome_of(BOX.replace("{thickness: 1/8, depth: 1/4}", spline))
    assert [one.code for one in outcome.diagnostics if one.is_error] == [code]


def test_splines_go_in_before_their_slots_are_closed() -> None:
    """A lid and a floor that cover both ends of the corners come after them."""
    closed = BOX.replace(
        "    joints:",
        "      lid: {stock: ply, thickness: z, grain: x, left: 0, right: 14, front: 0, back: 10, bottom: 5}\n"
        "      floor: {stock: ply, thickness: z, grain: x, left: 0, right: 14, front: 0, back: 10, top: 0}\n"
        "    joints:\n      - {butt: [lid, floor], to: [long, short], with: [glue]}",
    )
    derived = derived_of(closed)
    first = {
        part: step.number
        for step in reversed(derived.steps)
        if step.scene and step.scene.moves
        for part in step.scene.new
    }
    assert all(first[f"box.spline.{number}"] < first["box.lid"] for number in (1, 2, 3, 4))
