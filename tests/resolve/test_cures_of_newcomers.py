"""What newcomers met: each message's cure is typed in, and what it was about is gone."""

from __future__ import annotations

import re

import pytest

from drawleaf.model.diagnostic import Diagnostic
from small_plans import outcome_from

HEAD = "plan: {title: Piece, number: P-1, date: 2026-11-30, author: A. Maker, lengths: in}\n"


def told(source: str, code: str) -> list[Diagnostic]:
    return [one for one in outcome_from(source).diagnostics if one.code == code]


FRAME = (
    HEAD
    + """\
stock: {wide: {material: red oak board, size: SIZE}, slim: {material: red oak board, size: 1x3}}
assemblies:
  frame:
    parts:
      stile: {stock: slim, thickness: y, full_width: x, grain: z, left: 0, front: 0, bottom: 0, high: 20, mirror: {x: 10}}
      rail: {stock: wide, thickness: y, full_width: z, grain: x, left: stile.right, right: stile.mirrored.left, front: 0, bottom: 2}
    joints: [{mortise_and_tenon: rail, in: stile, with: [glue]}]
"""
)


def test_a_wide_rail_is_told_how_wide_its_end_may_be_glued() -> None:
    """No groove and no slots for a tenon: a rail of a narrower board is good."""
    (found,) = told(FRAME.replace("SIZE", "1x8"), "wood-movement")
    assert found.mend.startswith("As a rail, make the rail 3-31/32 in wide or less.")
    assert "slots" not in found.mend
    (narrower,) = told(FRAME.replace("SIZE", "1x6"), "wood-movement")
    assert narrower.mend.startswith("Make the rail 3-31/32 in wide or less")
    assert told(FRAME.replace("SIZE", "1x4"), "wood-movement") == []


LAPPED = (
    HEAD
    + """\
stock: {leg: {material: construction lumber, size: 4x4}, rail: {material: construction lumber, size: 2x4}}
assemblies:
  base:
    parts:
      leg: {stock: leg, thickness: x, full_width: y, grain: z, left: 0, front: 0, bottom: 0, top: 30, mirror: {x: 20}}
      rail: {stock: rail, thickness: y, full_width: z, grain: x, left: 0, right: 40, front: 0, bottom: 6}
    joints: [{half_lap: rail, in: leg, with: [glue, {screws: {count: 2}}]}]
"""
)


def test_a_lap_in_a_square_leg_is_told_to_turn_it() -> None:
    found = told(LAPPED, "lap-across")
    assert {one.mend for one in found} == {
        "It is as thick as it is wide: write “thickness: y” for “leg”, and “full_width: x” where it has one."
    }
    turned = LAPPED.replace(
        "leg: {stock: leg, thickness: x, full_width: y", "leg: {stock: leg, thickness: y, full_width: x"
    )
    assert [one for one in outcome_from(turned).diagnostics if one.is_error and one.code == "lap-across"] == []


CASE = (
    HEAD
    + """\
stock: {ply: {material: birch plywood, nominal: 1/2, actual: 1/2}}
assemblies:
  case:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, deep: 14, bottom: 0, high: 8, mirror: {x: 8}}
      deck: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, deep: 14, bottom: 0, mirror: {z: 4}}
    joints: [{butt: deck, to: side, with: [glue]}]
    assemblies:
      box:
        loose: yes
        parts:
          wall: {stock: ply, thickness: x, grain: y, left: side.right, front: 0, deep: 13, bottom: deck.top, high: 5, mirror: {x: 8}}
          end: {stock: ply, thickness: y, grain: x, left: wall.right, right: wall.mirrored.left, front: 0, bottom: deck.top, high: 5, mirror: {y: 6-1/2}}
        joints: [{butt: end, to: wall, with: [glue]}]
"""
)


def test_a_box_that_fills_its_opening_is_moved_by_the_wall_that_its_twin_follows() -> None:
    """Not by both ends of one wall, which would make it as wide as the opening."""
    (found,) = told(CASE, "loose-fit")
    assert found.mend == "Leave 1/32 in at each end: “left: case.side.right + 1/32 in” in case.box.wall."
    assert (
        told(
            CASE.replace("left: side.right, front: 0, deep: 13", "left: case.side.right + 1/32 in, front: 0, deep: 13"),
            "loose-fit",
        )
        == []
    )


@pytest.mark.parametrize(
    ("machining", "mend"),
    [
        ("shape: {face: left, outline: [{y: 1, z: 1}, {y: 5, z: 5}]}", "Write 3 or more in square brackets."),
        ("notch: {corner: [front], deep: 1, high: 1}", "Write exactly 2 in square brackets."),
    ],
)
def test_a_list_that_is_too_short_is_told_whether_it_may_be_longer(machining: str, mend: str) -> None:
    line = f"    machining: [{{in: side, {machining}}}]\n    assemblies:\n"
    found = told(CASE.replace("    assemblies:\n", line), "wrong-count")
    assert [one.mend for one in found] == [mend]
    four = line.replace("{y: 5, z: 5}]", "{y: 9, z: 1}, {y: 9, z: 5}, {y: 1, z: 5}]")
    assert "shape" not in machining or told(CASE.replace("    assemblies:\n", four), "wrong-count") == []


