"""Clearances that are not kept are errors, with the numbers and a way to mend them."""

from __future__ import annotations

import pytest
from tests.hardware.conftest import HERE, ROOT, library

from drawleaf.resolve.resolver import resolve
from drawleaf.source.library import load_library
from drawleaf.source.reader import read_plan

CUP = "{item: concealed hinge full overlay, on: case.side.mirrored, carries: right_door, overlay: full}"
BUTT = "{item: butt hinge 2-1/2 in, on: case.side.original, carries: left_door}"
DOOR = "left: case.side.right + 3/32, right: case.divider.left"
MAGNET = "{item: inset magnet 3/4 in, on: block, face: front, other_half_on: kick.kick, at: {x: side.right + 1-1/2, z: 1-1/2}}"
CATCH = "{item: magnetic catch, on: deck, face: bottom, other_half_on: left_door, at: {x: 15}}"
KNOB = "{item: bolted knob 1-1/4 in, on: door, face: front, at: {x: 14-1/2, z: 18}}"
STAY = "{item: lid stay, on: case.side.original, other_half_on: lid, at: {y: 8}}"
FOOT = "{item: leveller, on: side, at: {y: 2, x: side.right / 2}"
BRACKET = "{item: corner bracket 2 in, on: shelf, face: bottom, other_half_on: side.original, at: {y: 4}, repeat: {along: y, at: [0, 8]}}"
CASTOR = "{item: plate castor 2 in, on: floor, at: {x: 3, y: 3}"
EIGHT = "{item: figure-8 fastener, on: [rail, back], carries: top, count: 2}"
SLIDES = "{item: undermount slides 15 in, on: case.side, carries: drawer}"

