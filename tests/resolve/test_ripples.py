"""One line of the boot bench changed, and all that must follow. The numbers are worked by hand, in the comments.

The bench: width 42, depth 15-1/2, seat 19 high with a 3/4 seat, so the case is 18-1/4 high; plywood 23/32, back 5.2 mm, dadoes 1/4.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from drawleaf.model.plan import Bore, BoxCut, EdgeProfile, Plan
from drawleaf.units import Length, Units

INCH = Fraction(127, 5)
DADO_LINE = "- {dado: bottom, in: side, depth: dado, with: [glue, {screws: {heads: filled}}]}"
BUTT_LINE = "- {butt: bottom, to: side, with: [glue, screws]}"
RABBET_LINE = "- {rabbet: back, in: side, depth: 3/8, with: [glue, {brads: {spacing: 5}}]}"
FLUSH_LINE = "- {butt: back, to: side, with: [glue, {brads: {spacing: 5}}]}"
CASE_LINE = "case: {material: birch plywood, nominal: 3/4, actual: 23/32}"
METRIC_CASE_LINE = "case: {material: birch plywood, nominal: 18 mm, actual: 18 mm}"

AS_DRAWN: tuple[tuple[str, str], ...] = ()
BUTTED = ((DADO_LINE, BUTT_LINE),)
FLUSH = ((RABBET_LINE, FLUSH_LINE),)
EIGHTEEN = ((CASE_LINE, METRIC_CASE_LINE),)
WIDER = (("  width: 42", "  width: 48"),)


def inches(text: str) -> Fraction:
    """``41-1/16`` in millimetres, without help from the code that is tested."""
    whole, _, fraction = text.partition("-")
    if "/" in whole:
        return Fraction(whole) * INCH
    return (Fraction(whole) + (Fraction(fraction) if fraction else 0)) * INCH


SIZES = [
    # As drawn. Bottom between sides: 42 - 2 x 23/32 = 40-9/16, and 1/4 in each side: 41-1/16. Its depth: 15-1/2 in - 5.2 mm = 388.5 mm.
    (AS_DRAWN, "case.bottom", inches("41-1/16"), Fraction("388.5")),
    (AS_DRAWN, "case.side", inches("18-1/4"), inches("15-1/2")),
    # Back: 40-9/16 + 2 x 3/8 = 41-5/16 long, from the bottom's underside at 3 to 18-1/4: 15-1/4.
    (AS_DRAWN, "case.back", inches("41-5/16"), inches("15-1/4")),
    # Divider: from 3 + 23/32 to 18-1/4 - 23/32 is 13-13/16; 1/4 in the bottom: 14-1/16.
    (AS_DRAWN, "case.divider", inches("14-1/16"), Fraction("388.5")),
    # Drawer: spacer at 42 - 23/32 - 3/4 = 40-17/32, divider's right at 25-23/32; less 1: 13-13/16 wide.
    # Its front: 13-13/16 - 2 x 15/32 + 2 x 1/4 = 13-3/8.
    (AS_DRAWN, "drawer.box_front", inches("13-3/8"), inches("4")),
    # Its bottom: 13-13/16 - 15/16 + 2 x (1/4 - 1/32) = 13-5/16 by 12 - 15/16 + 7/16 = 11-1/2.
    (AS_DRAWN, "drawer.box_bottom", inches("13-5/16"), inches("11-1/2")),
    # Seat: 42 + 2 x 3/4 = 43-1/2; from 1-1/2 before the case (frame 3/4, overhang 3/4) to 15-1/2: 17.
    (AS_DRAWN, "seat.top", inches("43-1/2"), inches("17")),
    # Dado to butt: the bottom keeps what is seen of it. The side and the divider do not change.
    (BUTTED, "case.bottom", inches("40-9/16"), Fraction("388.5")),
    (BUTTED, "case.side", inches("18-1/4"), inches("15-1/2")),
    (BUTTED, "case.divider", inches("14-1/16"), Fraction("388.5")),
    # 18 mm ply: 1066.8 - 36 + 12.7 = 1043.5.
    (EIGHTEEN, "case.bottom", Fraction("1043.5"), Fraction("388.5")),
    # Divider: 18-1/4 - 3 in = 387.35; - 36 + 6.35 = 357.7.
    (EIGHTEEN, "case.divider", Fraction("388.5"), Fraction("357.7")),
    # Rail: 1066.8 - 36 = 1030.8; it keeps its 3-1/2 in.
    (EIGHTEEN, "case.front_rail", Fraction("1030.8"), inches("3-1/2")),
    # Shelf: from 18 + 1/16 in to 25 in - 1/16 in: 635 - 18 - 3.175 = 613.825.
    (EIGHTEEN, "shelves.shelf.1", Fraction("613.825"), Fraction("388.5") - 2 * inches("5/8")),
    # Drawer: spacer 1066.8 - 18 - 19.05 = 1029.75, divider 635 + 18 = 653; less 25.4: 351.35. Front: - 23.8125 + 12.7 = 340.2375.
    (EIGHTEEN, "drawer.box_front", Fraction("340.2375"), inches("4")),
    # Six inches wider: all that spans the width, and the drawer to the right of the divider, grow by six inches.
    (WIDER, "case.bottom", inches("47-1/16"), Fraction("388.5")),
    (WIDER, "case.back", inches("47-5/16"), inches("15-1/4")),
    (WIDER, "seat.top", inches("49-1/2"), inches("17")),
    (WIDER, "frame.rail_top", inches("45"), inches("1-1/2")),
    (WIDER, "drawer.box_front", inches("19-3/8"), inches("4")),
    # The shelves between the left side and the divider stay: 25 - 23/32 - 1/8 = 24-5/32.
    (WIDER, "shelves.shelf.1", inches("24-5/32"), Fraction("388.5") - 2 * inches("5/8")),
    # Back flush between the sides: 40-9/16.
    (FLUSH, "case.back", inches("40-9/16"), inches("15-1/4")),
    (FLUSH, "case.side", inches("18-1/4"), inches("15-1/2")),
]


@pytest.mark.parametrize(("changes", "part", "long", "wide"), SIZES)
def test_finished_sizes(changed, changes, part, long, wide):
    """Finished length and width of the blank; the longer one first, whichever way the grain runs."""
    length, width, _ = changed("boot-bench", *changes).part(part).size
    assert sorted((length.exact_mm, width.exact_mm)) == sorted((long, wide))


CUTS = [
    # The dado starts at the bottom's underside, 3 up, and is 23/32 wide and 1/4 deep; the rabbet 3/8 deep and as wide as the back.
    (AS_DRAWN, {"dado": (inches("1/4"), inches("23/32")), "rabbet": (inches("3/8"), Fraction("5.2"))}),
    (BUTTED, {"rabbet": (inches("3/8"), Fraction("5.2"))}),
    (EIGHTEEN, {"dado": (inches("1/4"), Fraction(18)), "rabbet": (inches("3/8"), Fraction("5.2"))}),
    (FLUSH, {"dado": (inches("1/4"), inches("23/32"))}),
]


@pytest.mark.parametrize(("changes", "expected"), CUTS)
@pytest.mark.parametrize("side", ["case.side", "case.side.mirrored"])
def test_cuts_in_the_sides(changed, changes, expected, side):
    """Depth (along x) and width (along z for the dado, y for the rabbet) of the channels in each side."""
    part = changed("boot-bench", *changes).part(side)
    channels = [cut for cut in part.features if isinstance(cut, BoxCut) and cut.kind != "notch"]
    found = {
        cut.kind: (cut.box.x.extent.exact_mm, (cut.box.z if cut.kind == "dado" else cut.box.y).extent.exact_mm)
        for cut in channels
    }
    assert found == expected


def test_channels_run_through(changed):
    """The dado runs the whole depth of the side, the rabbet its whole height; both are open at their ends."""
    part = changed("boot-bench").part("case.side")
    dado, rabbet = (cut for cut in part.features if isinstance(cut, BoxCut) and cut.kind != "notch")
    assert dado.box.y == part.body.y
    assert rabbet.box.z == part.body.z
    assert [face.value for face in dado.open] == ["right", "front", "back"]
    assert [face.value for face in rabbet.open] == ["right", "back", "bottom", "top"]


def driven(plan: Plan) -> dict[tuple[str, str], tuple[int, set[str], set[str]]]:
    """Per pair of parts: how many fasteners, which, through which part."""
    return {
        (joint.insert, joint.receiver): (
            len(joint.fasteners),
            {fastener.item.id for fastener in joint.fasteners},
            {fastener.through for fastener in joint.fasteners},
        )
        for joint in plan.joints
    }


FASTENERS = [
    # 15.295 deep less 2 x 1-1/2 is 12.295, in steps of at most 6: three gaps, four screws. Through 23/32: 3 x 23/32 = 2-5/32, so 2 in.
    (AS_DRAWN, ("case.bottom", "case.side"), 4, "wood screw 8 x 2", "case.side"),
    (BUTTED, ("case.bottom", "case.side"), 4, "wood screw 8 x 2", "case.side"),
    # 15-1/4 high less 3 is 12-1/4, in steps of 5: three gaps, four brads. 5.2 mm + 3/4 in = 0.955 in, so 3/4.
    (AS_DRAWN, ("case.back", "case.side"), 4, "brad 18 x 3/4", "case.back"),
    # Flush, the brads go through the side into the edge of the back: 2 in.
    (FLUSH, ("case.back", "case.side"), 4, "brad 18 x 2", "case.side"),
    # The kick has its four by the plan. Back to bottom: 40-9/16 less 3 is 37-9/16, in steps of 6: seven gaps; six inches wider: eight.
    (AS_DRAWN, ("case.kick", "case.bottom"), 4, "brad 18 x 2", "case.bottom"),
    (AS_DRAWN, ("case.back", "case.bottom"), 8, "brad 18 x 3/4", "case.back"),
    (WIDER, ("case.back", "case.bottom"), 9, "brad 18 x 3/4", "case.back"),
    # Bottom rail 39 long less 3 is 36, in steps of 8: five gaps; 45: 42 / 8, six gaps.
    (AS_DRAWN, ("frame.rail_bottom", "case.bottom"), 6, "brad 18 x 2", "frame.rail_bottom"),
    (WIDER, ("frame.rail_bottom", "case.bottom"), 7, "brad 18 x 2", "frame.rail_bottom"),
    # From below: 23/32 + 3/4 - 1/8 = 1-11/32 is the longest that stays in the seat, so 1-1/4; through 18 mm, 1.334 in: 1-1/4 as well.
    (AS_DRAWN, ("seat.top", "case.front_rail"), 4, "wood screw 8 x 1-1/4", "case.front_rail"),
    (EIGHTEEN, ("seat.top", "case.front_rail"), 4, "wood screw 8 x 1-1/4", "case.front_rail"),
    # Through 15/32: #6; 15/32 + 3/4 - 1/8 = 1-3/32, so 1 in.
    (AS_DRAWN, ("drawer.face", "drawer.box_front"), 4, "wood screw 6 x 1", "drawer.box_front"),
    # Pockets in 3/4 stock take 1-1/4; fine thread into oak, coarse into plywood.
    (AS_DRAWN, ("frame.rail_top", "frame.stile"), 2, "pocket screw 1-1/4 fine", "frame.rail_top"),
    (AS_DRAWN, ("case.front_rail", "case.side"), 2, "pocket screw 1-1/4 coarse", "case.front_rail"),
]


@pytest.mark.parametrize(("changes", "pair", "count", "item", "through"), FASTENERS)
def test_fasteners(changed, changes, pair, count, item, through):
    assert driven(changed("boot-bench", *changes))[pair] == (count, {item}, {through})


def test_leaving_the_drawer_out(changed):
    """The open edition keeps every size that the drawer's faces give, and drops what is of the drawer."""
    whole, plain = changed("boot-bench"), changed("boot-bench", edition="open")
    gone = {part.id for part in whole.parts} - {part.id for part in plain.parts}
    assert {part_id.split(".")[0] for part_id in gone} == {"drawer"}
    assert len(gone) == 6
    assert not [joint for joint in plain.joints if joint.id.startswith("drawer.")]
    assert not [fitting for fitting in plain.fittings if fitting.item.kind in ("slides", "pull")]
    assert not [assembly for assembly in plain.assemblies if assembly.id == "drawer"]
    kept = {part.id: part.size for part in plain.parts}
    assert kept == {part.id: part.size for part in whole.parts if part.id in kept}