OPEN_CASE = (
    HEAD
    + """\
stock: {case: {material: birch plywood, nominal: 3/4, actual: 3/4}, thin: {material: birch plywood, nominal: 1/4, actual: 1/4}}
assemblies:
  box: {component: open case, with: {wide: 30, deep: 11, high: 40, case: case, back: thin}HARDWARE}
"""
)


def test_a_component_that_tips_is_told_the_strap_to_type() -> None:
    (found,) = told(OPEN_CASE.replace("HARDWARE", ""), "tip-over")
    line = found.mend.split("“- ", 1)[1].split("” to ", 1)[0]
    assert told(OPEN_CASE.replace("HARDWARE", f", hardware: [{line}]"), "tip-over") == []


TABLE = (
    HEAD
    + """\
stock:
  leg: {material: red oak lumber, size: 8/4}
  rail: {material: red oak board, size: 1x6}
  top: {material: red oak board, size: 1x6}
assemblies:
  base: {component: table base, with: {wide: 40, deep: 20, high: 28, legs: leg, aprons: rail}}
  top:
    loose: yes
    parts:
      top: {stock: top, thickness: z, grain: x, left: -1, right: 41, front: -1, back: 21, bottom: 28, glue_up: {widest_strip: 5}}
      shelf: {stock: rail, thickness: y, full_width: z, grain: x, left: 2, right: 38, back: 20, bottom: top.top}
    joints: [{butt: shelf, to: top, with: [dowels, glue]}]
    hardware: [{item: figure-8 fastener, on: [base.front_apron, base.back_apron], face: front, carries: top}]
"""
)


def test_a_top_with_something_on_it_is_held_by_its_fasteners() -> None:
    """Every fastener on the list is fitted in a step: no fault of the compiler reaches the author."""
    outcome = outcome_from(TABLE)
    assert not outcome.failed, outcome.diagnostics
    assert outcome.derived is not None
    assert outcome.derived.audit.passed
    fitted = sum(
        use.count for step in outcome.derived.steps for use in step.hardware if use.item.id == "figure-8 fastener"
    )
    assert fitted == next(row.count for row in outcome.derived.hardware if row.item.id == "figure-8 fastener") > 0


def test_a_parameter_that_a_component_lacks_is_told_with_those_that_it_has() -> None:
    found = told(TABLE.replace("legs: leg, aprons: rail", "legs: leg, aprons: rail, xyz: 3"), "unknown-parameter")
    assert [one.mend for one in found] == ["It has wide, deep, high, leg, apron, setback, legs, aprons."]


DESK = (
    HEAD
    + """\
shop: {tools: full shop}
stock: {oak: {material: red oak board, size: 1x6}}
assemblies:
  desk:
    parts:
      leg: {stock: oak, thickness: x, full_width: y, grain: z, left: 2, front: 2, bottom: 0, top: 28, repeat: {along: x, at: [0, 36]}, mirror: {y: 11}}
      top: {stock: oak, thickness: z, grain: x, left: 0, right: 40, front: 0, back: 22-1/2, bottom: 28, glue_up: {widest_strip: 5-1/4}}
    joints: [{butt: leg, to: top, with: [glue, {dowels: {count: 2}}]}]
"""
)


def test_a_glued_panel_is_not_cut_in_a_miter_box() -> None:
    """Its strips are crosscut one by one, each narrower than the saw reaches: nothing is out of a tool's reach."""
    outcome = outcome_from(DESK)
    assert outcome.derived is not None
    found = [one for one in outcome.derived.checks if one.check == "tool-reach" and "top" in one.what]
    assert all(
        "mitre box" not in str(one.words) and "mitre box" not in str(one.advice) for one in outcome.derived.checks
    )
    assert not [one for one in found if one.open]


RAILED = (
    HEAD
    + """\
stock: {ply: {material: birch plywood, nominal: 3/4, actual: 3/4}, thin: {material: birch plywood, nominal: 1/4, actual: 1/4}}
assemblies:
  case:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, deep: 14, bottom: 0, high: 50, mirror: {x: 12}}
      floor: {stock: ply, thickness: z, grain: x, between: side, front: 0, deep: 14, bottom: 0}
      case_top: {stock: ply, thickness: z, grain: x, between: side, front: 0, deep: 14, top: 50}
      rail: {stock: ply, thickness: y, grain: x, between: side, back: 14, high: 3, bottom: 10, repeat: {along: z, at: [0, 30]}}
    joints:
      - {rabbet: [floor, case_top], in: side, depth: 1/4, with: [glue]}
      - {butt: rail, to: side, with: [glue, {pocket_screws: {count: 2, on: front}}]}
  back:
    parts:
      panel: {stock: thin, thickness: y, grain: z, left: 0, right: 24, front: case.side.back, bottom: 0, top: 50}
    joints: [{butt: panel, to: [case.side, case.floor, case.case_top, case.rail], with: [glue, {brads: {}}]}]
    hardware: [{item: anti-tip strap, on: panel, face: back, at: {x: 12, z: PLACE}BACK}]
"""
)


