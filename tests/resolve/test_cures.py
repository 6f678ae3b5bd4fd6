"""What a message says to type is typed, and the plan is good."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from drawleaf.commands.steps import step_lines
from drawleaf.compiler import Choice, check_plan
from drawleaf.model.diagnostic import Diagnostic

BOX = """\
plan: {title: Box, number: B-1, date: 2026-11-30, author: A. Maker, lengths: in}
stock:
  ply: {material: birch plywood, nominal: 3/4, actual: 3/4}
assemblies:
  box:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 10, bottom: 0, top: 12, mirror: {x: 10}}
      floor: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 10, bottom: 0}
      shelf: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 10, bottom: 6}
    joints:
      - {JOINT: floor, in: side, depth: 1/4, with: [glue, {screws: {count: 2}}]}
      - {dado: shelf, in: side, depth: 1/4, with: [glue]}
"""


def told(folder: Path, source: str) -> list[Diagnostic]:
    """The errors of a plan."""
    folder.mkdir(exist_ok=True)
    (folder / "plan.yaml").write_text(source, encoding="utf-8")
    return [one for one in check_plan(folder, Choice(), tidy=False).diagnostics if one.is_error]


def test_a_dado_at_the_very_end_becomes_a_rabbet(tmp_path: Path) -> None:
    """It touches all it can: no gap is named, but the side that is missing."""
    found = told(tmp_path / "box", BOX.replace("JOINT", "dado"))
    assert {one.code for one in found} == {"open-joint"}
    for one in found:
        assert "wood on one side only" in one.message
        assert " in at the" not in one.cause
        assert one.mend == "Write “rabbet” in place of “dado”."
    assert told(tmp_path / "box", BOX.replace("JOINT", "rabbet")) == []


@pytest.mark.parametrize(("z", "high"), [("7-1/4", "2-1/2"), ("4-3/4", "2-1/2")])
def test_a_cutout_that_runs_into_a_dado_is_told_with_the_way_out(tmp_path: Path, z: str, high: str) -> None:
    """From above and from below: moved so far down or up as is told, the shelf has wood on both sides."""
    plain = BOX.replace("JOINT", "rabbet")
    cutout = f"    machining:\n      - {{in: side, cutout: {{face: left, at: {{y: 5, z: {z}}}, deep: 9-3/4, high: {high}}}}}\n"
    found = told(tmp_path / "box", plain + cutout)
    assert {one.code for one in found} == {"open-joint"}
    assert {one.position.line for one in found if one.position} == {(plain + cutout).count("\n")}
    way, by = re.findall(r"Move Shelf (up|down) by ([-/0-9]+) in or more", found[0].mend)[0]
    moved = f"bottom: 6 {'+' if way == 'up' else '-'} ({by})"
    assert told(tmp_path / "box", plain.replace("bottom: 6", moved) + cutout) == []


def test_of_two_ways_out_of_a_cutout_that_are_as_long_one_is_told(tmp_path: Path) -> None:
    """A cutout that reaches 90 mm beyond the front edge of a narrow shelf, and 90 mm above its underside."""
    plain = BOX.replace("JOINT", "rabbet").replace("lengths: in", "lengths: mm")
    for old, new in (
        ("nominal: 3/4, actual: 3/4", "nominal: 18, actual: 18"),
        ("depth: 1/4", "depth: 6"),
        ("front: 0, back: 10, bottom: 6", "front: 100, back: 200, bottom: 200"),
        ("back: 10,", "back: 400,"),
        ("top: 12, mirror: {x: 10}", "top: 600, mirror: {x: 200}"),
    ):
        plain = plain.replace(old, new)
    cutout = "    machining:\n      - {in: side, cutout: {face: left, at: {y: 140, z: 200}, deep: 100, high: 180}}\n"
    (mend,) = {one.mend for one in told(tmp_path / "box", plain + cutout)}
    assert mend == "Move Shelf back by 97 mm or more, or make this cutout so much smaller there."
    assert told(tmp_path / "box", plain.replace("front: 100, back: 200", "front: 197, back: 297") + cutout) == []


def test_a_shelf_is_not_sent_out_of_its_side(tmp_path: Path) -> None:
    """Before and behind the cutout, above and below it is no wood for a whole shelf: the cutout is what must give way."""
    plain = BOX.replace("JOINT", "rabbet")
    cutout = "    machining:\n      - {in: side, cutout: {face: left, at: {y: 5, z: 6}, deep: 9-1/2, high: HIGH}}\n"
    (mend,) = {one.mend for one in told(tmp_path / "box", plain + cutout.replace("HIGH", "10-1/2"))}
    assert mend == "Make this cutout smaller there by 5-1/2 in or more."


def test_of_two_joints_of_the_same_parts_one_is_taken_out(tmp_path: Path) -> None:
    twice = BOX.replace("JOINT", "rabbet").replace(
        "    joints:\n", "    joints:\n      - {butt: floor, to: side, with: [glue]}\n"
    )
    found = told(tmp_path / "box", twice)
    assert {one.code for one in found} == {"uneven-depth"}
    assert all("Two joints let “box.floor” into “box.side" in one.message for one in found)
    assert found[0].position is not None
    lines = twice.splitlines(keepends=True)
    del lines[found[0].position.line - 1]
    assert [one for one in told(tmp_path / "box", "".join(lines)) if one.code == "uneven-depth"] == []


@pytest.mark.parametrize(("sink", "good"), [("3/64", True), ("1/32", False), ("25/32", True), ("1", False)])
def test_the_depth_of_a_head_is_told_with_its_limits(tmp_path: Path, sink: str, good: bool) -> None:
    source = BOX.replace("JOINT", "rabbet").replace("{count: 2}", f"{{count: 2, heads: plugged, counterbore: {sink}}}")
    found = [one for one in told(tmp_path / "box", source) if one.code == "counterbore-depth"]
    assert bool(found) is not good
    assert all("from 3/64 in (1 mm) to 25/32 in (20 mm)" in one.cause for one in found)


OPEN_BOX = BOX.replace("JOINT", "rabbet").replace("screws: {count: 2}", "screws: {count: 2, heads: filled}")
"""A sound box, to be spoilt."""


def all_told(folder: Path, source: str) -> list[Diagnostic]:
    """The errors and the advice of a plan."""
    folder.mkdir(exist_ok=True)
    (folder / "plan.yaml").write_text(source, encoding="utf-8")
    return list(check_plan(folder, Choice(), tidy=False).diagnostics)


def quoted(mend: str) -> list[str]:
    """What a mend says to type."""
    return re.findall("“([^”]+)”", mend)


@pytest.mark.parametrize(
    ("written", "code", "key"),
    [
        ("right: side.mirrored.left - 1/8", "parts-do-not-touch", "right: side.mirrored.left - 1/8"),
        ("wide: 18", "parts-do-not-touch", "wide: 18"),
        ("right: 19", "parts-do-not-touch", "right: 19"),
    ],
)
def test_parts_that_do_not_touch_are_brought_together_by_what_is_told(
    tmp_path: Path, written: str, code: str, key: str
) -> None:
    floor, rest = "floor: {stock: ply, thickness: z, grain: x, left: side.right, ", "right: side.mirrored.left, front"
    assert OPEN_BOX.count(floor + rest) == 1
    (found,) = told(tmp_path / "box", spoilt := OPEN_BOX.replace(floor + rest, f"{floor}{written}, front"))
    assert found.code == code
    cure, part, old, *_ = quoted(found.mend)
    assert (part, old) == ("floor", key.partition(":")[0])
    assert told(tmp_path / "box", spoilt.replace(f"{floor}{key},", f"{floor}{cure},")) == []


def test_a_face_that_follows_from_the_other_part_is_not_turned_round(tmp_path: Path) -> None:
    """Were the side told to stand by the floor, the two would depend on each other in a ring."""
    spoilt = OPEN_BOX.replace(
        "left: side.right, right: side.mirrored.left, front", "left: side.right + 1/4, wide: 18-1/4, front", 1
    )
    found = told(tmp_path / "box", spoilt)
    assert [one.code for one in found] == ["parts-do-not-touch"]
    cure = quoted(found[0].mend)[0]
    assert cure == "left: box.side.right"
    assert told(tmp_path / "box", spoilt.replace("left: side.right + 1/4, wide: 18-1/4", f"{cure}, wide: 18-1/2")) == []


def test_of_a_joint_with_the_wrong_part_the_right_one_is_named(tmp_path: Path) -> None:
    spoilt = OPEN_BOX.replace("{dado: shelf, in: side", "{dado: shelf, in: floor")
    (found,) = told(tmp_path / "box", spoilt)
    assert quoted(found.mend)[-1] == "box.side"
    assert told(tmp_path / "box", spoilt.replace("{dado: shelf, in: floor", "{dado: shelf, in: box.side")) == []


def test_a_part_that_falls_apart_is_told_at_the_cut_that_does_it(tmp_path: Path) -> None:
    cutout = "    machining:\n      - {in: floor, cutout: {face: top, at: {x: 10, y: 5}, wide: 3, deep: 10}}\n"
    round_over = "      - {in: floor, round_over: {edges: [front-top], size: 1/8}}\n"
    (found,) = told(tmp_path / "box", OPEN_BOX + cutout + round_over)
    assert found.code == "falls-apart"
    assert found.position is not None
    assert (OPEN_BOX + cutout + round_over).splitlines()[found.position.line - 1].strip() in cutout
    assert told(tmp_path / "box", OPEN_BOX + cutout.replace("deep: 10", "deep: 6") + round_over) == []


LOOSE = """\
  lid:
    loose: yes
    parts:
      lid: {stock: ply, thickness: z, grain: x, left: 0, right: 20, front: 0, back: 10, bottom: 12}
      strip: {stock: ply, thickness: y, grain: x, left: 0, right: 20, back: lid.front, bottom: 12, top: lid.top}
