"""What hardware needs cut: where its bores and recesses are, how deep, and that they are measured as the trade measures them."""

from __future__ import annotations

from fractions import Fraction

import pytest

from drawleaf.model.place import Axis, Face
from drawleaf.model.plan import Bore, BoxCut, Part, Plan
from drawleaf.units import Length


def inch(value: str) -> Length:
    return Length.of_inches(Fraction(value))


def bores(part: Part, kind: str) -> list[Bore]:
    return [one for one in part.features if isinstance(one, Bore) and one.kind == kind]


def recesses(part: Part) -> list[BoxCut]:
    return [one for one in part.features if isinstance(one, BoxCut) and one.kind == "recess"]


def test_a_cup_hinge_is_bored_by_the_32_mm_system(sound) -> None:
    """Cups of 35 x 12.5 mm; plate holes of 5 mm, 32 mm apart, 37 mm behind the front edge; overlay = 13 mm + boring distance."""
    plan = sound("cupboard")
    door, side = plan.part("right_door.door"), plan.part("case.side.mirrored")
    cups = bores(door, "hinge cup")
    assert [(cup.diameter, cup.depth, cup.face) for cup in cups] == [
        (Length.of_mm(35), Length.of_mm(Fraction(25, 2)), Face.BACK)
    ] * 2
    plates = [hole for hole in bores(side, "hole") if hole.face is Face.LEFT]
    assert {hole.diameter for hole in plates} == {Length.of_mm(5)}
    assert {hole.start.y - side.seen.y.low for hole in plates} == {Length.of_mm(37)}
    heights = sorted(hole.start.z for hole in plates)
    assert [heights[1] - heights[0], heights[3] - heights[2]] == [Length.of_mm(32)] * 2
    assert sorted((low + high) / 2 for low, high in (heights[:2], heights[2:])) == sorted(cup.start.z for cup in cups)
    overlay = door.seen.x.high - side.seen.x.low
    boring = (door.seen.x.high - cups[0].start.x) - Length.of_mm(35) / 2
    assert abs(overlay - Length.of_mm(13) - boring) <= Length.of_mm(Fraction(1, 4))


def test_leaves_are_let_in_until_the_closed_hinge_fills_the_gap(sound) -> None:
    """Gap and both recesses together are as thick as the closed hinge, whatever the gap."""
    for gap in ("1/16", "3/32", "1/8"):
        plan = sound(
            "cupboard",
            (
                "left: case.side.right + 3/32, right: case.divider.left",
                f"left: case.side.right + {gap}, right: case.divider.left",
            ),
        )
        door, side = plan.part("left_door.door"), plan.part("case.side")
        depth = [cut.box.extent(Axis.X) for cut in (*recesses(door), *recesses(side))]
        assert len(depth) == 4
        assert len(set(depth)) == 1
        folded = next(f.item.measure("folded") for f in plan.fittings if f.item.kind == "butt hinge")
        assert inch(gap) + depth[0] * 2 == folded
        assert {cut.box.span(Axis.Z) for cut in recesses(door)} == {cut.box.span(Axis.Z) for cut in recesses(side)}


def test_let_in_one_side_only(sound) -> None:
    line = "{item: butt hinge 2-1/2 in, on: case.side.original, carries: left_door}"
    plan = sound("cupboard", (line, line.replace("left_door}", "left_door, let_in: door}")))
    assert not recesses(plan.part("case.side"))
    assert {cut.box.extent(Axis.X) for cut in recesses(plan.part("left_door.door"))} == {inch("5/32") - inch("3/32")}


def test_a_piano_hinge_runs_along_the_edge(sound) -> None:
    plan = sound("cupboard")
    back, lid = recesses(plan.part("case.back"))[0], recesses(plan.part("lid.lid"))[0]
    assert back.into is Face.TOP
    assert lid.into is Face.BOTTOM
    assert back.box.x == lid.box.x
    assert back.box.x.extent == plan.part("case.back").seen.x.extent - inch("1/16")
    assert Face.BACK in back.open
    assert Face.BACK in lid.open


def test_a_magnet_lies_opposite_its_plate(sound) -> None:
    """Both are bored at one place, each deeper than it is thick by 1/64 in; a twin gets the mirror image."""
    plan = sound("cupboard")
    kick = plan.part("kick.kick")
    magnets = [bore for part in plan.parts if part.kind == "case.block" for bore in bores(part, "recess")]
    plates = bores(kick, "recess")
    assert sorted((m.start.x, m.start.z) for m in magnets) == sorted((p.start.x, p.start.z) for p in plates)
    assert {m.depth for m in magnets} == {inch("17/64")}
    assert {p.depth for p in plates} == {inch("9/64")}
    assert {p.face for p in plates} == {Face.BACK}
    assert {m.face for m in magnets} == {Face.FRONT}
    left, right = (m.start.x for m in magnets)
    assert left + right == inch("36")


def test_a_strip_plate_is_a_square_recess(sound) -> None:
    plan = sound("cupboard", ("inset magnet 3/4 in, on: block", "inset magnet with strip, on: block"))
    kick = plan.part("kick.kick")
    assert [cut.box.extent(Axis.X) for cut in recesses(kick)] == [inch("2")] * 2
    assert {cut.box.extent(Axis.Y) for cut in recesses(kick)} == {inch("5/64")}