def railed(place: str, back: str = "") -> str:
    return RAILED.replace("PLACE", place).replace("BACK", back)


@pytest.mark.parametrize(("place", "back"), [("30", ""), ("30", "case.rail"), ("30", "case.floor"), ("41-1/2", "")])
def test_a_strap_is_told_a_backing_and_a_place_that_it_takes(place: str, back: str) -> None:
    """As told it is typed: the name of a part of another assembly, of one copy, and a place of its own."""
    spoilt = railed(place, f", backing: {back}" if back else "")
    (found,) = [one for one in outcome_from(spoilt).diagnostics if one.is_error]
    assert found.code == ("not-behind" if back else "thin-hold")
    cure, *places = [one.split("”")[0] for one in found.mend.split("“")[1:] if not one.startswith("at”")]
    moved = places[0].removeprefix("z: ") if places else place
    assert [one for one in outcome_from(railed(moved, f", {cure}")).diagnostics if one.is_error] == []


def test_of_a_row_of_rails_the_one_that_lies_there_is_the_backing() -> None:
    assert [one for one in outcome_from(railed("41-1/2", ", backing: case.rail")).diagnostics if one.is_error] == []


def test_a_part_of_another_assembly_is_told_with_its_whole_name() -> None:
    (found,) = told(railed("41-1/2", ", backing: rail"), "unknown-part")
    assert found.mend == "From another assembly its name comes first: “case.rail”."


SLATTED = (
    HEAD
    + """\
stock: {rail: {material: construction lumber, size: 2x4}}
assemblies:
  bench:
    parts:
      rail: {stock: rail, thickness: y, full_width: z, grain: x, left: 0, right: 20, front: 0, bottom: 0, mirror: {y: 6}}
      slat: {stock: rail, thickness: x, full_width: z, grain: y, left: 0, front: 0, back: 12, bottom: rail.top, repeat: {along: x, spacing: 3, count: 5}}
    joints: [{butt: slat, to: rail, with: [{screws: {count: 1, through: rail}}]}]
"""
)


def test_a_line_is_told_once_where_no_screw_fits_at_any_of_its_places() -> None:
    """Ten places where a slat lies on a rail, through 3-1/2 in of wood: one message that counts them, not ten."""
    (found,) = told(SLATTED, "no-screw-fits")
    assert found.message.endswith("and so at 9 more places of this line")
    depth = re.findall(r"“(counterbore: [-/0-9]+ in)”", found.mend)[0]
    typed = outcome_from(SLATTED.replace("{count: 1, through: rail}", f"{{count: 1, through: rail, {depth}}}"))
    assert {"no-screw-fits", "short-hold", "screws"} & {one.code for one in typed.diagnostics} == set()
    turned = SLATTED.replace("{count: 1, through: rail}", "{count: 1, through: rail, counterbore: 3/4, heads: filled}")
    assert told(turned, "no-screw-fits") == []


@pytest.mark.parametrize(
    ("written", "cure"),
    [
        ("material: pine board, nominal: 1x8", "size: 1x8"),
        ("material: pine board, nominal: 1 x 8 in", "size: 1x8"),
        ("material: birch plywood, nominal: 4x8", "nominal: 3/4"),
    ],
)
def test_a_size_in_place_of_a_thickness_is_told_its_own_key(written: str, cure: str) -> None:
    """And once: no figure of it is a product to write with a star."""
    source = HEAD + (
        "stock: {wood: {WRITTEN}}\nassemblies:\n  shelf:\n    parts:\n"
        "      board: {stock: wood, thickness: z, grain: x, left: 0, right: 20, front: 0, deep: 7-1/4, bottom: 0}\n"
    )
    (found,) = [one for one in outcome_from(source.replace("WRITTEN", written)).diagnostics if one.is_error]
    assert found.code == "stock-without-thickness"
    assert f"“{cure}”" in found.mend
    cured = re.sub("nominal: .*", cure, written)
    assert [one for one in outcome_from(source.replace("WRITTEN", cured)).diagnostics if one.is_error] == []


TURNED = (
    HEAD
    + """\
stock: {b: {material: pine board, size: 1x6}}
assemblies:
  rack:
    parts:
      side: {stock: b, full_width: y, left: 0, thickness: x, front: 0, bottom: 0, top: 20, mirror: {x: 10}}
      shelf: {stock: b, full_width: y, between: side, front: 0, bottom: 5}
    joints: [{butt: side, to: shelf, with: [2 pocket screws on left]}]
"""
)


def test_pockets_in_the_broad_face_are_told_to_change_places() -> None:
    """The parts of the line are swapped and the face is one of those that are told."""
    (found,) = told(TURNED, "broad-face")
    assert "“butt: shelf, to: side”" in found.mend
    assert "“on: bottom”" in found.mend
    cured = TURNED.replace("butt: side, to: shelf", "butt: shelf, to: side").replace("on left", "on bottom")
    assert [one for one in outcome_from(cured).diagnostics if one.is_error] == []