"""


def test_a_strip_that_nothing_holds_on_a_loose_lid_is_told(tmp_path: Path) -> None:
    told_of = [one for one in all_told(tmp_path / "box", OPEN_BOX + LOOSE) if one.code == "not-joined"]
    assert [one.message for one in told_of] == [
        "“lid.strip” touches “lid.lid”, and no joint ties it to the rest of “lid”"
    ]
    joint = f"    joints:\n      {quoted(told_of[0].mend)[0]}\n"
    assert [one for one in all_told(tmp_path / "box", OPEN_BOX + LOOSE + joint) if one.code == "not-joined"] == []


def test_copies_that_lie_on_one_another_are_meant_to(tmp_path: Path) -> None:
    trays = LOOSE.partition("      strip")[0].replace(
        "bottom: 12}", "bottom: 12, repeat: {along: z, count: 3, spacing: 3/4}}"
    )
    assert [one for one in all_told(tmp_path / "box", OPEN_BOX + trays) if one.code == "not-joined"] == []


TALL = """\
plan: {title: Case, number: C-1, date: 2026-11-30, author: A. Maker, lengths: in}
stock:
  ply: {material: birch plywood, nominal: 3/4, actual: 3/4}
  thin: {material: birch plywood, nominal: 1/4, actual: 1/4}