def test_sleeves_say_how_wide_the_pin_holes_are(sound) -> None:
    """5/16 in holes for the sleeves of 1/4 in pins, one sleeve to each; the shelf still lies half a pin above their middle."""
    plan = sound("cupboard")
    holes = bores(plan.part("case.divider"), "shelf pin")
    assert {(hole.diameter, hole.depth) for hole in holes} == {(inch("5/16"), inch("7/16"))}
    sleeves = [fitting for fitting in plan.fittings if fitting.item.kind == "pin sleeve"]
    assert sum(fitting.count for fitting in sleeves) == 32 == 2 * len(holes)


def test_a_pull_is_bored_through_all_that_lies_behind(sound) -> None:
    """Two holes 128 mm apart, larger in the box front; a screw that reaches through both is bought."""
    plan = sound("table")
    face, box = bores(plan.part("drawer.face"), "hole"), bores(plan.part("drawer.box_front"), "hole")
    assert [hole.depth for hole in (*face, *box)] == [None] * 4
    assert abs(face[0].start.x - face[1].start.x) == Length.of_mm(128)
    assert {hole.diameter for hole in face} == {inch("3/16")}
    assert {hole.diameter for hole in box} == {inch("1/4")}
    assert {(f.item.id, f.count) for f in plan.fittings if f.item.kind == "machine screw"} == {
        ("machine screw 1-1/2 in", 2)
    }


def test_figure_8s_open_through_the_inside_of_the_rail(sound) -> None:
    plan = sound("table")
    rail = plan.part("case.rail")
    for bore in bores(rail, "recess"):
        assert bore.face is Face.TOP
        assert bore.depth == inch("1/8")
        assert bore.start.y + bore.diameter / 2 > rail.seen.y.high > bore.start.y


def test_clips_ride_in_slots(sound) -> None:
    plan = sound("table")
    side = plan.part("case.side")
    slots = recesses(side)
    assert {cut.into for cut in slots} == {Face.RIGHT}
    assert {side.seen.z.high - cut.box.z.high for cut in slots} == {inch("7/16")}


def test_the_back_of_a_drawer_is_notched_for_under_mount_slides(sound) -> None:
    """Notches up to the floor at both corners, hooks above them; the brads of the corner stay clear of both."""
    plan = sound("table")
    back, floor = plan.part("drawer.box_back"), plan.part("drawer.box_bottom")
    notches = [cut for cut in back.features if isinstance(cut, BoxCut) and cut.kind == "notch"]
    assert {cut.box.z.high for cut in notches} == {floor.seen.z.low}
    assert len(notches) == 2
    assert [hook.diameter for hook in bores(back, "hole")] == [Length.of_mm(6)] * 2
    driven = [f for joint in plan.joints for f in joint.fasteners if f.into == back.id]
    assert driven
    assert all(f.at.z > floor.seen.z.low for f in driven)


@pytest.mark.parametrize("name", ["cupboard", "table", "doors"])
def test_every_cut_lies_in_its_part(sound, name: str) -> None:
    plan: Plan = sound(name)
    for part in plan.parts:
        for cut in recesses(part):
            assert all(
                part.body.span(a).low <= cut.box.span(a).low and cut.box.span(a).high <= part.body.span(a).high
                for a in Axis
            )


def test_recesses_of_the_author(sound) -> None:
    """A square one by its sizes, over an edge where its middle says so; a round one by its diameter; the twin mirrored."""
    line = "      - {in: side.original, shelf_pins"
    more = (
        "      - {in: side, recess: {face: right, at: {y: 1, z: 27}, deep: 3, high: 2, depth: 1/8}}\n"
        "      - {in: floor, recess: {face: bottom, at: {x: 9, y: 5}, diameter: 3/4, depth: 1/4}}\n"
    )
    plan = sound("cupboard", (line, more + line))
    side, twin = (plan.part(name) for name in ("case.side", "case.side.mirrored"))
    own = [cut for cut in recesses(side) if cut.box.z.middle == inch("27")]
    assert [(cut.box.y.low, cut.box.y.high, cut.box.x.extent) for cut in own] == [(inch("0"), inch("5/2"), inch("1/8"))]
    assert Face.FRONT in own[0].open
    assert [cut.into for cut in recesses(twin)] == [Face.LEFT]
    assert [(bore.diameter, bore.depth) for bore in bores(plan.part("case.floor"), "recess")] == [
        (inch("3/4"), inch("1/4"))
    ]


def test_an_inset_door_is_bored_from_its_back(sound) -> None:
    """Its plates stand 37 mm behind its back, and half-overlay doors cover half of their partition less the gap."""
    plan = sound("doors")
    leaf, wall = plan.part("four.leaf"), plan.part("case.wall.5")
    assert {hole.start.y - leaf.seen.y.high for hole in bores(wall, "hole")} == {Length.of_mm(37)}
    for door in ("one", "two"):
        edge, cups = plan.part(f"{door}.leaf"), bores(plan.part(f"{door}.leaf"), "hinge cup")
        side = edge.seen.x.high - cups[0].start.x if door == "one" else cups[0].start.x - edge.seen.x.low
        assert side - Length.of_mm(35) / 2 == Length.of_mm(4)