WRONG = [
    # Doors on leaf hinges.
    ("cupboard", DOOR, DOOR.replace("3/32", "1/4"), "hardware-clearance", ("1/4 in lie between", "fills 5/32 in")),
    ("cupboard", BUTT, BUTT.replace("2-1/2", "3"), "hardware-wood", ("45/64 in", "23/32 in thick")),
    ("cupboard", BUTT, BUTT.replace("left_door}", "left_door, let_in: none}"), "hardware-clearance", ("5/32 in thick, and the gap 3/32 in",)),
    ("cupboard", "front: 0, bottom: case.floor.top + 3/32", "front: 1/8, bottom: case.floor.top + 3/32", "hardware-clearance", ("1/8 in off",)),
    ("cupboard", BUTT, BUTT.replace("case.side.original", "[case.side]"), "hardware-parts", ("2 are named",)),
    ("cupboard", BUTT, BUTT.replace("left_door}", "left_door, at: {z: 4}}"), "hardware-off-part", ("runs beyond the end",)),
    ("cupboard", "piano hinge 36 in", "piano hinge 30 in", "hardware-clearance", ("30 in long", "34-9/16 in")),
    # Doors on concealed hinges.
    ("cupboard", CUP, CUP.replace("overlay: full", "overlay: inset"), "hardware-clearance", ("is said to be inset",)),
    ("cupboard", CUP, CUP.replace("full overlay", "half overlay"), "hinge-boring", ("“concealed hinge full overlay”",)),
    ("cupboard", CUP, CUP.replace("overlay: full", "boring: 6 mm"), "hinge-boring", ("set about 0.059 in to either side",)),
    ("cupboard", CUP, CUP.replace("overlay: full", "boring: 9 mm"), "hinge-boring", ("it takes about 0.118 in to about 0.236 in",)),
    ("cupboard", CUP, CUP.replace("case.side.mirrored", "case.divider").replace("overlay: full", "setback: 15"), "hardware-clearance", ("of depth", "15-9/32 in")),
    ("cupboard", "      block: {name: Magnet block", "      post: {stock: case, thickness: x, grain: z, left: 10, front: 0 - 12, deep: 4, bottom: 3, top: 20}\n      block: {name: Magnet block", "hardware-clearance", ("“case.post” stands 8 in before “left_door”",)),
    ("cupboard", "      block: {name: Magnet block", "      hood: {stock: case, thickness: z, grain: x, left: 0, right: 36, front: 4, back: 16, bottom: 40}\n      block: {name: Magnet block", "hardware-clearance", ("“case.hood” stands 9-9/32 in before “lid”",)),
    # What meets.
    ("cupboard", MAGNET, MAGNET.replace("front, other_half_on", "back, other_half_on"), "hardware-unmet", ("nothing of “kick.kick”",)),
    ("cupboard", "front: kick.kick.back", "front: kick.kick.back + 1/16", "hardware-clearance", ("3/32 in lie between magnet and plate", "1/16 in at most")),
    ("cupboard", MAGNET, MAGNET.replace("z: 1-1/2", "z: 1/2"), "hardware-wood", ("of wood at the bottom",)),
    ("cupboard", CATCH, CATCH.replace("x: 15", "x: 25"), "hardware-unmet", ("nothing of “left_door” lies before it",)),
    ("cupboard", STAY, STAY.replace("y: 8", "y: 2"), "hardware-clearance", ("needs 8 in along the side", "runs from 0 in to 16 in")),
    ("cupboard", STAY, STAY.replace("y: 8", "y: 12"), "hardware-clearance", ("“case.back” stands in the room of its arm, by 23/32 in",)),
    ("cupboard", "{item: shelf pin 1/4, on: shelf}", "{item: shelf pin 5 mm, on: shelf}", "hardware-clearance", ("5/16 in wide",)),
    ("cupboard", MAGNET, MAGNET.replace("other_half_on: kick.kick", "other_half_on: kick.kick, set_below: 0 - 1/8"), "hardware-clearance", ("stand out by 1/8 in",)),
    ("cupboard", BUTT, BUTT.replace("left_door}", "left_door, count: 4000}"), "copies-out-of-range", ("4000 of them",)),
    # Pulls and feet.
    ("cupboard", KNOB, KNOB.replace("x: 14-1/2", "x: 16-13/16"), "hardware-wood", ("at the right of",)),
    ("cupboard", FOOT, FOOT.replace("on: side", "on: divider").replace("side.right / 2", "divider.left + 3/8"), "hardware-clearance", ("3-23/32 in above the floor", "1-1/4 in at most")),
    ("cupboard", FOOT, FOOT.replace("side.right / 2", "1/8"), "hardware-wood", ("of wood at the left",)),
    ("table", CASTOR, CASTOR.replace("y: 3", "y: 1/2"), "hardware-wood", ("7/16 in over “case.floor” along y",)),
    ("table", CASTOR + ", repeat: {along: x, at: [0, width - 6]}}", CASTOR + ", repeat: {along: x, at: [0, 3]}}", "hardware-clearance", ("apart, and their wheels would meet",)),
    ("table", BRACKET, BRACKET.replace("on: shelf, face: bottom", "on: floor, face: bottom"), "hardware-wood", ("reaches 0 in from the corner",)),
    ("table", BRACKET, BRACKET.replace("side.original", "rail"), "hardware-unmet", ("makes no corner",)),
    # Tables and drawers.
    ("table", "bottom: height, glue_up", "bottom: height + 1/8, glue_up", "hardware-unmet", ("1/8 in above it",)),
    ("table", EIGHT, EIGHT.replace("carries: top, ", ""), "hardware-incomplete", ("“carries” is not given",)),
    ("table", "high: 4, box", "high: 5-1/2, box", "hardware-clearance", ("above the drawer there are",)),
    ("table", "deep: 15, high", "deep: 14, high", "hardware-clearance", ("14 in deep", "as long as the slides, 15 in")),
    ("table", "- 42 mm", "- 36 mm", "hardware-clearance", ("wide inside", "narrower")),
    ("table", "floor_up: 1/2}", "floor_up: 3/8}", "hardware-clearance", ("3/8 in above its lower edge; 1/2 in is asked for",)),
    ("table", "z: 13-5/8}", "z: 13}", "hardware-clearance", ("under the drawer there are 9/32 in",)),
    ("table", SLIDES, SLIDES.replace("on: case.side,", "on: case.side.original,"), "slides-sides", ("one to each side; 1 named",)),
]  # fmt: skip