assemblies:
  case:
    parts:
      side: {stock: ply, thickness: x, grain: z, left: 0, front: 0, back: 10, bottom: 0, top: 60, mirror: {x: 10}}
      floor: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 10, bottom: 0}
      case_top: {stock: ply, thickness: z, grain: x, left: side.right, right: side.mirrored.left, front: 0, back: 10, top: 60}
      panel: {stock: thin, thickness: y, grain: z, left: 0, right: 20, front: side.back, bottom: 0, top: 60}
    joints:
      - {rabbet: [floor, case_top], in: side, depth: 1/4, with: [glue]}
      - {butt: panel, to: [side, floor, case_top], with: [glue, {brads: {}}]}
"""
STRAP = "    hardware:\n      - {item: anti-tip strap, on: ON, face: back, at: {x: 10, z: 59-5/8}}\n"


def test_a_strap_leads_to_the_panel_and_through_it_into_the_top(tmp_path: Path) -> None:
    """Neither message forbids what the other says to do."""
    (tips,) = told(tmp_path / "case", TALL)
    assert tips.code == "tip-over"
    assert told(tmp_path / "case", f"{TALL}    hardware:\n      {quoted(tips.mend)[0]}\n") == []
    (buried,) = told(tmp_path / "case", TALL + STRAP.replace("ON", "case_top"))
    assert buried.code == "hardware-buried"
    cure = quoted(buried.mend)[0].removeprefix("on: ")
    assert told(tmp_path / "case", TALL + STRAP.replace("ON", cure)) == []
    thin = TALL + STRAP.replace("ON", "panel").replace("59-5/8", "50")
    (held,) = told(tmp_path / "case", thin)
    assert held.code == "thin-hold"
    backing, place, _ = quoted(held.mend)
    assert told(tmp_path / "case", thin.replace("on: panel", f"on: panel, {backing}").replace("z: 50", place)) == []


def test_hardware_in_a_cutout_is_not_buried(tmp_path: Path) -> None:
    """A knob behind an opening of the panel before it; without the opening it is told."""
    knob = OPEN_BOX.replace(
        "    joints:",
        "      back: {stock: ply, thickness: y, grain: x, left: 0, right: 20, front: 10, bottom: 0, top: 12}\n"
        "      mask: {stock: ply, thickness: y, grain: x, left: 0, right: 20, front: back.back, bottom: 0, top: 12}\n    joints:\n"
        "      - {butt: back, to: [side, floor, shelf], with: [glue]}\n      - {butt: mask, to: back, with: [glue]}",
    )
    line = "    hardware:\n      - {item: knob, on: back, face: back, at: {x: 10, z: 4}}\n"
    opening = (
        "    machining:\n      - {in: mask, cutout: {face: back, at: {x: 10, z: 4}, wide: 4, high: 4, round: ROUND}}\n"
    )
    assert "hardware-buried" in {one.code for one in told(tmp_path / "box", knob + line)}
    for size in ("1/4", "1"):
        assert told(tmp_path / "box", knob + opening.replace("ROUND", size) + line) == []
    small = opening.replace("ROUND", "1/4").replace("wide: 4", "wide: 1/2")
    assert "hardware-buried" in {one.code for one in told(tmp_path / "box", knob + small + line)}


def test_a_fitting_on_a_mirrored_part_gets_its_mirror_image(tmp_path: Path) -> None:
    rack = """\
