"""What is wrong is found and named; what fits passes."""

from __future__ import annotations

from drawleaf.codes.samples import CHEST
from drawleaf.compiler import Choice, check_plan
from drawleaf.joinery import family_called
from drawleaf.model.catalogue import HardwareItem
from drawleaf.model.place import Face, Point
from drawleaf.model.plan import Fastener, Joint
from drawleaf.solids.build import build_solids
from drawleaf.solids.proofs import prove
from solids_scene import HERE, box, cut, hole, mm, part, plan


def screw(length: float) -> HardwareItem:
    return HardwareItem(
        "screw",
        "wood screw",
        "wood screws",
        "wood screw",
        mm(length),
        8,
        None,
        None,
        None,
        (),
        (),
        50,
        "box",
        None,
        "",
        "",
        "",
    )


def joint(family, insert, receiver, face, contact, depth=0.0, width=18.0, fasteners=()):
    return Joint(
        "j",
        "j",
        family_called(family).facts,
        insert,
        receiver,
        face,
        box(*contact),
        mm(depth),
        mm(width),
        True,
        tuple(fasteners),
        HERE,
    )


def codes(*parts, joints=()):
    a_plan = plan(*parts, joints=tuple(joints))
    return [found.code for found in prove(a_plan, build_solids(a_plan))]


SIDE = (0, 18, 0, 100, 0, 150)
DADO = cut((12, 18, 0, 100, 60, 78), Face.RIGHT, Face.FRONT, Face.BACK)
SHELF = part("shelf", (12, 188, 0, 100, 60, 78))
CONTACT = (18, 18, 0, 100, 60, 78)


def dado(**more):
    return joint("dado", "shelf", "side", Face.LEFT, CONTACT, 6, **more)


def test_a_dado_that_fits():
    assert codes(part("side", SIDE, DADO), SHELF, joints=[dado()]) == []


def test_shared_wood_names_both_and_the_place():
    a_plan = plan(part("side", SIDE), SHELF, joints=(dado(),))
    (found,) = prove(a_plan, build_solids(a_plan))
    assert found.code == "shared-wood"
    assert "Side (side)" in found.message
    assert "Shelf (shelf)" in found.message
    assert "measures 1/4 in × 3-15/16 in × 23/32 in" in found.cause  # 6 x 100 x 18 mm
    assert found.position == HERE
    assert found.mend


def test_shared_wood_tells_which_face_to_move_and_where_to():
    a_plan = plan(part("side", SIDE), part("shelf", (17, 188, 0, 100, 60, 78)))
    (found,) = prove(a_plan, build_solids(a_plan))
    assert "The left of “shelf” stands 1/32 in past the right of “side”: move it to “side.right”" in found.mend


def test_dado_too_deep_leaves_a_gap():
    deep = cut((10, 18, 0, 100, 60, 78), Face.RIGHT, Face.FRONT, Face.BACK)
    a_plan = plan(part("side", SIDE, deep), SHELF, joints=(dado(),))
    (found,) = prove(a_plan, build_solids(a_plan))
    assert found.code == "open-joint"
    assert "gap of 3/32 in" in found.cause or "gap of 1/16 in" in found.cause  # 2 mm


def test_dado_too_wide_is_loose():
    wide = cut((12, 18, 0, 100, 60, 79), Face.RIGHT, Face.FRONT, Face.BACK)
    assert codes(part("side", SIDE, wide), SHELF, joints=[dado()]) == ["open-joint"]


def test_butt_that_stands_off():
    off = part("shelf", (18.5, 188, 0, 100, 60, 78))
    assert codes(part("side", SIDE), off, joints=[joint("butt", "shelf", "side", Face.LEFT, CONTACT)]) == ["open-joint"]


def test_butt_that_touches():
    on = part("shelf", (18, 188, 0, 100, 60, 78))
    assert codes(part("side", SIDE), on, joints=[joint("butt", "shelf", "side", Face.LEFT, CONTACT)]) == []