@pytest.mark.parametrize(("name", "right", "wrong", "code", "said"), WRONG, ids=lambda one: str(one)[:60])
def test_a_clearance_not_kept_is_told_with_its_numbers(resolved, name, right, wrong, code, said) -> None:
    plan, diagnostics = resolved(name, (right, wrong))
    assert plan is None
    found = [one for one in diagnostics if one.code == code]
    assert found, [(one.code, one.message, one.cause) for one in diagnostics]
    words = " ".join(f"{one.message} {one.cause} {one.mend}" for one in found)
    assert [text for text in said if text not in words] == [], words
    assert all(one.position is not None for one in found)


def test_a_hinge_that_suits_is_named(resolved) -> None:
    """A door between the sides takes the hinge for inset doors, and the message says so."""
    _, diagnostics = resolved(
        "cupboard",
        (
            "right: width - 1/16, back: 0 - 1/16, bottom: case.floor.bottom",
            "right: case.side.mirrored.left - 3/32, back: stock.case.thickness, bottom: case.floor.top",
        ),
        ("top: case.deck.top - 1/16", "top: case.deck.bottom - 1/16"),
        ("left: case.divider.right - 5/16", "left: case.divider.right + 3/32"),
        ("carries: right_door, overlay: full", "carries: right_door"),
    )
    assert [one.mend for one in diagnostics if one.code == "hinge-boring"] == ["Take “concealed hinge inset”."]


def test_a_wheel_needs_room_to_swivel(resolved) -> None:
    """With the floor 2 in up between the sides, a castor near a side would strike it."""
    _, diagnostics = resolved(
        "table",
        ("back: back.front, bottom: 0}", "back: back.front, bottom: 2}"),
        (CASTOR, CASTOR.replace("x: 3", "x: 2-1/8")),
    )
    found = [one for one in diagnostics if one.code == "hardware-clearance"]
    assert next(one.message for one in found).endswith(
        "“case.side” stands 1-13/32 in from its middle; it needs 1-7/8 in to swivel"
    )
    assert found[0].mend == "Move it 15/32 in away from “case.side”."


def test_two_doors_on_one_partition_keep_their_plates_apart(resolved) -> None:
    """At one height the holes of both plates would meet in the middle of an 18 mm partition."""
    _, diagnostics = resolved("doors", ("overlay: half, end_distance: 160}", "overlay: half}"))
    found = [one for one in diagnostics if one.code == "hardware-clearance"]
    assert [one.message for one in found] == [
        "Concealed hinge for a half overlay: what is cut for it in “case.wall.2” runs into a hole that is there already"
    ] * len(found)
    assert found


def test_an_edition_without_a_door_has_no_hinges_either(tmp_path) -> None:
    """What is left out takes its hinges, its catch and its recesses with it."""
    text = (HERE / "cupboard.yaml").read_text(encoding="utf-8") + "editions:\n  open: {without: [left_door, lid]}\n"
    (tmp_path / "plan.yaml").write_text(text, encoding="utf-8")
    plan, diagnostics = resolve(read_plan(tmp_path, library()), edition="open")
    assert plan is not None, diagnostics
    kinds = {fitting.item.kind for fitting in plan.fittings}
    assert not kinds & {"butt hinge", "piano hinge", "catch", "lid stay"}
    assert not [one for one in plan.part("case.side").features if one.kind == "recess"]
    assert kinds >= {"concealed hinge", "inset magnet", "leveller", "pin sleeve"}


def test_hardware_of_ones_own_without_measures_is_told(tmp_path) -> None:
    """A foot of the author's own that does not say how it is bored is a mistake with a mend, and no failure."""
    own = tmp_path / "shared" / "hardware"
    own.mkdir(parents=True)
    (own / "feet.yaml").write_text(
        "my foot: {name: My foot, plural: my feet, kind: leveller, measures: {most: 2 in}, aisle: Feet}\n",
        encoding="utf-8",
    )
    loaded, problems = load_library([ROOT / "shared", tmp_path / "shared"])
    assert not problems
    text = (HERE / "cupboard.yaml").read_text(encoding="utf-8").replace("item: leveller", "item: my foot")
    (tmp_path / "plan.yaml").write_text(text, encoding="utf-8")
    plan, diagnostics = resolve(read_plan(tmp_path, loaded))
    assert plan is None
    assert {one.code for one in diagnostics} == {"hardware-incomplete"}