plan: {title: Rack, number: R-1, date: 2026-11-30, author: A. Maker, lengths: in}
stock:
  ply: {material: birch plywood, nominal: 3/4, actual: 3/4}
assemblies:
  rack:
    parts:
      end: {stock: ply, thickness: y, grain: x, left: 0, right: 8, front: 0, bottom: 0, high: 14, mirror: {x: 15}}
      rail: {stock: ply, thickness: y, grain: x, left: 0, right: 30, front: end.back, bottom: 4, high: 4}
    joints:
      - {butt: end, to: rail, with: [glue, {screws: {count: 2, through: rail}}]}
    hardware:
      - {item: coat hook, on: end, face: front, at: {x: 3, z: 12}}
"""
    folder = tmp_path / "rack"
    folder.mkdir()
    (folder / "plan.yaml").write_text(rack, encoding="utf-8")
    outcome = check_plan(folder, Choice(), tidy=False)
    assert outcome.derived is not None
    assert [one.at.x.inches for one in outcome.derived.plan.fittings] == [3, 27]


TRAY = """\
plan: {title: Tray, number: T-1, date: 2026-11-30, author: A. Maker, lengths: in}
stock:
  board: {material: pine board, size: 1x4}
assemblies:
  tray:
    parts:
      end: {stock: board, thickness: x, grain: y, left: 0, front: 0, back: 11, bottom: 0, high: 3-1/2, mirror: {x: 12}}
      long: {stock: board, thickness: y, grain: x, left: end.right, right: end.mirrored.left, front: FRONT, bottom: 0, high: 3-1/2, mirror: {y: 5-1/2}}
    joints:
      - {butt: long, to: end, with: [glue, {screws: {count: 2}}]}
"""


def test_a_screw_near_the_end_of_a_board_is_told_the_way_that_moves_it(tmp_path: Path) -> None:
    """``end_distance`` would not: it moves the screws up and down."""
    (near,) = [one for one in all_told(tmp_path / "tray", TRAY.replace("FRONT", "0")) if one.code == "screws"]
    assert "“end_distance” does not move it that way" in near.mend
    assert "set the front long 1/8 in farther in from the end of the left end" in near.mend
    moved = all_told(tmp_path / "tray", TRAY.replace("FRONT", "1/8"))
    assert [one for one in moved if one.code == "screws"] == []


def test_a_mortise_in_a_broad_face_asks_for_no_more_wall_than_it_is_wide(tmp_path: Path) -> None:
    post = OPEN_BOX.replace(
        "    joints:",
        "      post: {stock: oak, thickness: y, grain: z, left: 12, wide: 2, front: 1-1/4, bottom: floor.top, top: shelf.bottom}\n"
        "    joints:\n      - {mortise_and_tenon: post, in: [floor, shelf], depth: 1/2, with: [glue]}",
    ).replace("assemblies:", "  oak: {material: red oak board, size: 1x4}\nassemblies:")
    assert [one.message for one in all_told(tmp_path / "box", post) if one.code == "joint-proportions"] == []
    thin = post.replace("front: 1-1/4", "front: 0").replace("depth: 1/2", "depth: 1/2, offset: {front: 1/16}")
    (close,) = [one for one in all_told(tmp_path / "box", thin) if one.code == "joint-proportions"]
    assert close.is_error
    assert "Leave 1/4 in or more" in close.mend


def test_steps_are_listed_by_their_names_with_their_lines(tmp_path: Path) -> None:
    folder = tmp_path / "box"
    folder.mkdir()
    (folder / "plan.yaml").write_text(OPEN_BOX, encoding="utf-8")
    derived = check_plan(folder, Choice(), tidy=False).derived
    assert derived is not None
    lines = list(step_lines(derived))
    names = [name for step in derived.steps for name in (step.id, *step.also)]
    assert len({step.id for step in derived.steps}) == len(derived.steps)
    assert all(any(name in line for line in lines) for name in names)
    of_the_shelf = [line.split()[1] for line in lines if line.endswith(("(line 12)", "(lines 11 and 12)"))]
    assert of_the_shelf == ["dado-side", "assemble-box-shelf"]