def test_groove_may_have_play_at_its_bottom_but_not_at_its_cheeks():
    panel = part("panel", (12.8, 188, 0, 100, 60, 65))
    there = joint("groove", "panel", "side", Face.LEFT, (18, 18, 0, 100, 60, 65), 6, 5)
    snug = cut((12, 18, 0, 100, 60, 65), Face.RIGHT, Face.FRONT, Face.BACK)
    loose = cut((12, 18, 0, 100, 60, 66), Face.RIGHT, Face.FRONT, Face.BACK)
    assert codes(part("side", SIDE, snug), panel, joints=[there]) == []
    assert codes(part("side", SIDE, loose), panel, joints=[there]) == ["open-joint"]


def test_rabbet_is_open_on_one_side():
    rabbet = cut((12, 18, 94, 100, 0, 150), Face.BACK, Face.RIGHT, Face.TOP, Face.BOTTOM)
    back = part("back", (12, 188, 94, 100, 0, 150))
    there = joint("rabbet", "back", "side", Face.LEFT, (18, 18, 94, 100, 0, 150), 6, 6)
    assert codes(part("side", SIDE, rabbet), back, joints=[there]) == []


def test_cut_in_two():
    through = cut((0, 18, 0, 100, 60, 78), Face.LEFT, Face.RIGHT, Face.FRONT, Face.BACK)
    assert codes(part("side", SIDE, through)) == ["falls-apart"]


def test_cut_away():
    assert codes(part("side", SIDE, cut(SIDE, *Face))) == ["nothing-left"]


def driven(length, at=(0.0, 50.0, 69.0), **more):
    fastener = Fastener(screw(length), Point(*map(mm, at)), (1.0, 0.0, 0.0), "side", "shelf", "j")
    return codes(part("side", SIDE, DADO), SHELF, *more.get("others", ()), joints=[dado(fasteners=[fastener])])


def test_screws():
    assert driven(40) == []
    assert driven(10) == ["fastener-misses"]
    assert driven(200) == ["fastener-comes-out"]
    assert driven(40, at=(0, 50, 77)) == ["fastener-at-the-side"]
    assert driven(40, at=(0, 50, 90)) == ["fastener-misses"]


def test_screw_through_a_third_part():
    face = part("outer", (-10, 0, 0, 100, 0, 150))
    assert driven(45, at=(-10, 50, 69), others=[face]) == ["fastener-hits"]


def test_screw_into_a_bore_breaks_out():
    bored = part("shelf", (12, 188, 0, 100, 60, 78), hole(Face.FRONT, (35, 0, 69), 8))
    fastener = Fastener(screw(40), Point(mm(0), mm(50), mm(69)), (1.0, 0.0, 0.0), "side", "shelf", "j")
    assert codes(part("side", SIDE, DADO), bored, joints=[dado(fasteners=[fastener])]) == ["fastener-at-the-side"]


def test_what_a_component_brings_is_told_once_and_at_the_plans_own_line(tmp_path):
    """The box of the drawer runs into what stands behind it with three parts: one message, at the drawer, about its sizes."""
    source = CHEST.replace(
        "front: 0, deep: 14, bottom: 0}\n",
        "front: 0, deep: 14, bottom: 0}\n      rear: {stock: ply, thickness: y, grain: x, left: side.right, right: side.mirrored.left, back: 14, bottom: deck.top, top: 8}\n",
    ).replace("deep: 12, high: 4", "deep: 13-3/4, high: 4")
    (tmp_path / "plan.yaml").write_text(source, encoding="utf-8")
    found = [one for one in check_plan(tmp_path, Choice()).diagnostics if one.code == "shared-wood"]
    assert len(found) == 1
    assert found[0].position.file.endswith("plan.yaml")
    assert source.splitlines()[found[0].position.line - 1].strip() == "drawer:"
    assert "change its sizes in “with”" in found[0].mend