def test_units_and_paper(changed):
    metric = changed("boot-bench", edition="metric")
    assert metric.paper == "a4"
    assert metric.lengths.text(metric.part("case.side").size[0]) == "463.5 mm"
    assert changed("boot-bench", units="both").lengths.text(Length.of_inches(1)) == "1 in (25.5 mm)"
    assert changed("boot-bench").paper == "letter"
    assert changed("boot-bench", paper="a4").paper == "a4"


def test_longer_ledge_has_more_hooks(changed):
    """36 wide with 8 hooks: from 3 to 33 in seven steps of 30/7."""
    plan = changed("key-ledge", edition="long")
    hooks = [fitting.at.x.inches for fitting in plan.fittings if fitting.item.kind == "hook"]
    assert hooks == [3 + Fraction(30, 7) * index for index in range(8)]


def test_same_plan_twice(changed):
    assert changed("boot-bench") == changed("boot-bench")


def test_a_metric_edition_bores_and_rounds_with_bits_that_a_metric_shop_sells(changed):
    """1 in is no metric bit and 25 mm is; 1-1/4 in is 31.75 mm, so 32; 3/16 in is 4.76 mm, so 5. The seat's 1/4 in round is one of 6 mm,
    and a chamfer of 1 in one of 25.

    Pins of 1/4 in keep holes of 1/4 in, and what was written in millimetres stays.
    """

    def sizes(name: str, *changes: tuple[str, str], **options) -> set[tuple[str, Fraction]]:
        features = [one for part in changed(name, *changes, **options).parts for one in part.features]
        bored = {(one.kind, one.diameter.exact_mm) for one in features if isinstance(one, Bore)}
        return bored | {(one.kind, one.size.exact_mm) for one in features if isinstance(one, EdgeProfile)}

    mm = {"units": Units.MM}
    bench = sizes("boot-bench", **mm)
    assert bench >= {
        ("hole", 25),
        ("finger hole", 32),
        ("shelf pin", inches("1/4")),
        ("round over", 6),
        ("round over", 3),
    }
    assert sizes("key-ledge", **mm) >= {("hole", 5), ("chamfer", 25)}
    assert ("hole", inches("1")) in sizes("boot-bench")
    written = ("[0, 9, 22, 29]}, diameter: 1}", "[0, 9, 22, 29]}, diameter: 25.5 mm}")
    assert ("hole", Fraction("25.5")) in sizes("boot-bench", written, **mm)
